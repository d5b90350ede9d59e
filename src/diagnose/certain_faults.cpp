#include "certain_faults.hpp"

#include <algorithm>

namespace ringtrue {

/// The drawing under one condition.
struct CertainFaults::Under {
  explicit Under(const View& drawn)
      : view(drawn),
        number_of(drawn.graph().point_count() + drawn.overlay().loose_points(), Numbering::k_unseen),
        numbering(numbered()),
        cuts(view, numbering) {}

  /// A conductor as the condition has it, or nothing if it isn't a single connection with both ends in place.
  struct Connection {
    std::uint32_t child;  ///< the number behind it
    bool a_is_behind;
  };
  [[nodiscard]] bool find(ElementId e, Connection& found) const {
    const ConductionGraph& graph = view.graph();
    if (!view.is_on(e) || view.end_a(e) != graph.end_a(e) || view.end_b(e) != graph.end_b(e)) return false;
    const std::uint32_t a = numbering.number(graph.end_a(e)), b = numbering.number(graph.end_b(e));
    found = {std::max(a, b), a > b};
    return a != b && numbering.points()[found.child].by == e && numbering.is_single(found.child);
  }
  /// What loads let through around the part on the side of that end, and around the other part.
  [[nodiscard]] Conductance near(const Connection& at, End end) const {
    return at.a_is_behind == (end == End::a) ? cuts.behind(at.child) : cuts.but_behind(at.child);
  }
  [[nodiscard]] Conductance far(const Connection& at, End end) const {
    return near(at, end == End::a ? End::b : End::a);
  }
  [[nodiscard]] bool is_near(std::uint32_t number, const Connection& at, End end) const {
    return numbering.is_behind(number, at.child) == (at.a_is_behind == (end == End::a));
  }
  [[nodiscard]] std::uint32_t root_of(PointId p) const { return cuts.root(numbering.number(p)); }
  [[nodiscard]] static std::uint64_t key(std::uint32_t one, std::uint32_t other) {
    const auto [low, high] = std::minmax(one, other);
    return std::uint64_t{high} << 32u | low;
  }

  const View& view;
  std::vector<std::uint32_t> number_of;
  Numbering numbering;
  LoadCuts cuts;
  std::unordered_map<std::uint64_t, ReadingId> read_apart;  ///< by the roots of two nets

 private:
  [[nodiscard]] Numbering numbered() {
    Numbering made(view, number_of);
    for (std::uint32_t p = 0; p < number_of.size(); ++p) made.add(PointId{p});
    return made;
  }
};

CertainFaults::CertainFaults(const Consistency& consistency)
    : consistency_(consistency),
      graph_(consistency.graph()),
      crossings_(consistency.graph().conductor_count()) {
  const auto conditions = static_cast<std::uint16_t>(consistency.drawn_views().size());
  for (std::uint16_t c = 0; c < conditions; ++c) {
    under_.push_back(std::make_unique<Under>(consistency.drawn_view(c)));
    add_crossings(c);
  }
}

CertainFaults::~CertainFaults() = default;

/// Walks each reading's way through the tree of its net, past what an earlier one went over.
void CertainFaults::add_crossings(std::uint16_t condition) {
  Under& under = *under_[condition];
  const auto& points = under.numbering.points();
  std::vector<std::uint32_t> up(points.size());
  for (std::uint32_t i = 0; i < up.size(); ++i) up[i] = i;
  const auto find = [&up](std::uint32_t at) {
    while (up[at] != at) at = up[at] = up[up[at]];
    return at;
  };
  const Comparison& comparison = consistency_.comparison();
  for (std::uint32_t i = 0; i < comparison.probings.size(); ++i) {
    const ReadingId reading{i};
    if (comparison.standing[i] != Standing::agrees || consistency_.condition_of(reading) != condition)
      continue;
    const Probing& probing = consistency_.probing(reading);
    if (probing.value.kind >= ValueKind::volts || probing.from_either_side || probing.to_either_side)
      continue;
    std::uint32_t a = under.numbering.number(probing.from), b = under.numbering.number(probing.to);
    if (under.cuts.root(a) != under.cuts.root(b)) {
      if (seen_ohms(probing, consistency_.meter(reading)).hi == k_infinite_ohms)
        under.read_apart.emplace(Under::key(under.cuts.root(a), under.cuts.root(b)), reading);
      continue;
    }
    if (seen_ohms(probing, consistency_.meter(reading)).hi == k_infinite_ohms) continue;
    for (a = find(a), b = find(b); a != b; a = find(a), b = find(b)) {
      std::uint32_t& deeper = a > b ? a : b;
      const Numbering::Point& point = points[deeper];
      if (point.by != ElementId::none && graph_.is_conductor(point.by) && under.numbering.is_single(deeper))
        crossings_[index(point.by)].push_back({condition, reading});
      up[deeper] = point.parent;
    }
  }
}

ReadingId CertainFaults::revealing(const Fault& fault) const {
  switch (fault.kind) {
    case FaultKind::miswire:
      return by_landing(fault);
    case FaultKind::swap: {
      const ReadingId one = by_exchange(fault);
      if (one != ReadingId::none) return one;
      Fault turned = fault;
      std::swap(turned.element, turned.element2);
      std::swap(turned.end, turned.end2);
      return by_exchange(turned);
    }
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      return by_joint(fault);
    default:
      return ReadingId::none;
  }
}

ReadingId CertainFaults::by_landing(const Fault& fault) const {
  for (const Crossing& crossing : crossings_[index(fault.element)]) {
    const Under& under = *under_[crossing.condition];
    Under::Connection at{};
    if (!under.find(fault.element, at)) continue;
    const std::uint32_t to = under.numbering.number(fault.p);
    const bool is_on_own_net = under.cuts.root(to) == under.cuts.root(at.child);
    if (is_on_own_net && under.is_near(to, at, fault.end)) continue;
    const Ohms limit =
        seen_ohms(consistency_.probing(crossing.reading), consistency_.meter(crossing.reading)).hi;
    const Conductance moved =
        is_on_own_net ? under.far(at, fault.end) : under.far(at, fault.end) + under.cuts.of_net(to);
    if (under.near(at, fault.end).is_more_than(limit) || moved.is_more_than(limit)) return crossing.reading;
  }
  return ReadingId::none;
}

/// By a reading that goes over the first conductor.
ReadingId CertainFaults::by_exchange(const Fault& fault) const {
  for (const Crossing& crossing : crossings_[index(fault.element)]) {
    const Under& under = *under_[crossing.condition];
    Under::Connection one{}, other{};
    if (!under.find(fault.element, one) || !under.find(fault.element2, other)) continue;
    if (under.cuts.root(one.child) == under.cuts.root(other.child)) continue;
    const Ohms limit =
        seen_ohms(consistency_.probing(crossing.reading), consistency_.meter(crossing.reading)).hi;
    const Conductance stays = under.near(one, fault.end) + under.far(other, fault.end2);
    const Conductance goes = under.far(one, fault.end) + under.near(other, fault.end2);
    if (stays.is_more_than(limit) || goes.is_more_than(limit)) return crossing.reading;
  }
  return ReadingId::none;
}

ReadingId CertainFaults::by_joint(const Fault& fault) const {
  for (const auto& under : under_) {
    if (under->read_apart.empty()) continue;
    const auto at = under->read_apart.find(Under::key(under->root_of(fault.p), under->root_of(fault.q)));
    if (at == under->read_apart.end()) continue;
    const Ohms stated{under->view.stated_ohms_of_net(under->view.net(fault.p)).value +
                      under->view.stated_ohms_of_net(under->view.net(fault.q)).value};
    const Ohms least = seen_ohms(consistency_.probing(at->second), consistency_.meter(at->second)).lo;
    if (stated.value + k_default_path_ohms < least.value) return at->second;
  }
  return ReadingId::none;
}

}  // namespace ringtrue
