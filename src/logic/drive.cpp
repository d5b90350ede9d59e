#include "ringtrue/logic/drive.hpp"

#include <algorithm>
#include <array>

#include "logic/pairs.hpp"
#include "logic/search.hpp"

namespace ringtrue::logic {

namespace {

bool is_stop_circuit(Role role) { return role == Role::stop || role == Role::guard; }

/// The slice of the output together with the outputs that its inputs follow.
void slice_with_followed(Drive& drive, const Program& program, const ConductionGraph& graph) {
  std::vector<std::uint32_t> wanted = {drive.output};
  for (std::size_t before = 0; before < wanted.size();) {
    before = wanted.size();
    drive.slice = slice_of(program, wanted);
    drive.sources = sources_of(drive.slice, graph);
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

/// Every input by itself, selectors taken apart and held ones let go.
std::vector<Source> freed(const std::vector<Source>& sources, const Program& slice) {
  std::vector<Source> free;
  for (const Source& source : sources)
    for (const std::uint32_t variable : source.variables) {
      const bool is_analog = slice.variables[variable].kind == VariableKind::analog;
      Source one{
          is_analog ? How::simulate : How::jumper, {variable}, {{0}, {1}}, 0, "", {}, k_none, Role::none};
      if (is_analog) one.options = source.options;
      free.push_back(one);
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

Drive drive_output(const Program& program, std::uint32_t output, const ConductionGraph& graph,
                   const DriveLimits& limits) {
  Drive drive;
  drive.output = output;
  const auto assigns = [&](const Statement& statement) { return statement.variable == output; };
  if (std::none_of(program.statements.begin(), program.statements.end(), assigns)) return drive;
  slice_with_followed(drive, program, graph);
  for (const Source& source : drive.sources)
    if (source.role != Role::none)
      drive.needs.insert(drive.needs.end(), source.variables.begin(), source.variables.end());

  const std::vector<Source> free = freed(drive.sources, drive.slice);
  take(drive, on_and_off(drive, drive.sources, limits));
  drive.verdict = drive.turns_off ? DriveVerdict::drivable : DriveVerdict::unreachable;
  if (drive.verdict == DriveVerdict::unreachable && !drive.needs.empty()) {
    std::vector<Source> closed = closed_circuits(drive.sources);
    if (Found found = on_and_off(drive, closed, limits); found.turns_off) {
      drive.sources = std::move(closed);
      take(drive, std::move(found));
      drive.verdict = DriveVerdict::substitute;
    } else if (on_and_off(drive, free, limits).turns_off) {
      drive.verdict = DriveVerdict::not_testable;
    }
  }
  if (drive.verdict == DriveVerdict::drivable || drive.verdict == DriveVerdict::substitute)
    find_pairs(drive, free, limits);
  Machine machine(drive.slice, drive.sources, drive.output);
  mark_together(machine, {}, drive.steps);
  for (Pair& pair : drive.pairs) {
    mark_together(machine, {}, pair.prior);
    mark_together(machine, pair.prior, pair.first);
    mark_together(machine, pair.prior, pair.second);
  }
  return drive;
}

}  // namespace ringtrue::logic
