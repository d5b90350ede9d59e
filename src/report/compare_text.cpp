#include <algorithm>

#include "finding_text.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"
#include "unproven.hpp"

namespace ringtrue {

namespace {

using report::append_wrapped;
using report::counted;
using report::padded;

constexpr std::size_t k_few_channels = 12;
constexpr std::size_t k_few_elements = 10;
constexpr std::size_t k_few_names = 10;

class CompareText {
 public:
  CompareText(const CompareReport& report, Detail detail) : report_(report), detail_(detail) {}

  [[nodiscard]] std::string write() {
    summary();
    findings();
    not_used();
    channels();
    not_proven();
    cautions();
    return std::move(out_);
  }

 private:
  void summary();
  void findings();
  void not_used();
  void readings_with(Standing standing, std::string_view heading);
  void channels();
  void channels_in(ChannelState state);
  void not_proven();
  void cautions();

  [[nodiscard]] const Netlist& netlist() const { return report_.graph.netlist(); }
  [[nodiscard]] std::size_t count(ChannelState state) const;
  [[nodiscard]] std::string channel_label(std::size_t channel) const;
  [[nodiscard]] std::string why(std::size_t channel) const;
  [[nodiscard]] std::string elements(std::span<const ElementId> elements) const;
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const {
    return detail_ == Detail::everything || all <= few + 1 ? all : few;
  }

  const CompareReport& report_;
  Detail detail_;
  std::string out_;
};

std::size_t CompareText::count(ChannelState state) const {
  const auto& channels = report_.findings.channels;
  return static_cast<std::size_t>(
      std::count_if(channels.begin(), channels.end(), [&](const ChannelResult& c) { return c.state == state; }));
}

void CompareText::summary() {
  const PanelInfo& panel = netlist().panel;
  const Comparison& c = report_.comparison;
  std::string heading = panel.name.empty() ? "Panel without a name" : "Panel " + panel.name;
  if (!panel.revision.empty()) heading += ", revision " + panel.revision;
  append_wrapped(out_, heading + ": " + counted(report_.readings.rows.size(), "reading"), 0, 2);
  std::string line = std::to_string(c.agree) + " agree, " + std::to_string(c.disagree) + " disagree";
  if (c.either != 0) line += ", " + std::to_string(c.either) + " fit either way";
  if (c.unknown != 0) line += ", " + std::to_string(c.unknown) + " at points the drawing lacks";
  if (c.stale != 0) line += ", " + std::to_string(c.stale) + " stale";
  if (c.unstable != 0) line += ", " + std::to_string(c.unstable) + " unstable";
  append_wrapped(out_, line, 2, 2);
  append_wrapped(out_, "Channels: " + std::to_string(count(ChannelState::proven)) + " proven, " +
                           std::to_string(count(ChannelState::faulty)) + " faulty, " +
                           std::to_string(count(ChannelState::unproven)) + " unproven",
                 2, 2);
}

void CompareText::findings() {
  const auto& clusters = report_.findings.clusters;
  if (clusters.empty()) {
    if (report_.comparison.agree != 0)
      out_ += "\nNo findings: no reading contradicts this revision of the drawing.\n";
    return;
  }
  report::FindingText text(report_, detail_);
  bool is_complete = true;
  for (std::size_t i = 0; i < clusters.size(); ++i) {
    out_ += '\n';
    text.append(out_, i);
    if (!clusters[i].diagnoses.empty() && clusters[i].complete_up_to < report_.options.max_faults) {
      is_complete = false;
      append_wrapped(out_, "Complete only up to " + counted(clusters[i].complete_up_to, "fault") +
                               " at once: the search was cut short there.", 2, 4);
    }
  }
  if (is_complete)
    append_wrapped(out_, "\nThe explanations are complete for single faults, and for up to " +
                             counted(report_.options.max_faults, "fault") + " at once as far as they are not much less likely than the first.",
                   0, 0);
}

void CompareText::not_used() {
  readings_with(Standing::unknown_point, "At points the drawing lacks, not judged");
  readings_with(Standing::unstable, "Unstable, contradicting each other (loose clamp or misread); take them again");
  readings_with(Standing::stale, "Stale, a later repair touched them; take them again");
}

void CompareText::readings_with(Standing standing, std::string_view heading) {
  std::vector<std::string> names;
  for (std::uint32_t i = 0; i < report_.comparison.standing.size(); ++i)
    if (report_.comparison.standing[i] == standing) names.push_back(report_.readings.name(ReadingId{i}));
  if (names.empty()) return;
  const std::size_t shown = at_most(k_few_names, names.size());
  std::string line = std::string(heading) + ": " + report::joined(std::span(names).first(shown));
  if (shown < names.size()) line += " and " + std::to_string(names.size() - shown) + " more";
  out_ += '\n';
  append_wrapped(out_, line, 0, 2);
}

std::string CompareText::channel_label(std::size_t channel) const {
  const Channel& drawn = netlist().channels[channel];
  std::string label = netlist().points.name(drawn.point);
  for (const std::string_view text : {drawn.address, drawn.tag})
    if (!text.empty()) label.append("  ").append(text);
  return label;
}

std::string CompareText::elements(std::span<const ElementId> elements) const {
  const std::size_t shown = at_most(k_few_elements, elements.size());
  std::string text;
  for (const ElementId element : elements.first(shown)) {
    if (!text.empty()) text += ", ";
    text += element_noun(element, report_.graph);
  }
  if (shown < elements.size()) text += " and " + std::to_string(elements.size() - shown) + " more";
  return text;
}

std::string CompareText::why(std::size_t channel) const {
  const ChannelResult& result = report_.findings.channels[channel];
  if (result.state != ChannelState::faulty)
    return std::to_string(result.unproven_elements.size()) + " not proven: " + elements(result.unproven_elements);
  std::string text = result.clusters.size() == 1 ? "finding " : "findings ";
  for (std::size_t i = 0; i < result.clusters.size(); ++i)
    text += (i == 0 ? "" : ", ") + std::to_string(result.clusters[i] + 1);
  return text;
}

void CompareText::channels_in(ChannelState state) {
  std::vector<std::size_t> chosen;
  for (std::size_t i = 0; i < report_.findings.channels.size(); ++i)
    if (report_.findings.channels[i].state == state) chosen.push_back(i);
  const std::size_t shown = at_most(k_few_channels, chosen.size());
  for (std::size_t i = 0; i < shown; ++i)
    append_wrapped(out_, padded(word(state), 10) + channel_label(chosen[i]) + ": " + why(chosen[i]), 2, 14);
  if (shown < chosen.size())
    out_ += "  " + padded(word(state), 10) + "and " + std::to_string(chosen.size() - shown) + " more (--all shows them)\n";
}

void CompareText::channels() {
  const auto& channels = report_.findings.channels;
  if (channels.empty()) return;
  const auto isolated = std::count_if(channels.begin(), channels.end(), [](const ChannelResult& c) { return c.isolated; });
  out_ += '\n';
  append_wrapped(out_, "Channels: " + std::to_string(count(ChannelState::proven)) + " of " +
                           std::to_string(channels.size()) + " proven; " + std::to_string(isolated) +
                           " read open to every neighbour",
                 0, 2);
  channels_in(ChannelState::faulty);
  channels_in(ChannelState::unproven);
}

void CompareText::not_proven() {
  const report::Unproven unproven = report::unproven_elements(report_.graph, report_.findings);
  const std::vector<bool> listed = report::listed_by_channels(report_.graph, report_.findings);
  std::vector<ElementId> outside;
  for (const ElementId element : unproven.elements)
    if (report_.graph.is_hard(element) && !listed[index(element)]) outside.push_back(element);
  out_ += '\n';
  const std::size_t wiring = unproven.elements.size() - unproven.loads;
  append_wrapped(out_, "Not proven by these readings: " + std::to_string(wiring) + " of " + std::to_string(unproven.wiring) +
                           " conductors, terminals and contacts, " + std::to_string(outside.size()) +
                           " of them on no channel's path" + (outside.empty() ? "" : ": " + elements(outside)),
                 0, 2);
  if (unproven.loads != 0)
    append_wrapped(out_, "Nor " + counted(unproven.loads, "load") + " (coils, lamps, supplies, electronics): a beep proves none", 0, 2);
  if (unproven.absent_field != 0)
    append_wrapped(out_, "Field devices and their cables (" + std::to_string(unproven.absent_field) +
                             ") are taken as not connected and are not judged", 0, 2);
}

void CompareText::cautions() {
  out_ += '\n';
  append_wrapped(out_, "X1:5.int is the panel side of terminal 5 of strip X1, X1:5.ext its field side.", 0, 0);
  append_wrapped(out_,
                 "Prove dead before any continuity reading. Local codes, the site's isolation procedure and licensed "
                 "persons decide.",
                 0, 0);
}

}  // namespace

std::string compare_text(const CompareReport& report, Detail detail) { return CompareText(report, detail).write(); }

}  // namespace ringtrue
