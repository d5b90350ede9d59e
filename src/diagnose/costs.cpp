#include "costs.hpp"

#include <algorithm>

namespace ringtrue {

Costs::Costs(const Landing& landing, const Priors& priors)
    : landing_(landing),
      graph_(landing.graph()),
      priors_(priors),
      contact_(cost_of_prior(priors.wrong_contact)),
      reversed_(cost_of_prior(priors.reversed_diode)),
      run_(cost_of_prior(priors.shifted_run)),
      connectors_(cost_of_prior(priors.exchanged_connectors)),
      extra_bridge_(cost_of_prior(priors.extra_bridge)),
      short_of_neighbours_(cost_of_prior(priors.short_of_neighbours)),
      short_(cost_of_prior(priors.short_circuit)) {
  double likeliest = 0;
  for (const PriorRow& row : prior_rows()) likeliest = std::max(likeliest, priors.*row.value);
  least_ = cost_of_prior(likeliest);
}

double Costs::open(ElementId e) const { return cost_of_prior(prior_of_open(e, graph_, priors_)); }

double Costs::wrong_value(ElementId e) const {
  return cost_of_prior(graph_.is_hard(e) ? priors_.bad_joint : priors_.wrong_load);
}

double Costs::miswire(PointId drawn, Nearness nearness) const {
  switch (nearness) {
    case Nearness::neighbour:
      return cost_of_prior(priors_.miswire_neighbour);
    case Nearness::same_part:
      return cost_of_prior(priors_.miswire_strip / static_cast<double>(landing_.points_beside(drawn).size()));
    case Nearness::elsewhere:
      return cost_of_prior(priors_.miswire_elsewhere / static_cast<double>(graph_.net_count()));
  }
  return 0;
}

double Costs::swap(PointId one, Nearness nearness) const {
  switch (nearness) {
    case Nearness::neighbour:
      return cost_of_prior(priors_.swap_neighbours);
    case Nearness::same_part:
      return cost_of_prior(priors_.swap_strip / static_cast<double>(landing_.points_beside(one).size()));
    case Nearness::elsewhere:
      return cost_of_prior(priors_.swap_elsewhere / (2.0 * graph_.conductor_count()));
  }
  return 0;
}

double Costs::join(PointId p, PointId q) const {
  if (landing_.nearness(p, q) != Nearness::neighbour) return short_;
  return landing_.join_kind(p, q) == FaultKind::extra_bridge ? extra_bridge_ : short_of_neighbours_;
}

double Costs::least_miswire(Nearness nearness) const {
  return cost_of_prior(nearness == Nearness::neighbour ? priors_.miswire_neighbour : priors_.miswire_strip);
}
double Costs::least_swap(Nearness nearness) const {
  return cost_of_prior(nearness == Nearness::neighbour ? priors_.swap_neighbours : priors_.swap_strip);
}

double Costs::of(const Fault& fault) const {
  switch (fault.kind) {
    case FaultKind::open:
    case FaultKind::missing_bridge:
      return open(fault.element);
    case FaultKind::wrong_contact:
      return contact_;
    case FaultKind::reversed:
      return reversed_;
    case FaultKind::wrong_value:
      return wrong_value(fault.element);
    case FaultKind::miswire: {
      const PointId from = landing_.drawn(fault.element, fault.end);
      return miswire(from, landing_.nearness(from, fault.p));
    }
    case FaultKind::swap: {
      const PointId one = landing_.drawn(fault.element, fault.end);
      return swap(one, landing_.nearness(one, landing_.drawn(fault.element2, fault.end2)));
    }
    case FaultKind::shift:
      return shift(fault);
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      return join(fault.p, fault.q);
    case FaultKind::bad_reading:
      return cost_of_prior(priors_.bad_reading);
  }
  return 0;
}

ReadingCosts::ReadingCosts(const Landing& landing, const Comparison& comparison, const Readings& readings,
                           const Priors& priors)
    : landing_(landing),
      comparison_(comparison),
      readings_(readings),
      bad_reading_(cost_of_prior(priors.bad_reading)),
      bad_value_(cost_of_prior(priors.bad_value)) {}

double ReadingCosts::of(ReadingId reading) const {
  const auto [at, is_new] = known_.try_emplace(reading);
  if (is_new) {
    const ValueKind kind = comparison_.probings[index(reading)].value.kind;
    const bool is_silent = kind == ValueKind::open || kind == ValueKind::over_range;
    at->second = is_silent || is_as_drawn_beside(reading) ? bad_reading_ : bad_value_;
  }
  return at->second;
}

bool ReadingCosts::is_as_drawn_beside(ReadingId reading) const {
  const ConductionGraph& graph = landing_.graph();
  const Probing& taken = comparison_.probings[index(reading)];
  const View view(graph, comparison_.conditions.overlays[readings_.rows[index(reading)].condition].overlay);
  for (PointId Probing::*lead : {&Probing::from, &Probing::to}) {
    if (index(taken.*lead) >= graph.point_count()) continue;
    for (const PointId beside : landing_.neighbours(taken.*lead)) {
      Probing moved = taken;
      moved.*lead = beside;
      if (beside != PointId::none && moved.from != moved.to &&
          judge(view, moved, comparison_.meters.of(reading)) != Verdict::disagrees)
        return true;
    }
  }
  return false;
}

}  // namespace ringtrue
