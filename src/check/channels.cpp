// The channel list against itself and against the wiring.
#include <algorithm>

#include "ringtrue/base/name_table.hpp"
#include "ringtrue/graph/trace.hpp"
#include "rules.hpp"

namespace ringtrue::check {

namespace {

bool is_connected(const Drawing& drawing, const Channel& channel) {
  return drawing.conductors_at(channel.point) > 0;
}

/// One problem for each group of channels.
template <class Reason>
void report_groups(const Drawing& drawing, Found& found, Groups& channels, Reason&& reason) {
  std::sort(channels.begin(), channels.end());
  for_each_group(channels, [&](auto first, auto last) {
    if (last - first < 2) return;
    std::vector<ProblemRow> rows;
    for (auto at = first; at != last; ++at) rows.push_back(drawing.channel_row(at->second));
    found.add(reason(drawing.netlist.channels[first->second], rows.size()), std::move(rows));
  });
}

void report_duplicates(const Drawing& drawing, Found& found, std::string_view Channel::*field,
                       std::string_view noun) {
  NameTable names;
  Groups channels;
  for (std::uint32_t i = 0; i < drawing.netlist.channels.size(); ++i)
    if (const std::string_view name = drawing.netlist.channels[i].*field; !name.empty())
      channels.emplace_back(names.intern(name), i);
  report_groups(drawing, found, channels, [&](const Channel& first, std::size_t number) {
    return counted(number, "channel") + " have the " + std::string(noun) + " " + std::string(first.*field) +
           ".";
  });
}

std::string stops_text(const Drawing& drawing, const TracedPath& signal) {
  if (signal.stops_at.empty()) return "";
  std::string text = "; it ends at " + drawing.name(signal.stops_at.front());
  if (signal.stops_at.size() > 1) text += " and " + std::to_string(signal.stops_at.size() - 1) + " more";
  return text;
}

}  // namespace

void unconnected_channel(const Drawing& drawing, Found& found) {
  for (std::size_t i = 0; i < drawing.netlist.channels.size(); ++i) {
    const Channel& c = drawing.netlist.channels[i];
    const bool in_use = !c.tag.empty() || !c.device.empty() || c.field != PointId::none;
    if (in_use && !is_connected(drawing, c))
      found.add("No conductor is on " + drawing.name(c.point) + ", and the channel has a use.",
                {drawing.channel_row(i)});
  }
}

void channel_without_field_terminal(const Drawing& drawing, Found& found) {
  const std::vector<ChannelTrace> traces = trace_channels(drawing.graph);
  for (std::size_t i = 0; i < drawing.netlist.channels.size(); ++i) {
    const Channel& c = drawing.netlist.channels[i];
    if (c.field != PointId::none || !is_connected(drawing, c)) continue;
    if (traces[i].signal.verdict == PathVerdict::no_target)
      found.add("No field terminal is named for " + drawing.name(c.point) + ", and the wiring shows none.",
                {drawing.channel_row(i)});
  }
}

void channel_list_disagrees(const Drawing& drawing, Found& found) {
  const std::vector<ChannelTrace> traces = trace_channels(drawing.graph);
  for (std::size_t i = 0; i < drawing.netlist.channels.size(); ++i) {
    const Channel& c = drawing.netlist.channels[i];
    if (c.field == PointId::none || !is_connected(drawing, c)) continue;
    const TracedPath& signal = traces[i].signal;
    if (signal.verdict != PathVerdict::stops) continue;
    std::vector<ProblemRow> rows{drawing.channel_row(i)};
    for (const ElementId e : signal.elements)
      if (auto row = drawing.element_row(e)) rows.push_back(std::move(*row));
    found.add("The wiring of " + drawing.name(c.point) + " does not lead to " + drawing.name(c.field) +
                  ", the field terminal of the channel list" + stops_text(drawing, signal) + ".",
              std::move(rows));
  }
}

void two_channels_on_one_net(const Drawing& drawing, Found& found) {
  Groups channels;
  for (std::uint32_t i = 0; i < drawing.netlist.channels.size(); ++i)
    channels.emplace_back(drawing.copper(drawing.netlist.channels[i].point), i);
  report_groups(drawing, found, channels, [&](const Channel& first, std::size_t number) {
    return "Copper joins " + counted(number, "channel") + ", " + drawing.name(first.point) + " among them.";
  });
}

void duplicate_address(const Drawing& drawing, Found& found) {
  report_duplicates(drawing, found, &Channel::address, "address");
}

void duplicate_tag(const Drawing& drawing, Found& found) {
  report_duplicates(drawing, found, &Channel::tag, "tag");
}

}  // namespace ringtrue::check
