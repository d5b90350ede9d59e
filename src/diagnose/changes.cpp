#include "changes.hpp"

#include <algorithm>

namespace ringtrue {

/// The drawing and the fault under one condition.
struct Changes::Under {
  std::uint16_t condition;
  const View& drawn;
  const View& faulty;
  std::vector<PointId> points;
  Allowed allowed;
};

namespace {

Probing probing_of(const ProposedReading& reading) {
  Probing probing;
  probing.from = reading.from, probing.to = reading.to;
  probing.value = {reading.expected, 0};
  probing.method = reading.expected == ValueKind::ohms ? Method::ohms : Method::beep;
  return probing;
}

bool are_apart(const OhmInterval& one, const OhmInterval& other) {
  return one.hi < other.lo || other.hi < one.lo;
}

}  // namespace

Changes::Changes(const Consistency& consistency)
    : consistency_(consistency), graph_(consistency.graph()), in_field_(graph_.point_count(), false) {
  for (const Part& part : graph_.netlist().parts)
    if (part.place == PartPlace::field)
      for (const PointId p : graph_.points_of_part(part.a)) in_field_[index(p)] = true;
  for (const Condition& condition : consistency.comparison().conditions.conditions)
    field_is_there_.push_back(condition.has(State::field_connected));
}

bool Changes::is_there(PointId p, std::uint16_t condition) const {
  return index(p) >= graph_.point_count() || !in_field_[index(p)] || field_is_there_[condition];
}

/// A point by itself of a field device that is absent under all conditions.
bool Changes::is_never_there(PointId p) const {
  return in_field_[index(p)] && graph_.points_of_net(graph_.net_at_rest(p)).size() == 1 &&
         std::find(field_is_there_.begin(), field_is_there_.end(), true) == field_is_there_.end();
}

Changes::Found Changes::find(const Fault& fault) const {
  if (const std::optional<Found> apart = find_between_own_points(fault)) return *apart;
  Found found = find(fault, Allowed::buzzer);
  if (found.fate == Fate::uncertain && is_in_copper(fault)) {
    const Found in_ohms = find(fault, Allowed::ohms);
    if (in_ohms.fate == Fate::left_out) found = in_ohms;
  }
  return found;
}

Changes::Found Changes::find(const Fault& fault, Allowed allowed) const {
  Found found{Fate::hidden, WhyHidden::does_not_conduct, {}};
  const auto& conditions = consistency_.comparison().conditions.overlays;
  for (std::uint16_t c = 0; c < conditions.size() && found.fate != Fate::left_out; ++c) {
    if (conditions[c].power_on) continue;
    const std::optional<Found> here = find_under(c, fault, allowed);
    // The most telling of all conditions: left out before uncertain before hidden.
    if (here &&
        (here->fate < found.fate || (here->fate == found.fate && found.why == WhyHidden::does_not_conduct)))
      found = *here;
  }
  return found;
}

std::optional<Changes::Found> Changes::find_under(std::uint16_t condition, const Fault& fault,
                                                  Allowed allowed) const {
  Overlay with = consistency_.comparison().conditions.overlays[condition].overlay;
  apply(fault, graph_, with);
  const View faulty(graph_, with);
  const Under under{condition, consistency_.drawn_view(condition), faulty, points_concerned(condition, fault),
                    allowed};
  if (!conducts(under, fault)) return std::nullopt;
  if (is_in_copper(fault)) return find_in_copper(under, fault);
  return graph_.is_hard(fault.element) ? find_in_joint(under, fault) : find_through_load(under, fault);
}

/// It joins or parts nets; others change what lies between two nets, or how well a joint conducts.
bool Changes::is_in_copper(const Fault& fault) const {
  if (fault.element == ElementId::none) return true;
  return graph_.is_hard(fault.element) && fault.kind != FaultKind::wrong_value;
}

/// A joint of two nets that a buzzer finds apart, between the two points themselves.
std::optional<Changes::Found> Changes::find_between_own_points(const Fault& fault) const {
  if (fault.kind != FaultKind::short_circuit && fault.kind != FaultKind::extra_bridge) return std::nullopt;
  const Comparison& comparison = consistency_.comparison();
  if (is_never_there(fault.p) || is_never_there(fault.q))
    return Found{Fate::hidden, WhyHidden::no_probe_point, {}};
  const auto conditions = static_cast<std::uint16_t>(comparison.conditions.overlays.size());
  for (std::uint16_t c = 0; c < conditions; ++c) {
    const View& drawn = consistency_.drawn_view(c);
    if (comparison.conditions.overlays[c].power_on || drawn.net(fault.p) == drawn.net(fault.q) ||
        !is_there(fault.p, c) || !is_there(fault.q, c))
      continue;
    for (const auto& [from, to] : {std::pair(fault.p, fault.q), std::pair(fault.q, fault.p)}) {
      const ProposedReading reading{from, to, c, ValueKind::open};
      if (judge(drawn, probing_of(reading), comparison.meters.unnamed()) == Verdict::agrees)
        return Found{Fate::left_out, WhyHidden::none, reading};
    }
  }
  return std::nullopt;
}

/// False for an element that the condition leaves open anyway.
bool Changes::conducts(const Under& under, const Fault& fault) const {
  if (fault.element == ElementId::none) return true;
  return under.drawn.is_on(fault.element) || under.faulty.is_on(fault.element);
}

std::vector<PointId> Changes::points_concerned(std::uint16_t condition, const Fault& fault) const {
  std::vector<NetId> nets = consistency_.touched_by({&fault, 1});
  const std::span<const NetId> touched = consistency_.drawn_view(condition).touched_nets();
  if (std::find_first_of(touched.begin(), touched.end(), nets.begin(), nets.end()) != touched.end()) {
    nets.insert(nets.end(), touched.begin(), touched.end());
    std::sort(nets.begin(), nets.end());
    nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  }
  std::vector<PointId> points;
  for (const NetId net : nets) {
    const auto of_net = graph_.points_of_net(net);
    points.insert(points.end(), of_net.begin(), of_net.end());
  }
  for (const auto& lifted : consistency_.comparison().conditions.overlays[condition].lifted)
    points.push_back(lifted.loose);
  return points;
}

std::optional<Changes::Found> Changes::find_in_copper(const Under& under, const Fault& fault) const {
  const PointTable& names = graph_.netlist().points;
  const auto handiness = [&](PointId p) {
    if (p == PointId::none) return 0;
    if (p == fault.p || p == fault.q) return 3;
    return index(p) < graph_.point_count() && names.side(p) != Side::single ? 2 : 1;
  };
  std::vector<Cell> cells;
  for (const PointId p : under.points) {
    const NetId drawn = under.drawn.net(p), faulty = under.faulty.net(p);
    auto at = std::find_if(cells.begin(), cells.end(),
                           [&](const Cell& cell) { return cell.drawn == drawn && cell.faulty == faulty; });
    if (at == cells.end()) at = cells.insert(at, {drawn, faulty, PointId::none});
    if (is_there(p, under.condition) && handiness(p) > handiness(at->probe)) at->probe = p;
  }
  std::optional<Found> found;
  for (std::size_t i = 0; i < cells.size(); ++i)
    for (std::size_t k = i + 1; k < cells.size(); ++k) {
      const bool joined = cells[i].drawn == cells[k].drawn;
      if (joined == (cells[i].faulty == cells[k].faulty)) continue;
      if (!found) found = Found{Fate::hidden, WhyHidden::no_probe_point, {}};
      if (cells[i].probe == PointId::none || cells[k].probe == PointId::none) continue;
      const ValueKind expected = under.allowed == Allowed::ohms ? ValueKind::ohms
                                 : joined                       ? ValueKind::beep
                                                                : ValueKind::open;
      for (const bool is_turned : {false, true}) {
        ProposedReading reading{cells[i].probe, cells[k].probe, under.condition, expected};
        if (is_turned) std::swap(reading.from, reading.to);
        if (is_certain(under, reading)) return Found{Fate::left_out, WhyHidden::none, reading};
        if (found->fate == Fate::hidden) found = Found{Fate::uncertain, WhyHidden::none, reading};
      }
    }
  return found ? found : Found{Fate::hidden, WhyHidden::same_copper, {}};
}

/// From cathode to anode first, where a diode that is fitted as drawn blocks.
std::optional<Changes::Found> Changes::find_through_load(const Under& under, const Fault& fault) const {
  const PointId a = graph_.end_a(fault.element), b = graph_.end_b(fault.element);
  if (!is_there(a, under.condition) || !is_there(b, under.condition))
    return Found{Fate::hidden, WhyHidden::no_probe_point, {}};
  if (under.drawn.net(a) == under.drawn.net(b)) return Found{Fate::hidden, WhyHidden::same_copper, {}};
  const ValueKind expected = graph_.is_diode(fault.element) ? ValueKind::open : ValueKind::ohms;
  const ProposedReading reading{b, a, under.condition, expected};
  const ProposedReading turned{a, b, under.condition, expected};
  for (const ProposedReading& one : {reading, turned})
    if (is_certain(under, one)) return Found{Fate::left_out, WhyHidden::none, one};
  return Found{Fate::uncertain, WhyHidden::none, reading};
}

/// Copper of a wrong value stays copper, so that only its ohms tell, unless other copper runs beside it.
std::optional<Changes::Found> Changes::find_in_joint(const Under& under, const Fault& fault) const {
  const PointId a = graph_.end_a(fault.element), b = graph_.end_b(fault.element);
  Found found{Fate::hidden, WhyHidden::same_copper, {}};
  for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)}) {
    const ProposedReading by_buzzer{from, to, under.condition, ValueKind::beep};
    if (is_certain(under, by_buzzer)) return Found{Fate::left_out, WhyHidden::none, by_buzzer};
    const ProposedReading in_ohms{from, to, under.condition, ValueKind::ohms};
    const OhmInterval drawn = shown(under.drawn, in_ohms), faulty = shown(under.faulty, in_ohms);
    if (are_apart(drawn, faulty)) return Found{Fate::left_out, WhyHidden::none, in_ohms};
    if (faulty.hi > drawn.hi) found = {Fate::uncertain, WhyHidden::none, in_ohms};
  }
  return found;
}

OhmInterval Changes::shown(const View& view, const ProposedReading& reading) const {
  return shown_ohms(expected_resistance(view, probing_of(reading)),
                    consistency_.comparison().meters.unnamed());
}

bool Changes::is_certain(const ProposedReading& reading, const Fault& fault) const {
  Overlay with = consistency_.comparison().conditions.overlays[reading.condition].overlay;
  apply(fault, graph_, with);
  const View faulty(graph_, with);
  return is_certain(Under{reading.condition, consistency_.drawn_view(reading.condition), faulty, {}, {}},
                    reading);
}

/// The drawing lets the meter show one thing only, and the fault makes that impossible.
bool Changes::is_certain(const Under& under, const ProposedReading& reading) const {
  if (reading.expected == ValueKind::ohms)
    return are_apart(shown(under.drawn, reading), shown(under.faulty, reading));
  const MeterSettings& meter = consistency_.comparison().meters.unnamed();
  const Probing probing = probing_of(reading);
  return judge(under.drawn, probing, meter) == Verdict::agrees &&
         !Judge(under.faulty).is_possible(probing, meter);
}

}  // namespace ringtrue
