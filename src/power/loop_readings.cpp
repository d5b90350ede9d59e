#include "ringtrue/power/loop_readings.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "ringtrue/compare/opened_clamps.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

std::string_view word(WhyNotTaken why) {
  static constexpr std::array<std::string_view, 7> k_words = {
      "newer", "lit-since", "stale", "other-minus", "no-side", "opened", "not-driven"};
  return k_words[static_cast<std::size_t>(why)];
}

namespace {

class Sorting {
 public:
  Sorting(const ConductionGraph& graph, const InputLoop& loop, const Readings& readings, const Events& events,
          const Comparison& comparison)
      : graph_(graph), loop_(loop), readings_(readings), comparison_(comparison) {
    find_opened_clamps(events);
  }

  LoopReadings run() {
    find_what_was_seen();
    std::map<std::size_t, std::uint32_t> newest;  // by place in the loop
    for (std::uint32_t r = 0; r < readings_.rows.size(); ++r) {
      if (!is_of_loop(r)) continue;
      if (const auto why = why_not(r)) {
        leave_out(r, *why);
        continue;
      }
      const auto [at, is_first] = newest.emplace(loop_.segment_from(comparison_.probings[r].from), r);
      if (is_first) continue;
      const bool is_newer = !is_later(at->second, r);
      leave_out(is_newer ? at->second : r, WhyNotTaken::newer);
      if (is_newer) at->second = r;
    }
    for (const auto& [place, r] : newest)
      found_.taken.push_back({ReadingId{r}, {loop_.segments[place].from, readings_.rows[r].value.number}});
    std::sort(found_.not_taken.begin(), found_.not_taken.end(),
              [](const auto& a, const auto& b) { return a.reading < b.reading; });
    return std::move(found_);
  }

 private:
  void find_opened_clamps(const Events& events) {
    Errors unknown;  // said by compare
    for (const OpenedClamps& event : opened_clamps(events, graph_.netlist(), unknown))
      if (std::any_of(event.points.begin(), event.points.end(), [&](PointId p) { return is_on_loop(p); }))
        opened_.push_back(event.time);
  }

  [[nodiscard]] bool is_on_loop(PointId p) const {
    return p == loop_.minus() || loop_.segment_from(p) < loop_.segments.size();
  }

  void find_what_was_seen() {
    const PointId input = graph_.netlist().channels[loop_.channel].point;
    for (std::uint32_t r = 0; r < readings_.rows.size(); ++r) {
      const ValueKind kind = readings_.rows[r].value.kind;
      if (readings_.outdated.contains(r) || comparison_.probings[r].from != input ||
          (kind != ValueKind::lit && kind != ValueKind::dark))
        continue;
      if (!found_.seen || !is_later(index(*found_.seen), r)) found_.seen = ReadingId{r};
      if (kind == ValueKind::lit && (!lit_ || !is_later(*lit_, r))) lit_ = r;
    }
  }

  [[nodiscard]] bool is_of_loop(std::uint32_t r) const {
    const PointId from = comparison_.probings[r].from;
    return readings_.rows[r].value.kind == ValueKind::volts && from != PointId::none &&
           loop_.segment_from(from) < loop_.segments.size();
  }

  [[nodiscard]] std::optional<WhyNotTaken> why_not(std::uint32_t r) const {
    const Probing& probing = comparison_.probings[r];
    if (probing.from_either_side) return WhyNotTaken::no_side;
    if (probing.to != PointId::none && probing.to != loop_.minus()) return WhyNotTaken::other_minus;
    if (readings_.outdated.contains(r)) return WhyNotTaken::stale;
    if (lit_ && is_later(*lit_, r)) return WhyNotTaken::lit_since;
    const auto taken = time_of(r);
    if (std::any_of(opened_.begin(), opened_.end(), [&](double time) { return !taken || *taken < time; }))
      return WhyNotTaken::stale;
    return why_not_driven(r);
  }

  /// Without current every point behind the device shows what a break before it would make it show.
  [[nodiscard]] std::optional<WhyNotTaken> why_not_driven(std::uint32_t r) const {
    const View view(graph_, comparison_.conditions.overlays[readings_.rows[r].condition].overlay);
    const std::size_t place = loop_.segment_from(comparison_.probings[r].from);
    const bool is_known = shows_plus(readings_.rows[r].value.number, loop_) ||
                          readings_.text.get(ReadingText::note, r) == driven_note(loop_, graph_);
    for (std::size_t i = 0; i < loop_.segments.size(); ++i) {
      const LoopSegment& segment = loop_.segments[i];
      if (segment.kind == SegmentKind::module || view.net(segment.from) == view.net(segment.to)) continue;
      const bool is_moved =
          segment.kind == SegmentKind::device || graph_.kind(segment.element) == ElementKind::contact;
      if (!is_moved) return WhyNotTaken::opened;
      if (is_moved && i < place && !is_known) return WhyNotTaken::not_driven;
    }
    return std::nullopt;
  }

  [[nodiscard]] std::optional<double> time_of(std::uint32_t r) const {
    return seconds_of_time(readings_.text.get(ReadingText::time, r));
  }
  /// `r` was read after `s`.
  [[nodiscard]] bool is_later(std::uint32_t r, std::uint32_t s) const {
    const auto one = time_of(r), other = time_of(s);
    return one && other && *one != *other ? *one > *other : r > s;
  }

  void leave_out(std::uint32_t r, WhyNotTaken why) { found_.not_taken.push_back({ReadingId{r}, why}); }

  const ConductionGraph& graph_;
  const InputLoop& loop_;
  const Readings& readings_;
  const Comparison& comparison_;
  std::vector<double> opened_;        ///< when clamps of the loop were
  std::optional<std::uint32_t> lit_;  ///< the newest
  LoopReadings found_;
};

}  // namespace

std::string driven_note(const InputLoop& loop, const ConductionGraph& graph) {
  const Netlist& netlist = graph.netlist();
  return "dark " + netlist.points.name(netlist.channels[loop.channel].point);
}

LoopReadings loop_readings(const ConductionGraph& graph, const InputLoop& loop, const Readings& readings,
                           const Events& events, const Comparison& comparison) {
  return Sorting(graph, loop, readings, events, comparison).run();
}

}  // namespace ringtrue
