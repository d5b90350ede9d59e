#include "ringtrue/logic/drive.hpp"

#include <algorithm>
#include <array>

#include "logic/pairs.hpp"
#include "logic/search.hpp"

namespace ringtrue::logic {

namespace {

bool is_stop_circuit(Role role) { return role == Role::stop || role == Role::guard; }

/// The slice of the output together with the outputs that its inputs follow.
void slice_with_followed(Drive& drive, const Program& program, const ConductionGraph& graph,
                         const Fittings& fittings) {
  std::vector<std::uint32_t> wanted = {drive.output};
  for (std::size_t before = 0; before < wanted.size();) {
    before = wanted.size();
    drive.slice = slice_of(program, wanted);
    drive.sources = sources_of(drive.slice, graph, fittings);
    for (const Source& source : drive.sources)
      if (source.how == How::follow && std::find(wanted.begin(), wanted.end(), source.output) == wanted.end())
        wanted.push_back(source.output);
  }
}

/// Inputs of stop and guard circuits as they are once real devices have closed these.
std::vector<Source> closed_circuits(std::vector<Source> sources) {
  for (Source& source : sources)
    if (source.how == How::hold && is_stop_circuit(source.role))
      source.options = {{source.options.front().front() > 0.5 ? 0.0 : 1.0}};
  return sources;
}

std::vector<std::vector<double>> any_value(const Program& slice, std::uint32_t variable,
                                           const Netlist& netlist, const Fittings& fittings) {
  const Variable& drawn = slice.variables[variable];
  if (drawn.kind != VariableKind::analog) return {{0}, {1}};
  std::vector<std::vector<double>> options;
  const Channel& channel = netlist.channels[drawn.channel];
  for (const double value : values_to_try(slice, variable, channel, fittings.sheets[drawn.channel]))
    options.push_back({value});
  return options;
}

/// What is held let go, as nobody does here.
std::vector<Source> let_go(std::vector<Source> sources, const Program& slice, const Netlist& netlist,
                           const Fittings& fittings) {
  for (Source& source : sources)
    if (source.how == How::hold) {
      source.how = How::operate;
      source.options = any_value(slice, source.variables.front(), netlist, fittings);
    }
  return sources;
}

/// Every input by itself, selectors taken apart and held ones let go.
std::vector<Source> freed(const std::vector<Source>& sources, const Program& slice, const Netlist& netlist,
                          const Fittings& fittings) {
  std::vector<Source> free;
  for (const Source& source : sources)
    for (const std::uint32_t variable : source.variables) {
      Source one;
      one.how = How::operate;
      one.variables = {variable};
      one.options = any_value(slice, variable, netlist, fittings);
      free.push_back(std::move(one));
    }
  return free;
}

struct Found {
  std::vector<Step> steps;
  bool turns_on = false, turns_off = false, is_whole = true, is_exact = true, oscillates = false;
};

Found on_and_off(const Drive& drive, const std::vector<Source>& sources, const DriveLimits& limits) {
  Machine machine(drive.slice, sources, drive.output);
  Walk walk(machine, limits, true);
  Found found;
  while (const auto at = walk.next()) {
    const Moment& moment = walk.moment(*at);
    if (moment.is_on() && !found.turns_on) {
      found.turns_on = true;
      found.steps = walk.steps_to(*at);
    }
    if (moment.has_been_on && !moment.is_on()) {
      found.turns_off = true;
      found.steps = walk.steps_to(*at);
      break;
    }
  }
  found.is_whole = walk.is_whole() || found.turns_off;
  found.is_exact = walk.is_exact();
  found.oscillates = walk.oscillates();
  return found;
}

void take(Drive& drive, Found found) {
  drive.steps = std::move(found.steps);
  drive.turns_on = found.turns_on;
  drive.turns_off = found.turns_off;
  drive.is_whole = found.is_whole;
  drive.is_exact_order = found.is_exact;
  drive.oscillates = found.oscillates;
}

}  // namespace

std::string_view word(NoPair cause) {
  constexpr std::array<std::string_view, 5> k_words = {"masked", "coupled", "held", "unreachable",
                                                       "not-searched"};
  return k_words.at(static_cast<std::size_t>(cause));
}

std::string_view word(DriveVerdict verdict) {
  constexpr std::array<std::string_view, 5> k_words = {"drivable", "substitute", "not-testable",
                                                       "unreachable", "no-logic"};
  return k_words.at(static_cast<std::size_t>(verdict));
}

namespace {

/// Pairs, with the sources as for the steps; for inputs that these leave undecided also with the stop and
/// guard circuits closed.
void decide(Drive& drive, const Netlist& netlist, const Fittings& fittings, const DriveLimits& limits) {
  const std::vector<Source> free = freed(drive.sources, drive.slice, netlist, fittings);
  const auto find = [&](const std::vector<Source>& sources, const std::vector<std::uint32_t>& inputs) {
    const bool has_held =
        std::any_of(sources.begin(), sources.end(), [](const Source& s) { return s.how == How::hold; });
    FoundPairs found = find_pairs({drive.slice, drive.output, sources, free, has_held, limits}, inputs);
    drive.is_whole &= found.is_whole;
    drive.oscillates |= found.oscillates;
    return std::move(found.set);
  };
  drive.deciding = find(drive.sources, {});
  if (drive.verdict != DriveVerdict::drivable) return;
  const std::vector<Source> closed = closed_circuits(drive.sources);
  const bool has_circuit = std::any_of(closed.begin(), closed.end(), [](const Source& source) {
    return source.how == How::hold && is_stop_circuit(source.role);
  });
  std::vector<std::uint32_t> undecided;
  for (const Unpaired& unpaired : drive.deciding.unpaired)
    for (const Source& source : drive.sources)
      if (source.how != How::hold && source.how != How::follow &&
          std::find(source.variables.begin(), source.variables.end(), unpaired.variable) !=
              source.variables.end())
        undecided.push_back(unpaired.variable);
  if (!has_circuit || undecided.empty()) return;
  if (PairSet with_box = find(closed, undecided); !with_box.pairs.empty())
    drive.with_box = std::move(with_box);
}

void find_orders(const Drive& drive, PairSet& set) {
  Machine machine(drive.slice, set.sources, drive.output);
  for (Trial& test : set.tests) {
    find_orders(machine, {}, test.prior);
    find_orders(machine, test.prior, test.steps);
  }
}

}  // namespace

Drive drive_output(const Program& program, std::uint32_t output, const ConductionGraph& graph,
                   const Fittings& fittings, const DriveLimits& limits) {
  Drive drive;
  drive.output = output;
  const auto assigns = [&](const Statement& statement) { return statement.variable == output; };
  slice_with_followed(drive, program, graph, fittings);
  if (std::none_of(program.statements.begin(), program.statements.end(), assigns)) return drive;
  for (const Source& source : drive.sources) {
    if (source.role != Role::none)
      drive.needs.insert(drive.needs.end(), source.variables.begin(), source.variables.end());
    if (source.is_refused)
      drive.refused.insert(drive.refused.end(), source.variables.begin(), source.variables.end());
  }

  take(drive, on_and_off(drive, drive.sources, limits));
  drive.verdict = drive.turns_off ? DriveVerdict::drivable : DriveVerdict::unreachable;
  if (!drive.turns_off && (!drive.needs.empty() || !drive.refused.empty())) {
    std::vector<Source> closed = closed_circuits(drive.sources);
    if (Found found = on_and_off(drive, closed, limits); found.turns_off) {
      drive.sources = std::move(closed);
      take(drive, std::move(found));
      drive.verdict = DriveVerdict::substitute;
    } else if (on_and_off(drive, let_go(drive.sources, drive.slice, graph.netlist(), fittings), limits)
                   .turns_off) {
      drive.verdict = DriveVerdict::not_testable;
    }
  }
  if (drive.verdict == DriveVerdict::drivable || drive.verdict == DriveVerdict::substitute)
    decide(drive, graph.netlist(), fittings, limits);
  else
    drive.deciding.sources = drive.sources;
  Machine machine(drive.slice, drive.sources, drive.output);
  find_orders(machine, {}, drive.steps);
  find_orders(drive, drive.deciding);
  if (drive.with_box) find_orders(drive, *drive.with_box);
  return drive;
}

}  // namespace ringtrue::logic
