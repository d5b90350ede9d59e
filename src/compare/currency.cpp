#include "currency.hpp"

#include <algorithm>
#include <limits>
#include <optional>
#include <unordered_map>
#include <utility>

#include "ringtrue/base/repeats.hpp"
#include "ringtrue/compare/opened_clamps.hpp"
#include "ringtrue/expect/hard_path.hpp"
#include "ringtrue/expect/judge.hpp"
#include "ringtrue/expect/load_nets.hpp"

namespace ringtrue {

namespace {

bool is_continuity(ValueKind kind) { return kind < ValueKind::volts; }
bool is_open_value(ValueKind kind) { return kind == ValueKind::open || kind == ValueKind::over_range; }

class StaleMarker {
 public:
  StaleMarker(const ConductionGraph& graph, const Readings& readings, Comparison& made)
      : graph_(graph), readings_(readings), made_(made) {
    for (const ConditionOverlay& condition : made.conditions.overlays)
      views_.emplace_back(graph, condition.overlay);
    join_nets_as_found();
  }

  void mark(const std::vector<OpenedClamps>& events) {
    for (std::size_t i = 0; i < made_.probings.size(); ++i) {
      if (made_.standing[i] != Standing::agrees || !is_continuity(made_.probings[i].value.kind)) continue;
      const double taken = seconds_of_time(readings_.text.get(ReadingText::time, i))
                               .value_or(-std::numeric_limits<double>::infinity());
      const bool stale = std::any_of(events.begin(), events.end(), [&](const OpenedClamps& event) {
        return taken < event.time && touches(event, i);
      });
      if (stale) made_.standing[i] = Standing::stale;
    }
  }

 private:
  void join_nets_as_found() {
    for (std::size_t i = 0; i < made_.probings.size(); ++i) {
      if (made_.standing[i] != Standing::agrees || made_.probings[i].value.kind != ValueKind::beep) continue;
      const NetId a = root(net_at(i, made_.probings[i].from)), b = root(net_at(i, made_.probings[i].to));
      if (a != b) joined_[a] = b;
    }
  }
  /// The net under the reading's condition, or its net at rest where the condition left it alone.
  [[nodiscard]] NetId net_at(std::size_t reading, PointId p) const {
    return views_[readings_.rows[reading].condition].net(p);
  }
  [[nodiscard]] NetId root(NetId net) const {
    for (auto at = joined_.find(net); at != joined_.end(); at = joined_.find(net)) net = at->second;
    return net;
  }

  [[nodiscard]] bool touches(const OpenedClamps& event, std::size_t i) const {
    const Probing& probing = made_.probings[i];
    const View& view = views_[readings_.rows[i].condition];
    const auto path = hard_path(view, probing);
    if (path && probing.value.kind == ValueKind::beep) return path_needs(event, *path, i);
    if (is_open_value(probing.value.kind) || path) return is_on_probe_net(event, i);
    return is_on_probe_net(event, i) || is_where_current_flows(event, view, probing);
  }

  [[nodiscard]] bool is_on_probe_net(const OpenedClamps& event, std::size_t i) const {
    const Probing& probing = made_.probings[i];
    const NetId from = root(net_at(i, probing.from)), to = root(net_at(i, probing.to));
    return std::any_of(event.points.begin(), event.points.end(), [&](PointId clamp) {
      const NetId net = root(net_at(i, clamp));
      return net == from || net == to;
    });
  }

  /// Where only loads join the probes, every net that they join to them may carry the current.
  static bool is_where_current_flows(const OpenedClamps& event, const View& view, const Probing& probing) {
    const std::vector<NetId> nets = nets_joined_by_loads(view, view.net(probing.from));
    const auto holds = [&](NetId net) { return std::binary_search(nets.begin(), nets.end(), net); };
    return holds(view.net(probing.to)) && std::any_of(event.points.begin(), event.points.end(),
                                                      [&](PointId clamp) { return holds(view.net(clamp)); });
  }

  /// Some element of the path has an opened clamp, and without it the probes are parted.
  [[nodiscard]] bool path_needs(const OpenedClamps& event, const HardPath& path, std::size_t i) const {
    const auto opened = [&](PointId p) {
      return std::find(event.points.begin(), event.points.end(), p) != event.points.end();
    };
    for (std::size_t step = 0; step < path.edges.size(); ++step) {
      if (!opened(path.points[step]) && !opened(path.points[step + 1])) continue;
      if (path.edges[step].element == ElementId::none) return true;
      Overlay without = made_.conditions.overlays[readings_.rows[i].condition].overlay;
      without.switch_off(graph_, path.edges[step].element);
      if (!hard_path(View(graph_, without), made_.probings[i])) return true;
    }
    return false;
  }

  const ConductionGraph& graph_;
  const Readings& readings_;
  Comparison& made_;
  std::vector<View> views_;
  std::unordered_map<NetId, NetId> joined_;
};

/// What the resistance can have been for the meter to show the value; no value meets the end of a beep's and
/// that of an open one's.
OhmInterval meant_by(const Probing& reading, const MeterSettings& meter) {
  OhmInterval meant = seen_ohms(reading, meter);
  if (is_open_value(reading.value.kind)) meant.lo = Ohms{meant.lo.value * (1 + 1e-9)};
  return meant;
}

/// At least `least`, and a power of two.
std::size_t table_size(std::size_t least) {
  std::size_t size = 64;
  while (size < least) size *= 2;
  return size;
}

/// Of a million readings hardly any has the pair of probes and the condition of another: only those that may
/// have go into a table with open addressing.
class RepeatedPairs {
 public:
  RepeatedPairs(const ConductionGraph& graph, const Readings& readings, Comparison& made)
      : graph_(graph), readings_(readings), made_(made) {}

  void mark_unstable() {
    const std::vector<std::uint32_t> suspects = may_be_repeated();
    table_.assign(table_size(suspects.size() * 2), k_empty);
    for (const std::uint32_t i : suspects) {
      std::uint32_t& slot = slot_of(i);
      if (slot == k_empty) {
        slot = i;
        continue;
      }
      repeats_.emplace_back(slot, i);
    }
    std::sort(repeats_.begin(), repeats_.end());
    for (auto group = repeats_.begin(); group != repeats_.end();) group = mark_group(group);
  }

 private:
  using Repeats = std::vector<std::pair<std::uint32_t, std::uint32_t>>;

  [[nodiscard]] bool counts(std::uint32_t i) const {
    return made_.standing[i] == Standing::agrees && is_continuity(made_.probings[i].value.kind);
  }

  [[nodiscard]] std::vector<std::uint32_t> may_be_repeated() const {
    std::size_t points = graph_.point_count();
    for (const ConditionOverlay& condition : made_.conditions.overlays)
      points = std::max<std::size_t>(points, graph_.point_count() + condition.overlay.loose_points());
    const auto probes_of = [this](std::uint32_t i) {
      const Probing& probing = made_.probings[i];
      const auto probes = std::pair(index(probing.from), index(probing.to));
      return counts(i) ? std::optional(probes) : std::nullopt;
    };
    return that_may_repeat(static_cast<std::uint32_t>(made_.probings.size()), points, probes_of);
  }

  Repeats::iterator mark_group(Repeats::iterator first) {
    std::vector<std::uint32_t> members{first->first};
    auto last = first;
    for (; last != repeats_.end() && last->first == first->first; ++last) members.push_back(last->second);
    // Two of them contradict each other just if the greatest least resistance is above the least greatest
    // one.
    Ohms greatest_lo{0}, least_hi = k_infinite_ohms;
    for (const std::uint32_t member : members) {
      const OhmInterval meant = meant_by(made_.probings[member], made_.meters.of(ReadingId{member}));
      greatest_lo = std::max(greatest_lo, meant.lo);
      least_hi = std::min(least_hi, meant.hi);
    }
    if (least_hi < greatest_lo)
      for (const std::uint32_t member : members) made_.standing[member] = Standing::unstable;
    return last;
  }

  [[nodiscard]] bool same_pair(std::uint32_t x, std::uint32_t y) const {
    const Probing &a = made_.probings[x], &b = made_.probings[y];
    const bool same = a.from == b.from && a.to == b.to, turned = a.from == b.to && a.to == b.from;
    return (same || (turned && !leads_matter(a))) &&
           readings_.rows[x].condition == readings_.rows[y].condition &&
           (a.method == Method::insulation) == (b.method == Method::insulation);
  }

  /// Over a diode, exchanging the leads is another reading.
  [[nodiscard]] bool leads_matter(const Probing& probing) const {
    if (!graph_.has_diodes()) return false;
    const auto is_loose = [this](PointId p) { return index(p) >= graph_.point_count(); };
    return is_loose(probing.from) || is_loose(probing.to) ||
           graph_.net_at_rest(probing.from) != graph_.net_at_rest(probing.to);
  }

  /// The same whichever lead was on which point.
  [[nodiscard]] std::size_t hash_of(std::uint32_t i) const {
    const std::uint64_t a = index(made_.probings[i].from), b = index(made_.probings[i].to);
    const std::uint64_t both = (std::min(a, b) << 32 | std::max(a, b)) + readings_.rows[i].condition;
    return both * 0x9E3779B97F4A7C15u >> 32;
  }

  std::uint32_t& slot_of(std::uint32_t i) {
    std::size_t at = hash_of(i) & (table_.size() - 1);
    while (table_[at] != k_empty && !same_pair(table_[at], i)) at = (at + 1) & (table_.size() - 1);
    return table_[at];
  }

  static constexpr std::uint32_t k_empty = 0xFFFFFFFFu;
  const ConductionGraph& graph_;
  const Readings& readings_;
  Comparison& made_;
  std::vector<std::uint32_t> table_;
  Repeats repeats_;
};

}  // namespace

bool is_past_events(const Events& events, std::optional<double> time, const Probing& probing,
                    const View& view) {
  if (events.rows.empty()) return true;
  if (!time || probing.from == PointId::none) return false;
  const bool is_later = std::all_of(events.rows.begin(), events.rows.end(), [&](const Event& event) {
    return *time >= *seconds_of_time(event.time);
  });
  return is_later &&
         (probing.value.kind != ValueKind::beep || view.net(probing.from) == view.net(probing.to));
}

void mark_stale_and_unstable(const ConductionGraph& graph, const Readings& readings, const Events& events,
                             Comparison& made) {
  const std::vector<OpenedClamps> lasting = opened_clamps(events, graph.netlist(), made.unknown_clamps);
  if (!lasting.empty()) StaleMarker(graph, readings, made).mark(lasting);
  RepeatedPairs(graph, readings, made).mark_unstable();
}

}  // namespace ringtrue
