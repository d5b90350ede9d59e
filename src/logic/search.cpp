#include "logic/search.hpp"

#include <algorithm>

namespace ringtrue::logic {

namespace {

/// Product of the numbers of options; `limit + 1` if it is more.
std::size_t choice_count(const std::vector<Source>& sources, std::size_t limit) {
  std::size_t count = 1;
  for (const Source& source : sources) {
    count *= source.options.size();
    if (count > limit) return limit + 1;
  }
  return count;
}

std::vector<Choice> every_choice(const std::vector<Source>& sources, std::size_t count) {
  std::vector<Choice> all;
  Choice choice(sources.size());
  for (std::size_t i = 0; i < count; ++i) {
    all.push_back(choice);
    for (std::size_t k = 0; k < choice.size(); ++k) {
      if (++choice[k] < sources[k].options.size()) break;
      choice[k] = 0;
    }
  }
  return all;
}

}  // namespace

std::uint32_t changes_between(const Choice& a, const Choice& b) {
  std::uint32_t changes = 0;
  for (std::size_t i = 0; i < a.size(); ++i) changes += a[i] != b[i] ? 1u : 0u;
  return changes;
}

Choices::Choices(const std::vector<Source>& sources, std::size_t limit) : sources_(sources) {
  if (const std::size_t count = choice_count(sources, limit); count <= limit)
    all_ = every_choice(sources, count);
}

std::size_t Choices::number_of(const Choice& choice) const {
  std::size_t number = 0;
  for (std::size_t i = choice.size(); i-- > 0;) number = number * sources_[i].options.size() + choice[i];
  return number;
}

std::vector<Choice> Choices::from(const Choice& choice) const {
  if (!is_whole()) return near(choice);
  std::vector<std::vector<const Choice*>> by_changes(choice.size() + 1);
  for (const Choice& one : all_) by_changes[changes_between(one, choice)].push_back(&one);
  std::vector<Choice> nearest;
  nearest.reserve(all_.size());
  for (const auto& some : by_changes)
    for (const Choice* const one : some) nearest.push_back(*one);
  return nearest;
}

/// Those that differ in one or two sources.
std::vector<Choice> Choices::near(const Choice& choice) const {
  std::vector<Choice> near = {choice};
  const auto with_each = [&](const Choice& from, std::size_t source, auto&& use) {
    for (std::size_t option = 0; option < sources_[source].options.size(); ++option) {
      if (option == from[source]) continue;
      Choice changed = from;
      changed[source] = static_cast<std::uint16_t>(option);
      use(changed);
    }
  };
  for (std::size_t i = 0; i < choice.size(); ++i)
    with_each(choice, i, [&](const Choice& one) { near.push_back(one); });
  for (std::size_t i = 0; i < choice.size(); ++i)
    with_each(choice, i, [&](const Choice& one) {
      for (std::size_t k = i + 1; k < choice.size(); ++k)
        with_each(one, k, [&](const Choice& two) { near.push_back(two); });
    });
  return near;
}

Walk::Walk(Machine& machine, const DriveLimits& limits, bool counts_on)
    : machine_(machine),
      limits_(limits),
      counts_on_(counts_on),
      scans_before_(machine.scans_run()),
      choices_(machine.sources(), limits.choices) {
  // Up to so many input states, states of the walk are told apart by their inputs too, so that the number of
  // changes is the fewest; beyond that it would square the work.
  constexpr std::size_t k_most_exact = 64;
  is_whole_ = choices_.is_whole();
  keys_hold_inputs_ = is_whole_ && choices_.count() <= k_most_exact;
  follow(k_none, machine.state(), machine.rest(), {});
}

std::optional<std::uint32_t> Walk::next() {
  while (!open_.empty()) {
    const auto [cost, moment] = *open_.begin();
    open_.erase(open_.begin());
    if (cost != costs_[moment]) continue;
    expand(moment);
    return moment;
  }
  return std::nullopt;
}

void Walk::expand(std::uint32_t from) {
  const PlcState state = moments_[from].state;
  const Choice own = moments_[from].choice;
  outcomes_.clear();
  for (const Choice& choice : choices_.from(own)) {
    if (is_beyond_limits()) {
      is_whole_ = false;
      open_.clear();
      return;
    }
    Cost cost = costs_[from];
    cost.steps += 1;
    cost.changes += changes_between(choice, own);
    outcomes_.push_back(follow(from, state, choice, cost));
  }
}

/// A state in which a timer runs leads on by itself, and where to depends on the inputs. All of that is added
/// at once, so that inputs need not tell states apart.
Outcome Walk::follow(std::uint32_t from, const PlcState& state, const Choice& choice, const Cost& cost) {
  Moment made{{}, choice, {}, from, from != k_none && moments_[from].has_been_on};
  Cost sum = cost;
  const auto kind = from == k_none ? Step::Kind::rest : Step::Kind::change;
  const Trail trail = trail_of(machine_, state, choice, kind, [&](const Trail& so_far) {
    made.steps = so_far.steps;
    made.state = machine_.state();
    made.has_been_on |= made.is_on();
    sum.waited_ms += so_far.steps.back().wait_ms;
    add(made, sum);
  });
  oscillates_ |= !trail.comes_to_rest;
  return {choice, trail.comes_to_rest, trail.is_steady, trail.steps.front().is_on, trail.steps.back().is_on};
}

void Walk::add(Moment moment, const Cost& cost) {
  std::string key = machine_.memory();
  if (counts_on_) key += moment.has_been_on ? (moment.is_on() ? "+" : "-") : "0";
  if (keys_hold_inputs_) key.append(moment.choice.begin(), moment.choice.end());
  const auto [known, is_new] = best_.emplace(std::move(key), static_cast<std::uint32_t>(moments_.size()));
  if (is_new) {
    moments_.push_back(std::move(moment));
    costs_.push_back(cost);
  } else if (cost < costs_[known->second]) {
    moments_[known->second] = std::move(moment);
    costs_[known->second] = cost;
  } else {
    return;
  }
  open_.emplace(cost, known->second);
}

std::vector<Step> Walk::steps_to(std::uint32_t moment) const {
  std::vector<Step> steps;
  for (std::uint32_t at = moment; at != k_none; at = moments_[at].parent)
    steps.insert(steps.begin(), moments_[at].steps.begin(), moments_[at].steps.end());
  return steps;
}

}  // namespace ringtrue::logic
