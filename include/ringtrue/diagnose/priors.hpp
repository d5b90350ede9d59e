#pragma once
#include <span>
#include <string_view>

#include "ringtrue/diagnose/fault.hpp"

namespace ringtrue {

/// Prior probabilities of faults, per place where they can happen; one table for the whole tool. No measured
/// frequencies of panel wiring mistakes are published that we know of: all are estimates, in the order in
/// which such mistakes are told of and easy to make. `prior_rows` says what each counts, and per what.
struct Priors {
  double open_conductor = 1e-3;
  double open_element = 2e-4;
  double blown_fuse = 2e-3;
  double missing_bridge = 1e-3;
  double wrong_contact = 1e-3;
  double reversed_diode = 5e-3;
  double wrong_load = 2e-4;
  double bad_joint = 2e-4;
  double miswire_neighbour = 5e-4;
  double miswire_strip = 1e-4;
  double miswire_elsewhere = 1e-5;
  double swap_neighbours = 5e-4;
  double swap_strip = 5e-5;
  double swap_elsewhere = 1e-5;
  double shifted_run = 1e-6;
  double exchanged_connectors = 1e-4;
  double extra_bridge = 3e-4;
  double short_of_neighbours = 1e-4;
  double short_circuit = 1e-6;
  double bad_reading = 4e-4;
  double bad_value = 5e-5;
};

/// A row of the table of priors.
struct PriorRow {
  std::string_view name;
  FaultKind kind;  ///< of the faults that it prices
  double Priors::*value;
  std::string_view counts;  ///< what it stands for, and per what
  std::string_view source;
};

/// Every prior, in the order of `Priors`.
[[nodiscard]] std::span<const PriorRow> prior_rows();

/// Of the element not conducting: a bridge missing, a fuse blown, anything else open.
[[nodiscard]] double prior_of_open(ElementId e, const ConductionGraph& graph, const Priors& priors);

/// -ln(p / (1 - p)).
[[nodiscard]] double cost_of_prior(double prior);

}  // namespace ringtrue
