#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "logic/machine.hpp"

namespace ringtrue::logic {

/// A state at which the logic has come to rest, and how it was reached from the one before: a change, then
/// waits under the same inputs.
struct Moment {
  PlcState state;
  Choice choice;
  std::vector<Step> steps;
  std::uint32_t parent = k_none;
  bool has_been_on = false;
  [[nodiscard]] bool is_on() const { return steps.back().is_on; }
};

/// A change of inputs and what follows from it alone, each time a timer runs out.
struct Trail {
  std::vector<Step> steps;
  bool comes_to_rest = true;  ///< after each step
  bool is_steady = true;      ///< and in the end no timer is left running
};
/// @param reached  called after each step, while the machine is in that state.
template <class Reached>
Trail trail_of(Machine& machine, const PlcState& from, const Choice& choice, Step::Kind kind,
               Reached&& reached) {
  constexpr std::size_t k_most_waits = 32;
  Trail trail;
  machine.restore(from);
  machine.set(choice);
  std::uint32_t wait_ms = 0;
  for (std::size_t waits = 0; waits <= k_most_waits; ++waits) {
    trail.steps.push_back(
        {waits == 0 ? kind : Step::Kind::wait, choice, wait_ms, machine.settle(wait_ms), machine.is_on()});
    trail.comes_to_rest = !trail.steps.back().scans_ms.empty();
    if (!trail.comes_to_rest) break;
    reached(trail);
    const auto timer = machine.next_timer_ms();
    trail.is_steady = !timer;
    if (!timer) break;
    wait_ms = *timer;
  }
  return trail;
}

/// What the output does after a change: at once, and once all timers have run out.
struct Outcome {
  Choice choice;
  bool comes_to_rest = false, is_steady = false, at_once = false, in_the_end = false;
};

/// All settings of some sources, numbered; where they are too many only those near another one are listed.
class Choices {
 public:
  Choices(const std::vector<Source>& sources, std::size_t limit);
  [[nodiscard]] bool is_whole() const { return !all_.empty(); }
  [[nodiscard]] std::size_t count() const { return all_.size(); }
  /// Those that can be set from there, nearest first; itself among them.
  [[nodiscard]] std::vector<Choice> from(const Choice& choice) const;
  /// Only if whole.
  [[nodiscard]] std::size_t number_of(const Choice& choice) const;

 private:
  [[nodiscard]] std::vector<Choice> near(const Choice& choice) const;
  const std::vector<Source>& sources_;
  std::vector<Choice> all_;  ///< empty where they are too many
};

/// Walks over all states that a sequence of inputs leads to, cheapest first (Dijkstra): fewest input states,
/// then fewest changed inputs, then the shortest wait.
class Walk {
 public:
  /// @param counts_on  a state after the output has been on is another one than before.
  Walk(Machine& machine, const DriveLimits& limits, bool counts_on);

  /// The next state, which is final; nothing once there are no more, or the limits are reached.
  [[nodiscard]] std::optional<std::uint32_t> next();
  [[nodiscard]] const Moment& moment(std::uint32_t i) const { return moments_[i]; }
  [[nodiscard]] std::vector<Step> steps_to(std::uint32_t moment) const;

  /// Of every choice from the state that came last.
  [[nodiscard]] const std::vector<Outcome>& outcomes() const { return outcomes_; }
  [[nodiscard]] const Choices& choices() const { return choices_; }
  [[nodiscard]] bool is_whole() const { return is_whole_; }
  [[nodiscard]] bool is_exact() const { return keys_hold_inputs_; }
  [[nodiscard]] bool oscillates() const { return oscillates_; }

 private:
  struct Cost {
    std::uint32_t steps = 0, changes = 0;
    std::uint64_t waited_ms = 0;
    auto operator<=>(const Cost&) const = default;
  };
  void expand(std::uint32_t from);
  Outcome follow(std::uint32_t from, const PlcState& state, const Choice& choice, const Cost& cost);
  [[nodiscard]] bool is_beyond_limits() const { return machine_.scans_run() - scans_before_ > limits_.scans; }
  void add(Moment moment, const Cost& cost);

  Machine& machine_;
  DriveLimits limits_;
  bool counts_on_;
  bool keys_hold_inputs_ = false;
  bool is_whole_ = true, oscillates_ = false;
  std::size_t scans_before_;
  Choices choices_;
  std::vector<Outcome> outcomes_;
  std::vector<Moment> moments_;
  std::vector<Cost> costs_;
  std::unordered_map<std::string, std::uint32_t> best_;
  std::multimap<Cost, std::uint32_t> open_;  ///< equal costs in the order in which they came
};

/// The number of sources set otherwise.
[[nodiscard]] std::uint32_t changes_between(const Choice& a, const Choice& b);

}  // namespace ringtrue::logic
