#include "logic/pairs.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <string>

// For each state, cheapest first, the outcome of every input state is computed once; any two that differ in
// one input and in the outcome are a pair for that input. Of several that pair is taken which shares a test
// with those before. The search ends when every input has its pair.

namespace ringtrue::logic {

namespace {

bool differ(const Outcome& a, const Outcome& b) {
  if (!a.comes_to_rest || !b.comes_to_rest) return false;
  return a.at_once != b.at_once || (a.is_steady && b.is_steady && a.in_the_end != b.in_the_end);
}

/// Finds outcomes by their choice.
class OutcomeIndex {
 public:
  OutcomeIndex(const std::vector<Outcome>& outcomes, const Choices& choices) : choices_(choices) {
    if (choices.is_whole()) by_number_.assign(choices.count(), nullptr);
    for (const Outcome& outcome : outcomes)
      if (choices.is_whole())
        by_number_[choices.number_of(outcome.choice)] = &outcome;
      else
        by_choice_.emplace(outcome.choice, &outcome);
  }
  [[nodiscard]] const Outcome* find(const Choice& choice) const {
    if (choices_.is_whole()) return by_number_[choices_.number_of(choice)];
    const auto at = by_choice_.find(choice);
    return at == by_choice_.end() ? nullptr : at->second;
  }

 private:
  const Choices& choices_;
  std::vector<const Outcome*> by_number_;
  std::map<Choice, const Outcome*> by_choice_;
};

class PairFinder {
 public:
  /// @param inputs  those wanted; empty: all.
  PairFinder(const std::vector<Source>& sources, const std::vector<std::uint32_t>& inputs)
      : sources_(sources) {
    for (std::uint32_t s = 0; s < sources.size(); ++s)
      for (std::uint32_t i = 0; i < sources[s].variables.size(); ++i)
        if (sources[s].options.size() > 1 &&
            (inputs.empty() ||
             std::find(inputs.begin(), inputs.end(), sources[s].variables[i]) != inputs.end()))
          wanted_.push_back({sources[s].variables[i], s, i, false});
  }

  [[nodiscard]] bool is_done() const {
    return std::all_of(wanted_.begin(), wanted_.end(), [](const Wanted& w) { return w.is_found; });
  }
  [[nodiscard]] bool has(std::uint32_t variable) const {
    return std::any_of(wanted_.begin(), wanted_.end(),
                       [&](const Wanted& w) { return w.variable == variable && w.is_found; });
  }

  /// Looks for pairs among the outcomes from one state; `found(variable, first, second)` for each new one.
  template <class Found>
  void look(const std::vector<Outcome>& outcomes, const Choices& choices, Found&& found) {
    const OutcomeIndex index(outcomes, choices);
    std::vector<const Outcome*> used;
    for (Wanted& wanted : wanted_) {
      if (wanted.is_found) continue;
      const auto [first, second] = best_pair(wanted, outcomes, index, used);
      if (first == nullptr) continue;
      wanted.is_found = true;
      used.insert(used.end(), {first, second});
      found(wanted.variable, *first, *second);
    }
  }

 private:
  struct Wanted {
    std::uint32_t variable, source, place;
    bool is_found;
  };
  using Two = std::pair<const Outcome*, const Outcome*>;

  /// One with a test among `used`, else the first.
  Two best_pair(const Wanted& wanted, const std::vector<Outcome>& outcomes, const OutcomeIndex& index,
                const std::vector<const Outcome*>& used) const {
    for (const Outcome* const one : used)
      if (const Outcome* const other = partner(wanted, *one, index); other != nullptr) return {one, other};
    for (const Outcome& one : outcomes)
      if (const Outcome* const other = partner(wanted, one, index); other != nullptr) return {&one, other};
    return {};
  }

  /// An outcome of another choice that differs in this input alone.
  [[nodiscard]] const Outcome* partner(const Wanted& wanted, const Outcome& one,
                                       const OutcomeIndex& index) const {
    const auto& options = sources_[wanted.source].options;
    const std::vector<double>& own = options[one.choice[wanted.source]];
    for (std::size_t option = 0; option < options.size(); ++option) {
      if (!differs_there_alone(options[option], own, wanted.place)) continue;
      Choice choice = one.choice;
      choice[wanted.source] = static_cast<std::uint16_t>(option);
      const Outcome* const other = index.find(choice);
      if (other != nullptr && differ(one, *other)) return other;
    }
    return nullptr;
  }

  static bool differs_there_alone(const std::vector<double>& a, const std::vector<double>& b,
                                  std::size_t place) {
    for (std::size_t i = 0; i < a.size(); ++i)
      if ((a[i] < b[i] || a[i] > b[i]) != (i == place)) return false;
    return true;
  }

  const std::vector<Source>& sources_;
  std::vector<Wanted> wanted_;
};

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

std::vector<Outcome> outcomes_from(Machine& machine, const PlcState& state, const Choices& choices) {
  std::vector<Outcome> outcomes;
  for (const Choice& choice : choices.from(machine.rest())) {
    const Trail trail = trail_of(machine, state, choice, Step::Kind::change, [](const Trail&) {});
    outcomes.push_back(
        {choice, trail.comes_to_rest, trail.is_steady, trail.steps.front().is_on, trail.steps.back().is_on});
  }
  return outcomes;
}

/// Whether an input has a pair when inputs are free, and when any prior state is.
class Why {
 public:
  Why(const PairSearch& search, const std::vector<std::uint32_t>& inputs)
      : free_(search.free, inputs), anywhere_(search.sources, inputs), has_held_(search.has_held) {
    const auto ignore = [](std::uint32_t, const Outcome&, const Outcome&) {};
    Machine machine(search.slice, search.free, search.output);
    Walk walk(machine, search.limits, false);
    while (!free_.is_done() && walk.next()) free_.look(walk.outcomes(), walk.choices(), ignore);

    constexpr std::size_t k_most_states = 4096, k_share_of_scans = 8;
    Machine held(search.slice, search.sources, search.output);
    const Choices choices(search.sources, search.limits.choices);
    for (const PlcState& state : any_states(held, search.slice, k_most_states)) {
      if (anywhere_.is_done() || held.scans_run() > search.limits.scans / k_share_of_scans) break;
      anywhere_.look(outcomes_from(held, state, choices), choices, ignore);
    }
  }
  [[nodiscard]] NoPair cause(const Source& source, std::uint32_t variable) const {
    if (anywhere_.has(variable)) return NoPair::unreachable;
    if (!free_.has(variable)) return NoPair::masked;
    return has_held_ && source.variables.size() == 1 ? NoPair::held : NoPair::coupled;
  }

 private:
  PairFinder free_, anywhere_;
  bool has_held_;
};

/// Takes pairs in and keeps each test once.
class TestList {
 public:
  TestList(Machine& machine, PairSet& set) : machine_(machine), set_(set) {}

  void add(std::uint32_t variable, const std::vector<Step>& prior, const PlcState& state, const Outcome& a,
           const Outcome& b) {
    const bool is_at_once = a.at_once != b.at_once;
    const std::size_t first = test_of(prior, state, a.choice, is_at_once);
    const std::size_t second = test_of(prior, state, b.choice, is_at_once);
    set_.pairs.push_back({variable, first, second});
    const std::uint64_t watch_ms =
        is_at_once ? std::uint64_t{0} : std::max(waited(set_.tests[first]), waited(set_.tests[second]));
    for (const std::size_t test : {first, second})
      set_.tests[test].watch_ms = std::max(set_.tests[test].watch_ms, watch_ms);
  }

 private:
  std::size_t test_of(const std::vector<Step>& prior, const PlcState& state, const Choice& choice,
                      bool is_at_once) {
    std::vector<Step> steps =
        trail_of(machine_, state, choice, Step::Kind::change, [](const Trail&) {}).steps;
    if (is_at_once) steps.resize(1);
    std::size_t i = 0;
    while (i < set_.tests.size() &&
           !(is_same(set_.tests[i].prior, prior) && set_.tests[i].steps.front().choice == choice))
      ++i;
    if (i == set_.tests.size()) set_.tests.push_back({prior, {}, 0, false, 0});
    if (steps.size() > set_.tests[i].steps.size()) set_.tests[i].steps = std::move(steps);
    return i;
  }

  static bool is_same(const std::vector<Step>& a, const std::vector<Step>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Step& x, const Step& y) {
      return x.kind == y.kind && x.choice == y.choice && x.wait_ms == y.wait_ms;
    });
  }

  static std::uint64_t waited(const Trial& test) {
    std::uint64_t ms = 0;
    for (const Step& step : test.steps) ms += step.wait_ms;
    return ms;
  }

  Machine& machine_;
  PairSet& set_;
};

/// How the controller comes back to where it started, if it does.
void find_way_back(Machine& machine, Trial& test) {
  machine.restart();
  machine.set(machine.rest());
  machine.settle(0);
  const std::string start = machine.memory();
  for (const auto* const list : {&test.prior, &test.steps})
    for (const Step& step : *list) {
      machine.set(step.choice);
      machine.settle(step.wait_ms);
    }
  Choice choice = test.steps.back().choice;
  const Choice rest = machine.rest();
  bool comes_to_rest = true;
  for (std::size_t i = choice.size(); i-- > 0;) {
    if (choice[i] == rest[i]) continue;
    choice[i] = rest[i];
    machine.set(choice);
    comes_to_rest &= !machine.settle(0).empty();
  }
  const PlcState left = machine.state();
  const Trail trail = trail_of(machine, left, rest, Step::Kind::change, [](const Trail&) {});
  test.must_restart = !comes_to_rest || !trail.comes_to_rest || !trail.is_steady || machine.memory() != start;
  if (test.must_restart) return;
  for (const Step& step : trail.steps) test.back_ms += step.wait_ms;
}

}  // namespace

FoundPairs find_pairs(const PairSearch& search, const std::vector<std::uint32_t>& inputs) {
  FoundPairs made;
  PairSet& set = made.set;
  set.sources = search.sources;
  Machine machine(search.slice, search.sources, search.output);
  const Choice rest = machine.rest();
  Walk walk(machine, search.limits, false);
  PairFinder finder(search.sources, inputs);
  TestList tests(machine, set);
  while (!finder.is_done()) {
    const auto at = walk.next();
    if (!at) break;
    finder.look(walk.outcomes(), walk.choices(),
                [&](std::uint32_t variable, const Outcome& first, const Outcome& second) {
                  tests.add(variable, walk.steps_to(*at), walk.moment(*at).state, first, second);
                });
  }
  set.is_chained = machine.kept_variables().empty() && machine.kept_blocks().empty();
  made.oscillates = walk.oscillates();

  std::vector<std::uint32_t> unfound;
  for (const Source& source : search.sources)
    for (const std::uint32_t variable : source.variables) {
      const bool is_asked =
          inputs.empty() || std::find(inputs.begin(), inputs.end(), variable) != inputs.end();
      if (!is_asked || finder.has(variable)) continue;
      NoPair cause = NoPair::not_searched;
      if (source.how == How::hold) cause = NoPair::held;
      if (source.how == How::follow) cause = NoPair::coupled;
      set.unpaired.push_back({variable, cause});
      if (cause == NoPair::not_searched && source.options.size() > 1) unfound.push_back(variable);
      if (cause == NoPair::not_searched && source.options.size() == 1)
        set.unpaired.back().cause = NoPair::masked;
    }
  if (!unfound.empty() && !walk.is_whole()) made.is_whole = false;
  if (!unfound.empty() && walk.is_whole()) {
    const Why why(search, unfound);
    for (Unpaired& unpaired : set.unpaired)
      for (const Source& source : search.sources)
        if (unpaired.cause == NoPair::not_searched &&
            std::find(source.variables.begin(), source.variables.end(), unpaired.variable) !=
                source.variables.end())
          unpaired.cause = why.cause(source, unpaired.variable);
  }
  for (Trial& test : set.tests) find_way_back(machine, test);
  order_tests(set, rest);
  return made;
}

}  // namespace ringtrue::logic
