#include "fault_sets.hpp"

#include <utility>

namespace ringtrue {

namespace {

bool is_joint(const Fault& fault) {
  return fault.kind == FaultKind::short_circuit || fault.kind == FaultKind::extra_bridge;
}
/// Takes a whole element, and so both of its ends.
bool takes_elements(const Fault& fault) {
  return fault.kind == FaultKind::open || fault.kind == FaultKind::missing_bridge ||
         fault.kind == FaultKind::wrong_contact || fault.kind == FaultKind::reversed ||
         fault.kind == FaultKind::wrong_value;
}

using UsedEnd = std::pair<ElementId, End>;

std::vector<UsedEnd> used_ends(const Fault& fault, const ConductionGraph& graph) {
  std::vector<UsedEnd> ends;
  if (takes_elements(fault)) {
    for (const ElementId e : {fault.element, fault.element2})
      if (e != ElementId::none) ends.insert(ends.end(), {{e, End::a}, {e, End::b}});
    return ends;
  }
  for (const LandedEnd& landed : landed_ends(fault, graph)) ends.emplace_back(landed.conductor, landed.end);
  return ends;
}

}  // namespace

bool is_compatible(const Fault& fault, std::span<const Fault> faults, const Landing& landing) {
  if (faults.empty()) return true;
  if (fault.kind == FaultKind::bad_reading) return !is_set_aside(faults, fault.reading);
  if (is_joint(fault)) {
    const auto blocks = [&](const Fault& f) { return std::minmax({landing.block(f.p), landing.block(f.q)}); };
    return std::none_of(faults.begin(), faults.end(),
                        [&](const Fault& held) { return is_joint(held) && blocks(held) == blocks(fault); });
  }
  const std::vector<UsedEnd> own = used_ends(fault, landing.graph());
  return std::none_of(faults.begin(), faults.end(), [&](const Fault& held) {
    if (is_joint(held) || held.kind == FaultKind::bad_reading) return false;
    const std::vector<UsedEnd> ends = used_ends(held, landing.graph());
    return std::find_first_of(own.begin(), own.end(), ends.begin(), ends.end()) != own.end();
  });
}

Fault miswire_fault(ElementId e, End end, PointId found) {
  Fault fault;
  fault.kind = FaultKind::miswire;
  fault.element = e, fault.end = end, fault.p = found;
  return fault;
}

Fault swap_fault(ElementId e, End end, ElementId f, End f_end) {
  Fault fault;
  fault.kind = FaultKind::swap;
  fault.element = e, fault.end = end, fault.element2 = f, fault.end2 = f_end;
  if (f < e) std::swap(fault.element, fault.element2), std::swap(fault.end, fault.end2);
  return fault;
}

Fault element_fault(FaultKind kind, ElementId e) {
  Fault fault;
  fault.kind = kind;
  fault.element = e;
  return fault;
}

Fault joint_value_fault(ElementId e, bool above) {
  Fault fault = element_fault(FaultKind::wrong_value, e);
  fault.above = above;
  return fault;
}

Fault contact_fault(ElementId contact, const Landing& landing) {
  Fault fault = element_fault(FaultKind::wrong_contact, contact);
  fault.element2 = landing.other_contact(contact);
  if (fault.element2 != ElementId::none && fault.element2 < contact) std::swap(fault.element, fault.element2);
  return fault;
}

Fault joint_fault(PointId p, PointId q, const Landing& landing) {
  Fault fault;
  fault.kind = landing.join_kind(p, q);
  fault.p = std::min(p, q), fault.q = std::max(p, q);
  return fault;
}

Fault bad_reading_fault(ReadingId reading) {
  Fault fault;
  fault.kind = FaultKind::bad_reading;
  fault.reading = reading;
  return fault;
}

void Collector::drop_twins() {
  std::sort(found_.begin(), found_.end(), [](const Candidate& x, const Candidate& y) {
    return x.cost != y.cost ? x.cost < y.cost : x.fault < y.fault;
  });
  const auto same = [](const Candidate& x, const Candidate& y) { return x.fault == y.fault; };
  found_.erase(std::unique(found_.begin(), found_.end(), same), found_.end());
  kept_ = found_.size();
  is_full_ = kept_ > most_;
}

std::vector<Candidate> Collector::take() {
  drop_twins();
  return std::move(found_);
}

}  // namespace ringtrue
