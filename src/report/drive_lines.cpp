#include "drive_lines.hpp"

#include <algorithm>

#include "analog_words.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

using logic::Choice;
using logic::Step;
using logic::Trial;

std::string seconds(std::uint64_t ms) { return shortest_text(static_cast<double>(ms) / 1000) + " s"; }
std::string on_or_off(bool is_on) { return is_on ? "on" : "off"; }

/// `off, after 30 s on`
std::string expect(const Trial& test) {
  std::string text;
  std::uint64_t ms = 0;
  bool is_on = false;
  for (const Step& step : test.steps) {
    ms += step.wait_ms;
    if (text.empty())
      text = on_or_off(step.is_on);
    else if (step.is_on != is_on)
      text += ", after " + seconds(ms) + " " + on_or_off(step.is_on);
    is_on = step.is_on;
  }
  const bool flips = std::any_of(test.steps.begin(), test.steps.end(),
                                 [&](const Step& step) { return step.is_on != test.steps.front().is_on; });
  if (!flips && test.watch_ms > 0) text += ", and still after " + seconds(std::max(test.watch_ms, ms));
  return text;
}

bool is_same(const std::vector<Step>& a, const std::vector<Step>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Step& x, const Step& y) {
    return x.kind == y.kind && x.choice == y.choice && x.wait_ms == y.wait_ms;
  });
}

std::string together(const Step& step) { return step.is_together ? "at the same moment: " : ""; }

class Deciding {
 public:
  Deciding(const DriveWords& words, const logic::PairSet& set) : words_(words), set_(set) {}

  [[nodiscard]] DecidingLines write(std::size_t& number) {
    first_ = number + 1;
    DecidingLines made;
    made.how = how();
    for (std::size_t i = 0; i < set_.tests.size(); ++i) {
      const bool is_new =
          i == 0 || (!set_.is_chained && !is_same(set_.tests[i].prior, set_.tests[i - 1].prior));
      if (is_new) {
        base_ = i;
        made.groups.push_back({heading(set_.tests[i]), {}});
      }
      made.groups.back().lines.push_back({++number, act(i), expect(set_.tests[i]) + restart(set_.tests[i])});
    }
    for (const logic::Pair& pair : set_.pairs)
      made.pairs.push_back(words_.input_name(pair.variable) + " " + std::to_string(first_ + pair.first) +
                           ", " + std::to_string(first_ + pair.second));
    unpaired(made.unpaired);
    return made;
  }

 private:
  [[nodiscard]] bool is_restarted_always() const {
    return std::all_of(set_.tests.begin(), set_.tests.end(),
                       [](const Trial& test) { return test.must_restart; });
  }

  [[nodiscard]] std::string how() const {
    if (set_.tests.empty()) return "";
    if (set_.is_chained) return "one after the other, the first from the start above";
    if (is_restarted_always()) return "the controller started anew before each, as above";
    std::uint64_t back_ms = 0;
    for (const Trial& test : set_.tests) back_ms = std::max(back_ms, test.back_ms);
    const bool is_any = std::any_of(set_.tests.begin(), set_.tests.end(),
                                    [](const Trial& test) { return test.must_restart; });
    return "each from the start above; after each all back to rest, last first" +
           (back_ms > 0 ? ", and " + seconds(back_ms) + " there" : std::string()) +
           (is_any ? ", or the controller started anew where it says so" : "");
  }

  [[nodiscard]] std::string restart(const Trial& test) const {
    return test.must_restart && !is_restarted_always() ? "; start anew" : "";
  }

  [[nodiscard]] std::string heading(const Trial& test) const {
    if (set_.is_chained || test.prior.size() < 2) return "";
    std::string text;
    Choice before = test.prior.front().choice;
    for (const Step& step : test.prior) {
      if (step.kind == Step::Kind::wait) text += "wait " + seconds(step.wait_ms) + "; ";
      if (step.kind == Step::Kind::change)
        text += together(step) + joined(words_.actions(set_.sources, before, step, false), "; ") + "; ";
      before = step.choice;
    }
    return "before each: " + text + "then:";
  }

  [[nodiscard]] std::string act(std::size_t i) const {
    const Trial& test = set_.tests[i];
    const Step& step = test.steps.front();
    const Choice& from =
        set_.is_chained && i > 0 ? set_.tests[i - 1].steps.front().choice : test.prior.back().choice;
    if (set_.is_chained || i == base_) {
      const std::string does = joined(words_.actions(set_.sources, from, step, false), "; ");
      return together(step) + (does.empty() ? "change nothing" : does);
    }
    return as_base(step);
  }

  /// `as 3, but ...`
  [[nodiscard]] std::string as_base(const Step& step) const {
    const Choice& base = set_.tests[base_].steps.front().choice;
    const bool is_first_other = step.first != logic::k_none && base[step.first] != step.choice[step.first];
    std::string text = together(step);
    if (step.first != logic::k_none && !is_first_other)
      text += words_.actions(set_.sources, step.choice, step, false).front() + ", then ";
    return text + "as " + std::to_string(first_ + base_) +
           (is_first_other ? ", but before all else " : ", but ") +
           joined(words_.states(set_.sources, base, step.choice), "; ");
  }

  void unpaired(std::vector<std::string>& out) const {
    std::vector<std::pair<std::string, std::string>> by_cause;  // cause, names
    for (const logic::Unpaired& one : set_.unpaired) {
      const std::string cause = words_.cause(one, set_.sources), name = words_.input_name(one.variable);
      const auto known = std::find_if(by_cause.begin(), by_cause.end(),
                                      [&](const auto& both) { return both.first == cause; });
      if (known == by_cause.end())
        by_cause.emplace_back(cause, name);
      else
        known->second += ", " + name;
    }
    for (const auto& [cause, names] : by_cause) out.push_back(names + ": no pair, " + cause);
  }

  const DriveWords& words_;
  const logic::PairSet& set_;
  std::size_t first_ = 1, base_ = 0;
};

}  // namespace

DriveGroup sequence_lines(const DriveWords& words, std::size_t& number) {
  DriveGroup group;
  const logic::Drive& drive = words.drive();
  if (drive.steps.empty()) return group;
  Choice before = drive.steps.front().choice;
  for (const Step& step : drive.steps) {
    if (step.kind == Step::Kind::rest) continue;
    std::string does = step.kind == Step::Kind::wait
                           ? "wait " + seconds(step.wait_ms)
                           : joined(words.actions(drive.sources, before, step, true), "; ");
    if (does.empty()) does = "change nothing";
    group.lines.push_back({++number, together(step) + does, on_or_off(step.is_on)});
    before = step.choice;
  }
  return group;
}

DecidingLines deciding_lines(const DriveWords& words, const logic::PairSet& set, std::size_t& number) {
  return Deciding(words, set).write(number);
}

}  // namespace ringtrue::report
