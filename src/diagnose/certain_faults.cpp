#include "certain_faults.hpp"

#include <algorithm>

namespace ringtrue {

/// The drawing under one condition.
struct CertainFaults::Under {
  explicit Under(const View& drawn)
      : view(drawn),
        number_of(drawn.graph().point_count() + drawn.overlay().loose_points(), Numbering::k_unseen),
        numbering(numbered()),
        cuts(view, numbering),
        up(numbering.points().size()) {
    for (std::uint32_t i = 0; i < up.size(); ++i) up[i] = i;
  }

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
  [[nodiscard]] Conductance near(const Connection& at, End end, LoadCuts::Counted counted) const {
    return at.a_is_behind == (end == End::a) ? cuts.behind(at.child, counted)
                                             : cuts.but_behind(at.child, counted);
  }
  [[nodiscard]] Conductance far(const Connection& at, End end, LoadCuts::Counted counted) const {
    return near(at, end == End::a ? End::b : End::a, counted);
  }
  /// Where the fault joins two nets, what leads from the one to the other leads back as well.
  [[nodiscard]] LoadCuts::Counted counted(std::uint32_t one, std::uint32_t other) const {
    return cuts.root(one) != cuts.root(other) && cuts.are_joined_by_loads(one, other)
               ? LoadCuts::Counted::all
               : LoadCuts::Counted::leading_back;
  }
  [[nodiscard]] bool is_near(std::uint32_t number, const Connection& at, End end) const {
    return numbering.is_behind(number, at.child) == (at.a_is_behind == (end == End::a));
  }
  [[nodiscard]] std::uint32_t root_of(PointId p) const { return cuts.root(numbering.number(p)); }
  [[nodiscard]] std::uint32_t find_up(std::uint32_t at) {
    while (up[at] != at) at = up[at] = up[up[at]];
    return at;
  }
  [[nodiscard]] static std::uint64_t key(std::uint32_t one, std::uint32_t other) {
    const auto [low, high] = std::minmax(one, other);
    return std::uint64_t{high} << 32u | low;
  }

  const View& view;
  std::vector<std::uint32_t> number_of;
  Numbering numbering;
  LoadCuts cuts;
  std::vector<std::uint32_t>
      up;  ///< by number: itself, or a number nearer to the root past what was gone over
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
  for (const View& view : consistency.drawn_views()) under_.push_back(std::make_unique<Under>(view));
  const Comparison& comparison = consistency.comparison();
  Ohms most{0};
  for (std::uint32_t i = 0; i < comparison.probings.size(); ++i) {
    add(ReadingId{i});
    const bool is_plain = comparison.standing[i] != Standing::either &&
                          comparison.probings[i].value.kind != ValueKind::ohms &&
                          !comparison.probings[i].from_either_side && !comparison.probings[i].to_either_side;
    joints_are_plain_ = joints_are_plain_ && (!consistency.is_used(ReadingId{i}) || is_plain);
    most = std::max(most, beep_limit(consistency.meter(ReadingId{i})));
  }
  for (std::uint32_t i = 0; i < graph_.element_count() && joints_are_plain_; ++i)
    joints_are_plain_ = graph_.is_hard(ElementId{i}) || graph_.interval(ElementId{i}).hi > most;
}

bool CertainFaults::is_known_to_be_missed(const Fault& fault) const {
  const bool is_joint = fault.kind == FaultKind::short_circuit || fault.kind == FaultKind::extra_bridge;
  if (!is_joint || !joints_are_plain_) return false;
  return std::none_of(under_.begin(), under_.end(), [&](const std::unique_ptr<Under>& under) {
    return under->read_apart.count(Under::key(under->root_of(fault.p), under->root_of(fault.q))) != 0;
  });
}

CertainFaults::~CertainFaults() = default;

/// Walks the reading's way through the tree of its net, past what an earlier one went over.
void CertainFaults::add(ReadingId reading) {
  const Probing& probing = consistency_.probing(reading);
  if (consistency_.comparison().standing[index(reading)] != Standing::agrees ||
      probing.value.kind >= ValueKind::volts || probing.from_either_side || probing.to_either_side)
    return;
  const std::uint16_t condition = consistency_.condition_of(reading);
  Under& under = *under_[condition];
  std::uint32_t a = under.numbering.number(probing.from), b = under.numbering.number(probing.to);
  const bool is_silent = seen_ohms(probing, consistency_.meter(reading)).hi == k_infinite_ohms;
  const bool is_one_net = under.cuts.root(a) == under.cuts.root(b);
  if (is_silent && !is_one_net)
    under.read_apart.emplace(Under::key(under.cuts.root(a), under.cuts.root(b)), reading);
  if (is_silent || !is_one_net) return;
  for (a = under.find_up(a), b = under.find_up(b); a != b; a = under.find_up(a), b = under.find_up(b)) {
    const std::uint32_t deeper = std::max(a, b);
    const Numbering::Point& point = under.numbering.points()[deeper];
    if (point.by != ElementId::none && graph_.is_conductor(point.by) && under.numbering.is_single(deeper))
      crossings_[index(point.by)].push_back({condition, reading});
    under.up[deeper] = point.parent;
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

Ohms CertainFaults::most_seen(ReadingId reading) const {
  return seen_ohms(consistency_.probing(reading), consistency_.meter(reading)).hi;
}

ReadingId CertainFaults::by_landing(const Fault& fault) const {
  for (const Crossing& crossing : crossings_[index(fault.element)]) {
    const Under& under = *under_[crossing.condition];
    Under::Connection at{};
    if (!under.find(fault.element, at)) continue;
    const std::uint32_t to = under.numbering.number(fault.p);
    const bool is_on_own_net = under.cuts.root(to) == under.cuts.root(at.child);
    if (is_on_own_net && under.is_near(to, at, fault.end)) continue;
    const LoadCuts::Counted counted = under.counted(at.child, to);
    const Conductance far = under.far(at, fault.end, counted);
    const Conductance moved = is_on_own_net ? far : far + under.cuts.of_net(to, counted);
    const Ohms limit = most_seen(crossing.reading);
    if (under.near(at, fault.end, counted).is_more_than(limit) || moved.is_more_than(limit))
      return crossing.reading;
  }
  return by_net_joined(fault.element, fault.element, fault.p);
}

/// By a reading that goes over the first conductor.
ReadingId CertainFaults::by_exchange(const Fault& fault) const {
  for (const Crossing& crossing : crossings_[index(fault.element)]) {
    const Under& under = *under_[crossing.condition];
    Under::Connection one{}, other{};
    if (!under.find(fault.element, one) || !under.find(fault.element2, other)) continue;
    const Ohms limit = most_seen(crossing.reading);
    if (under.cuts.root(one.child) == under.cuts.root(other.child)) {
      if (is_parted_by_exchange(fault, crossing, limit)) return crossing.reading;
      continue;
    }
    const LoadCuts::Counted counted = under.counted(one.child, other.child);
    const Conductance stays = under.near(one, fault.end, counted) + under.far(other, fault.end2, counted);
    const Conductance goes = under.far(one, fault.end, counted) + under.near(other, fault.end2, counted);
    if (stays.is_more_than(limit) || goes.is_more_than(limit)) return crossing.reading;
  }
  const PointId to = fault.end2 == End::a ? graph_.end_a(fault.element2) : graph_.end_b(fault.element2);
  return by_net_joined(fault.element, fault.element2, to);
}

/// Two connections of one net part it in three. If one of the two ends lies on the middle part and the other
/// doesn't, the exchange leaves the middle part by itself, and joins the outer ones.
bool CertainFaults::is_parted_by_exchange(const Fault& fault, const Crossing& crossing, Ohms limit) const {
  const Under& under = *under_[crossing.condition];
  Under::Connection one{}, other{};
  if (!under.find(fault.element, one) || !under.find(fault.element2, other) || one.child == other.child)
    return false;
  const std::uint32_t at_other = under.numbering.number(graph_.end_a(fault.element2));
  const std::uint32_t at_one = under.numbering.number(graph_.end_a(fault.element));
  const bool first_is_in_middle = under.is_near(at_other, one, fault.end);
  const bool second_is_in_middle = under.is_near(at_one, other, fault.end2);
  if (first_is_in_middle == second_is_in_middle) return false;
  const Probing& probing = consistency_.probing(crossing.reading);
  const auto is_behind = [&](PointId p) {
    return under.numbering.is_behind(under.numbering.number(p), other.child);
  };
  if (is_behind(probing.from) != is_behind(probing.to)) return false;  // it goes from outer to outer part
  constexpr LoadCuts::Counted k_counted = LoadCuts::Counted::leading_back;
  const Conductance outer =
      (first_is_in_middle ? under.far(one, fault.end, k_counted) : under.near(one, fault.end, k_counted)) +
      (second_is_in_middle ? under.far(other, fault.end2, k_counted)
                           : under.near(other, fault.end2, k_counted));
  const Conductance middle = under.cuts.of_net(one.child) - outer;
  return outer.is_more_than(limit) || middle.is_more_than(limit);
}

/// Nets that stay whole without the conductor, or without either of two that are exchanged, get joined by it.
ReadingId CertainFaults::by_net_joined(ElementId one, ElementId other, PointId to) const {
  for (const auto& under : under_) {
    if (under->read_apart.empty()) continue;
    const auto is_in_loop = [&](ElementId e) {
      Under::Connection at{};
      const View& view = under->view;
      return view.is_on(e) && view.end_a(e) == graph_.end_a(e) && view.end_b(e) == graph_.end_b(e) &&
             !under->find(e, at);
    };
    if (!is_in_loop(one) && !is_in_loop(other)) continue;
    const bool both_are_there = under->view.is_on(one) && under->view.is_on(other);
    const ReadingId apart = read_apart(*under, graph_.end_a(one), to);
    if (both_are_there && apart != ReadingId::none) return apart;
  }
  return ReadingId::none;
}

ReadingId CertainFaults::by_joint(const Fault& fault) const {
  for (const auto& under : under_) {
    const ReadingId apart = read_apart(*under, fault.p, fault.q);
    if (apart != ReadingId::none) return apart;
  }
  return ReadingId::none;
}

/// A reading between the two nets that would beep for certain if copper joined them.
ReadingId CertainFaults::read_apart(const Under& under, PointId p, PointId q) const {
  const auto at = under.read_apart.find(Under::key(under.root_of(p), under.root_of(q)));
  if (at == under.read_apart.end()) return ReadingId::none;
  const Ohms stated{under.view.stated_ohms_of_net(under.view.net(p)).value +
                    under.view.stated_ohms_of_net(under.view.net(q)).value};
  const Ohms least = seen_ohms(consistency_.probing(at->second), consistency_.meter(at->second)).lo;
  return stated.value + k_default_path_ohms < least.value ? at->second : ReadingId::none;
}

}  // namespace ringtrue
