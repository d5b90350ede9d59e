#include "candidates.hpp"

#include <algorithm>
#include <optional>
#include <span>
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
  // A run of wires is so rare that it mostly leaves no room for a further fault.
  const bool is_last = reach == Reach::alone || costs_.run() + costs_.least() > max_cost;
  Shifts shifts(landing_, consistency_, faults, reading,
                costs_.run() > max_cost ? Shifts::Runs::none
                : is_last               ? Shifts::Runs::last_of_faults
                                        : Shifts::Runs::all);
  into.add(bad_reading_fault(reading), reading_costs_.of(reading));
  const OhmInterval seen = seen_ohms(probing, meter);
  // One of the two ends is out of reach; which, the value tells for all but a value in ohms.
  const bool is_too_low = probing.value.kind != ValueKind::ohms
                              ? probing.value.kind != ValueKind::beep
                              : expected_resistance(view, probing).hi < seen.lo;
  if (is_too_low)
    raise(view, probing, seen.lo, shifts, into);
  else
    lower(view, probing, seen.hi, reach, shifts, into);
  return into.take();
}

// --- what raises a resistance -----------------------------------------------------------------------------

void Candidates::raise(const View& view, const Probing& probing, Ohms limit, Shifts& shifts,
                       Collector& into) const {
  for (const ElementId e : elements_that_hold_down(view, probing, limit)) raise_element(e, shifts, into);
}

/// Everything by which an element's resistance can rise.
void Candidates::raise_element(ElementId e, Shifts& shifts, Collector& into) const {
  into.add(element_fault(landing_.open_kind(e), e), costs_.open(e));
  if (landing_.can_be_of_wrong_value(e))
    into.add(element_fault(FaultKind::wrong_value, e), costs_.wrong_value(e));
  if (graph_.is_hard(e) && consistency_.is_read_in_ohms(e))
    for (const bool above : {false, true}) into.add(joint_value_fault(e, above), costs_.wrong_value(e));
  if (graph_.is_diode(e)) into.add(element_fault(FaultKind::reversed, e), costs_.reversed());
  if (graph_.kind(e) == ElementKind::contact && landing_.can_be_exchanged(e))
    into.add(contact_fault(e, landing_), costs_.contact());
  if (!landing_.is_movable(e)) return;
  for (const End end : {End::a, End::b}) move_away(e, end, shifts, into);
}

void Candidates::move_away(ElementId e, End end, Shifts& shifts, Collector& into) const {
  const PointId drawn = landing_.drawn(e, end);
  const auto anywhere = [](PointId) { return true; };
  moves_.for_each_landing(drawn, into.max_cost(), anywhere, nullptr,
                          [&](PointId found, double cost) { into.add(miswire_fault(e, end, found), cost); });
  moves_.for_each_swap(drawn, into.max_cost(), nullptr, [&](ElementId f, End f_end, double cost) {
    if (f != e) into.add(swap_fault(e, end, f, f_end), cost);
  });
  if (costs_.least_shift() > into.max_cost() || !is_wire_in_panel(e, graph_)) return;
  for (const Fault& shift : shifts.of(drawn)) into.add(shift, costs_.shift(shift));
}

// --- what lowers it ---------------------------------------------------------------------------------------

namespace {

/// What joints across a cut may bring the resistance to the limit alone: they lead into a cut around the
/// other probe, if there is one apart from it, else to where the cut would be none any more with their far
/// nets in it.
class AcrossCut {
 public:
  AcrossCut(const View& view, const Cut& cut, const std::optional<Cut>& other, std::vector<NetId> far)
      : view_(view), cut_(cut), other_(other), far_(std::move(far)) {
    are_apart_ = other && std::none_of(other->nets().begin(), other->nets().end(),
                                       [&](NetId net) { return cut.holds(net); });
  }

  /// All that some joint of each fault has to have an end on: the cut around the other probe.
  [[nodiscard]] std::optional<FarSide> far_side(const Landing& landing) const {
    if (!are_apart_) return std::nullopt;
    return FarSide(view_, landing, other_->points());
  }
  /// The far end of a joint from inside.
  [[nodiscard]] bool may_end(PointId p) {
    const NetId net = view_.net(p);
    if (cut_.holds(net)) return false;
    return are_apart_ ? other_->holds(net) : may_bring_in({&net, 1});
  }
  /// Several joints at once, of which one leads out.
  [[nodiscard]] bool may_do(std::span<const Joint> joints) {
    if (are_apart_)
      return std::any_of(joints.begin(), joints.end(), [this](const Joint& joint) {
        return other_->holds(joint.p) != other_->holds(joint.q);
      });
    nets_.clear();
    for (const Joint& joint : joints)
      for (const PointId p : {joint.p, joint.q})
        if (const NetId net = view_.net(p); !cut_.holds(net)) nets_.push_back(net);
    std::sort(nets_.begin(), nets_.end());
    nets_.erase(std::unique(nets_.begin(), nets_.end()), nets_.end());
    return may_bring_in(nets_);
  }

 private:
  [[nodiscard]] bool may_bring_in(std::span<const NetId> nets) {
    double siemens = 0;
    for (const NetId net : nets) {
      if (std::find(far_.begin(), far_.end(), net) != far_.end()) return true;
      const auto [at, is_new] = siemens_out_.try_emplace(net, 0);
      if (is_new) at->second = cut_.siemens_out(net);
      siemens += at->second;
    }
    return !cut_.bears(siemens);
  }

  const View& view_;
  const Cut& cut_;
  const std::optional<Cut>& other_;
  std::vector<NetId> far_;
  bool are_apart_ = false;
  std::unordered_map<NetId, double> siemens_out_;
  std::vector<NetId> nets_;  ///< room to work in
};

bool whatever(std::span<const Joint> /*joints*/) { return true; }

}  // namespace

void Candidates::lower(const View& view, const Probing& probing, Ohms limit, Reach reach, Shifts& shifts,
                       Collector& into) const {
  auto cut = Cut::around(view, probing, &Probing::from, limit, CutValues::lowest);
  auto other_cut = Cut::around(view, probing, &Probing::to, limit, CutValues::lowest);
  PointId Probing::*far_lead = &Probing::to;
  if (!cut || (other_cut && other_cut->points().size() < cut->points().size())) {
    std::swap(cut, other_cut);
    far_lead = &Probing::from;
  }
  const bool is_alone = reach == Reach::alone;
  if (!cut && is_alone) return lower_at_once(view, probing, limit, shifts, into);
  if (!cut) cut = Cut::of_all_joined(view, probing, far_lead == &Probing::to ? &Probing::from : &Probing::to);
  if (!cut) return lower_anywhere(view, probing, shifts, into);
  std::optional<LoweringJoints> joints;
  if (is_alone) joints.emplace(view, probing, limit);
  AcrossCut across(view, *cut, other_cut, nets_under(view, probing, far_lead));
  const Membership is_outside = [&](PointId p) { return !cut->holds(p); };
  const Membership in_t = [&](PointId p) { return is_alone ? across.may_end(p) : !cut->holds(p); };
  const MayDo may_do = [&](std::span<const Joint> made) {
    return !is_alone || (joints->may_do(made) && (made.size() == 1 || across.may_do(made)));
  };
  const std::optional<FarSide> far = is_alone ? across.far_side(landing_) : std::nullopt;
  Crossing crossing(view, landing_, costs_, in_t, is_outside, may_do, far ? &*far : nullptr, into);
  const std::vector<PointId> inside = cut->points();
  crossing.singly_from(inside);
  crossing.swaps_from(inside);
  crossing.shifts_from(inside, shifts);
  for (const ElementId load : cut->loads_out())
    if (in_t(graph_.end_a(load)) || in_t(graph_.end_b(load))) lower_load(load, into);
}

/// What may bring the resistance down alone, by where potentials or loads at their lowest values allow it.
void Candidates::lower_at_once(const View& view, const Probing& probing, Ohms limit, Shifts& shifts,
                               Collector& into) const {
  const LoweringJoints joints(view, probing, limit);
  const auto points = [&](const std::vector<NetId>& nets) {
    return points_of(view, {nets.begin(), nets.end()});
  };
  const MayDo may_do = [&](std::span<const Joint> made) { return joints.may_do(made); };
  const Membership may_end = [&](PointId p) { return joints.may_end(p); };
  const Membership is_of_panel = [this](PointId p) { return index(p) < graph_.point_count(); };
  Crossing crossing(view, landing_, costs_, may_end, is_of_panel, may_do, nullptr, into);
  crossing.singly_from(points(joints.starts(1)));
  crossing.swaps_from(points(joints.starts(2)));
  const std::vector<PointId> all = points(joints.nets());
  crossing.shifts_from(all, shifts);
  for (const ElementId load : joints.loads()) lower_load(load, into);
  // A diode that blocks is not among them; turned round it's a joint like others.
  for (const PointId p : all)
    for (const ElementId e : graph_.elements_at(p))
      if (const Joint turned{p, graph_.other_end(e, p)}; graph_.is_diode(e) && joints.may_do({&turned, 1}))
        lower_load(e, into);
}

/// Everything that may bring down the resistance between probes around which there is no cut.
void Candidates::lower_anywhere(const View& view, const Probing& probing, Shifts& shifts,
                                Collector& into) const {
  std::unordered_set<NetId> nets;
  for (PointId Probing::*lead : {&Probing::from, &Probing::to})
    for (const NetId probed : nets_under(view, probing, lead))
      for (const NetId net : nets_joined_by_loads(view, probed)) nets.insert(net);
  const Membership anywhere = [](PointId) { return true; };
  const std::vector<PointId> inside = points_of(view, nets);
  Crossing crossing(view, landing_, costs_, anywhere, anywhere, whatever, nullptr, into);
  crossing.singly_from(inside);
  crossing.swaps_from(inside);
  crossing.shifts_from(inside, shifts);
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
