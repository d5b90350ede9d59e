#include <algorithm>

#include "reasons.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/revise/carry_over.hpp"
#include "steps.hpp"

namespace ringtrue {

namespace {

const std::string k_gone = "its channel is gone";

/// What a step between two revisions does to channels.
class TouchedChannels {
 public:
  TouchedChannels(const ConductionGraph& before, const ConductionGraph& after, std::size_t number)
      : before_(before), after_(after), number_(number), difference_(difference(before, after)) {}

  /// The channel that a result is of, as written in it; nothing if the earlier revision has none of it.
  [[nodiscard]] std::optional<std::size_t> channel_of(const std::string& written) const {
    const Netlist& net = before_.netlist();
    for (std::size_t i = 0; i < net.channels.size(); ++i) {
      const Channel& channel = net.channels[i];
      if (written == net.points.name(channel.point) || (!written.empty() && written == channel.address) ||
          (!written.empty() && written == channel.tag))
        return i;
    }
    return std::nullopt;
  }

  /// The later name of the channel's point, or the earlier one of a point that is gone: no address or tag,
  /// which may be another channel's now.
  [[nodiscard]] std::string name_after(std::size_t channel) const {
    const PointId now = difference_.point_after[index(point_of(channel))];
    return now == PointId::none ? before_.netlist().points.name(point_of(channel))
                                : after_.netlist().points.name(now);
  }

  [[nodiscard]] bool is_left(std::size_t channel) const { return channel_after(channel).has_value(); }

  /// Why the results of a channel no longer speak of it; empty if they do.
  [[nodiscard]] std::string why(std::optional<std::size_t> channel) const {
    const std::string by = " by " + revision_name(before_, after_, number_);
    const auto later = channel ? channel_after(*channel) : std::nullopt;
    if (!later) return (channel ? where_it_went(*channel) : k_gone) + by;
    const std::string point = after_.netlist().points.name(after_.netlist().channels[*later].point);
    for (const ChangedListing& row : difference_.channels)
      if (row.name == point && !row.fields.empty())
        return "the " + std::string(row.fields.front().name) + " of its channel was changed" + by;
    const ChannelTrace was = trace_channel(before_, *channel), is = trace_channel(after_, *later);
    for (TracedPath ChannelTrace::*path :
         {&ChannelTrace::signal, &ChannelTrace::return_path, &ChannelTrace::common})
      if (std::string reason = why_path(was.*path, is.*path); !reason.empty()) return reason + by;
    return {};
  }

 private:
  [[nodiscard]] PointId point_of(std::size_t channel) const {
    return before_.netlist().channels[channel].point;
  }
  [[nodiscard]] std::optional<std::size_t> channel_after(std::size_t channel) const {
    const PointId now = difference_.point_after[index(point_of(channel))];
    const std::vector<Channel>& channels = after_.netlist().channels;
    const auto same = std::find_if(channels.begin(), channels.end(),
                                   [&](const Channel& later) { return later.point == now; });
    if (now == PointId::none || same == channels.end()) return std::nullopt;
    return static_cast<std::size_t>(same - channels.begin());
  }

  [[nodiscard]] std::string where_it_went(std::size_t channel) const {
    const std::string was = name_after(channel);
    for (const ChangedListing& row : difference_.channels)
      if (row.change == Change::moved && row.fields.front().before == was)
        return "its channel was moved to " + row.name;
    return k_gone;
  }

  [[nodiscard]] std::string why_path(const TracedPath& was, const TracedPath& is) const {
    for (const PointId p : was.points)
      if (difference_.touched_before[index(p)] != 0)
        return opened_clamp_text(before_, after_, difference_, p);
    const auto is_touched = [&](PointId p) { return difference_.touched_after[index(p)] != 0; };
    const bool is_other =
        std::any_of(is.points.begin(), is.points.end(), is_touched) ||
        !std::equal(was.elements.begin(), was.elements.end(), is.elements.begin(), is.elements.end(),
                    [&](ElementId x, ElementId y) { return difference_.element_after[index(x)] == y; });
    return is_other ? "its path was led another way" : "";
  }

  const ConductionGraph &before_, &after_;
  std::size_t number_;
  Difference difference_;
};

}  // namespace

void carry_over(const std::vector<EarlierNetlist>& earlier, const ConductionGraph& newest,
                const CopperSettings& copper, IoResults& results) {
  if (results.rows.empty()) return;
  revise::for_each_step(
      earlier, newest, copper,
      [&](const ConductionGraph& before, const ConductionGraph& after, const EarlierNetlist& from) {
        const TouchedChannels touched(before, after, from.number + 1);
        for (IoResult& result : results.rows) {
          const auto mark = netlist_mark(result.netlist);
          if (!mark || mark->number > from.number) continue;
          if (!result.outdated) result.outdated.emplace();
          const auto channel = touched.channel_of(result.channel);
          if (result.outdated->empty() && (!from.next_is_as_built || (channel && !touched.is_left(*channel))))
            result.outdated = touched.why(channel);
          if (channel) result.channel = touched.name_after(*channel);
        }
      });
}

}  // namespace ringtrue
