#include "candidates.hpp"

#include <algorithm>
#include <unordered_map>
#include <unordered_set>

#include "crossing.hpp"
#include "cut.hpp"
#include "ringtrue/expect/currents.hpp"
#include "ringtrue/expect/load_nets.hpp"

namespace ringtrue {

std::vector<Candidate> Candidates::branch_set(std::span<const Fault> faults, ReadingId reading,
                                              double max_cost, Reach reach, std::size_t most) const {
  const Overlay overlay = consistency_.overlay(faults, reading);
  const View view(graph_, overlay);
  const Probing& probing = consistency_.probing(reading);
  const MeterSettings& meter = consistency_.meter(reading);
  Collector into(faults, max_cost, most, landing_);
  into.add(bad_reading_fault(reading), reading_costs_.of(reading));
  const OhmInterval seen = seen_ohms(probing, meter);
  // One of the two ends is out of reach; which, the value tells for all but a value in ohms.
  const bool is_too_low = probing.value.kind != ValueKind::ohms
                              ? probing.value.kind != ValueKind::beep
                              : expected_resistance(view, probing).hi < seen.lo;
  if (is_too_low)
    raise(view, probing, seen.lo, into);
  else
    lower(view, probing, seen.hi, reach, into);
  return into.take();
}

// --- what raises a resistance -----------------------------------------------------------------------------

void Candidates::raise(const View& view, const Probing& probing, Ohms limit, Collector& into) const {
  for (const ElementId e : elements_that_hold_down(view, probing, limit)) raise_element(e, into);
}

/// Everything by which an element's resistance can rise.
void Candidates::raise_element(ElementId e, Collector& into) const {
  into.add(element_fault(landing_.open_kind(e), e), costs_.open(e));
  if (landing_.can_be_of_wrong_value(e))
    into.add(element_fault(FaultKind::wrong_value, e), costs_.wrong_value(e));
  if (graph_.is_hard(e) && consistency_.is_read_in_ohms(e))
    for (const bool above : {false, true}) into.add(joint_value_fault(e, above), costs_.wrong_value(e));
  if (graph_.is_diode(e)) into.add(element_fault(FaultKind::reversed, e), costs_.reversed());
  if (graph_.kind(e) == ElementKind::contact && landing_.can_be_exchanged(e))
    into.add(contact_fault(e, landing_), costs_.contact());
  if (!landing_.is_movable(e)) return;
  for (const End end : {End::a, End::b}) move_away(e, end, into);
}

void Candidates::move_away(ElementId e, End end, Collector& into) const {
  const PointId drawn = landing_.drawn(e, end);
  const auto anywhere = [](PointId) { return true; };
  moves_.for_each_landing(drawn, into.max_cost(), anywhere,
                          [&](PointId found, double cost) { into.add(miswire_fault(e, end, found), cost); });
  moves_.for_each_swap(drawn, into.max_cost(), [&](ElementId f, End f_end, double cost) {
    if (f != e) into.add(swap_fault(e, end, f, f_end), cost);
  });
  if (costs_.least_shift() > into.max_cost() || !is_wire_in_panel(e, graph_)) return;
  for (const Fault& shift : landing_.shifts_of(drawn)) into.add(shift, costs_.shift(shift));
}

// --- what lowers it ---------------------------------------------------------------------------------------

void Candidates::lower(const View& view, const Probing& probing, Ohms limit, Reach reach,
                       Collector& into) const {
  auto cut = Cut::around(view, probing, &Probing::from, limit, CutValues::lowest);
  auto other_cut = Cut::around(view, probing, &Probing::to, limit, CutValues::lowest);
  PointId Probing::*far_lead = &Probing::to;
  if (!cut || (other_cut && other_cut->points().size() < cut->points().size())) {
    std::swap(cut, other_cut);
    far_lead = &Probing::from;
  }
  if (!cut && reach == Reach::alone) return lower_between_potentials(view, probing, limit, into);
  if (!cut) cut = Cut::of_all_joined(view, probing, far_lead == &Probing::to ? &Probing::from : &Probing::to);
  if (!cut) return lower_anywhere(view, probing, into);
  const std::vector<NetId> far = nets_under(view, probing, far_lead);
  const bool are_apart = other_cut && std::none_of(other_cut->nets().begin(), other_cut->nets().end(),
                                                   [&](NetId net) { return cut->holds(net); });
  // Where a joint from the cut may do alone: in a cut around the other probe, else where the cut would be
  // none any more with that net in it.
  std::unordered_map<NetId, bool> may_do;
  const Membership in_reach = [&](PointId p) {
    const NetId net = view.net(p);
    if (cut->holds(net)) return false;
    if (are_apart) return other_cut->holds(net);
    const auto [at, is_new] = may_do.try_emplace(net, false);
    if (is_new) at->second = std::find(far.begin(), far.end(), net) != far.end() || !cut->bears(net);
    return at->second;
  };
  const Membership is_outside = [&](PointId p) { return !cut->holds(p); };
  const Membership& in_t = reach == Reach::alone ? in_reach : is_outside;
  Crossing crossing(view, landing_, costs_, in_t, is_outside, into);
  const std::vector<PointId> inside = cut->points();
  crossing.from(inside);
  crossing.shifts_from(inside);
  for (const ElementId load : cut->loads_out())
    if (in_t(graph_.end_a(load)) || in_t(graph_.end_b(load))) lower_load(load, into);
}

/// What may bring the resistance down alone, by where the potentials at the lowest values allow it.
void Candidates::lower_between_potentials(const View& view, const Probing& probing, Ohms limit,
                                          Collector& into) const {
  const JointPlaces places = places_that_lower(view, probing, limit);
  const Membership at_black = [&](PointId p) {
    return std::binary_search(places.at_black.begin(), places.at_black.end(), p);
  };
  const Membership anywhere = [](PointId) { return true; };
  Crossing crossing(view, landing_, costs_, at_black, anywhere, into);
  crossing.from(places.at_red);
  crossing.shifts_from(places.all_at_red);
  for (const ElementId load : places.loads) lower_load(load, into);
  // A diode that blocks is not among them; turned round it's a joint like others.
  for (const PointId p : places.all_at_red)
    for (const ElementId e : graph_.elements_at(p))
      if (graph_.is_diode(e) &&
          std::binary_search(places.all_at_black.begin(), places.all_at_black.end(), graph_.other_end(e, p)))
        lower_load(e, into);
}

/// Everything that may bring down the resistance between probes around which there is no cut.
void Candidates::lower_anywhere(const View& view, const Probing& probing, Collector& into) const {
  std::unordered_set<NetId> nets;
  for (PointId Probing::*lead : {&Probing::from, &Probing::to})
    for (const NetId probed : nets_under(view, probing, lead))
      for (const NetId net : nets_joined_by_loads(view, probed)) nets.insert(net);
  const Membership anywhere = [](PointId) { return true; };
  const std::vector<PointId> inside = points_of(view, nets);
  Crossing crossing(view, landing_, costs_, anywhere, anywhere, into);
  crossing.from(inside);
  crossing.shifts_from(inside);
  for (const PointId p : inside)
    for (const ElementId e : graph_.elements_at(p))
      if (!graph_.is_hard(e)) lower_load(e, into);
}

void Candidates::lower_load(ElementId e, Collector& into) const {
  if (landing_.can_be_of_wrong_value(e))
    into.add(element_fault(FaultKind::wrong_value, e), costs_.wrong_value(e));
  if (graph_.is_diode(e)) into.add(element_fault(FaultKind::reversed, e), costs_.reversed());
}

}  // namespace ringtrue
