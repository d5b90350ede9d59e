#include "logic/pairs.hpp"

#include <algorithm>
#include <unordered_map>

// For each state, cheapest first, the outcome of every input state is computed once; any two that differ in
// one input and in the outcome are a pair for that input. The search ends when every input has its pair.

namespace ringtrue::logic {

namespace {

/// What the output does after a change: at once, and once all timers have run out.
struct Outcome {
  Choice choice;
  Trail trail;
};

class PairFinder {
 public:
  explicit PairFinder(const std::vector<Source>& sources) : sources_(sources) {
    for (std::uint32_t s = 0; s < sources.size(); ++s)
      for (std::uint32_t i = 0; i < sources[s].variables.size(); ++i)
        if (sources[s].options.size() > 1) wanted_.push_back({sources[s].variables[i], s, i, false});
  }

  [[nodiscard]] bool is_done() const {
    return std::all_of(wanted_.begin(), wanted_.end(), [](const Wanted& w) { return w.is_found; });
  }
  [[nodiscard]] bool has(std::uint32_t variable) const {
    return std::any_of(wanted_.begin(), wanted_.end(),
                       [&](const Wanted& w) { return w.variable == variable && w.is_found; });
  }

  /// Looks for pairs among the choices from one state; `found(variable, first, second)` for each new one.
  template <class Found>
  void look(Machine& machine, const PlcState& state, const std::vector<Choice>& choices, Found&& found) {
    std::vector<Outcome> outcomes;
    std::unordered_map<std::string, std::size_t> by_choice;
    for (const Choice& choice : choices) {
      by_choice.emplace(std::string(choice.begin(), choice.end()), outcomes.size());
      outcomes.push_back({choice, trail_of(machine, state, choice, Step::Kind::change, [](const Trail&) {})});
    }
    for (Wanted& wanted : wanted_) {
      for (std::size_t i = 0; i < outcomes.size() && !wanted.is_found; ++i) {
        for (const Choice& other : neighbours(wanted, outcomes[i].choice)) {
          const auto at = by_choice.find(std::string(other.begin(), other.end()));
          if (at == by_choice.end() || !differ(outcomes[i], outcomes[at->second])) continue;
          wanted.is_found = true;
          found(wanted.variable, outcomes[i], outcomes[at->second]);
          break;
        }
      }
    }
  }

 private:
  struct Wanted {
    std::uint32_t variable, source, place;
    bool is_found;
  };

  /// Choices that differ in this input alone.
  [[nodiscard]] std::vector<Choice> neighbours(const Wanted& wanted, const Choice& choice) const {
    std::vector<Choice> list;
    const auto& options = sources_[wanted.source].options;
    const std::vector<double>& own = options[choice[wanted.source]];
    for (std::size_t option = 0; option < options.size(); ++option) {
      std::vector<double> same = options[option];
      if (same[wanted.place] < own[wanted.place] || same[wanted.place] > own[wanted.place]) {
        same[wanted.place] = own[wanted.place];
        if (same != own) continue;
        list.push_back(choice);
        list.back()[wanted.source] = static_cast<std::uint8_t>(option);
      }
    }
    return list;
  }

  static bool differ(const Outcome& a, const Outcome& b) {
    if (!a.trail.comes_to_rest || !b.trail.comes_to_rest) return false;
    if (a.trail.steps.front().is_on != b.trail.steps.front().is_on) return true;
    return a.trail.is_steady && b.trail.is_steady && a.trail.steps.back().is_on != b.trail.steps.back().is_on;
  }

  const std::vector<Source>& sources_;
  std::vector<Wanted> wanted_;
};

/// Only what is needed to see the difference: the change alone if the output differs at once.
void shorten(Pair& pair) {
  if (pair.first.front().is_on == pair.second.front().is_on) return;
  pair.first.resize(1);
  pair.second.resize(1);
}

/// States that need not be reachable: every value of what is remembered, timers fresh or run out.
std::vector<PlcState> any_states(Machine& machine, const Program& slice, std::size_t most) {
  std::vector<PlcState> states = {machine.state()};
  const auto vary = [&](auto&& change) {
    if (states.size() * 2 > most) return;
    const std::size_t count = states.size();
    for (std::size_t i = 0; i < count; ++i) {
      states.push_back(states[i]);
      change(states.back());
    }
  };
  for (const std::uint32_t variable : machine.kept_variables())
    vary([&](PlcState& state) { state.bits[variable] ^= 1; });
  for (const std::uint32_t i : machine.kept_blocks()) {
    vary([&](PlcState& state) { state.blocks[i].q = !state.blocks[i].q; });
    if (is_timer(slice.blocks[i].kind))
      vary([&](PlcState& state) {
        state.blocks[i].running = true;
        state.blocks[i].elapsed_ms = slice.blocks[i].preset_ms;
      });
    vary([&](PlcState& state) { state.blocks[i].memory = !state.blocks[i].memory; });
  }
  return states;
}

/// Whether an input has a pair when inputs are free, and when any prior state is.
class Why {
 public:
  Why(const Drive& drive, const std::vector<Source>& free, const DriveLimits& limits)
      : free_(free), anywhere_(drive.sources), has_held_(!drive.needs.empty()) {
    const auto ignore = [](std::uint32_t, const Outcome&, const Outcome&) {};
    Machine machine(drive.slice, free, drive.output);
    Walk walk(machine, limits, false);
    while (const auto at = walk.next()) {
      walk.keep_within_limits();
      if (free_.is_done()) break;
      free_.look(machine, walk.moment(*at).state, walk.choices_from(walk.moment(*at).choice), ignore);
    }
    constexpr std::size_t k_most_states = 4096;
    Machine held(drive.slice, drive.sources, drive.output);
    const Walk choices(held, limits, false);
    for (const PlcState& state : any_states(held, drive.slice, k_most_states)) {
      if (anywhere_.is_done() || held.scans_run() > limits.scans) break;
      anywhere_.look(held, state, choices.choices_from(held.rest()), ignore);
    }
  }
  [[nodiscard]] NoPair cause(const Source& source, std::uint32_t variable) const {
    if (source.how == How::hold) return NoPair::held;
    if (source.how == How::follow) return NoPair::coupled;
    if (anywhere_.has(variable)) return NoPair::unreachable;
    if (!free_.has(variable)) return NoPair::masked;
    return has_held_ && source.variables.size() == 1 ? NoPair::held : NoPair::coupled;
  }

 private:
  PairFinder free_, anywhere_;
  bool has_held_;
};

}  // namespace

void find_pairs(Drive& drive, const std::vector<Source>& free, const DriveLimits& limits) {
  Machine machine(drive.slice, drive.sources, drive.output);
  Walk walk(machine, limits, false);
  PairFinder finder(drive.sources);
  while (!finder.is_done()) {
    const auto at = walk.next();
    if (!at) break;
    walk.keep_within_limits();
    finder.look(
        machine, walk.moment(*at).state, walk.choices_from(walk.moment(*at).choice),
        [&](std::uint32_t variable, const Outcome& first, const Outcome& second) {
          drive.pairs.push_back({variable, walk.steps_to(*at), first.trail.steps, second.trail.steps});
          shorten(drive.pairs.back());
        });
  }
  drive.is_chained = machine.kept_variables().empty() && machine.kept_blocks().empty();
  drive.oscillates |= walk.oscillates();
  std::optional<Why> why;
  for (const Source& source : drive.sources) {
    for (const std::uint32_t variable : source.variables) {
      if (finder.has(variable)) continue;
      if (!walk.is_whole() && source.options.size() > 1) {
        drive.unpaired.push_back({variable, NoPair::not_searched});
        drive.is_whole = false;
        continue;
      }
      if (!why) why.emplace(drive, free, limits);
      drive.unpaired.push_back({variable, why->cause(source, variable)});
    }
  }
  order_pairs(drive);
}

}  // namespace ringtrue::logic
