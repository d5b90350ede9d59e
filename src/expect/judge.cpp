#include "ringtrue/expect/judge.hpp"

#include <algorithm>
#include <optional>
#include <unordered_map>

#include "network.hpp"
#include "quick_bounds.hpp"
#include "ringtrue/expect/effective_resistance.hpp"

namespace ringtrue {

namespace {

/// Above this a circuit counts as insulated. IEC 60204-1 cl. 18.3 (from memory): at least 1 megohm at 500 V
/// DC.
constexpr double k_insulated_ohms = 1e6;
/// Values this close to a limit count as on it: nothing is solved to more digits.
constexpr double k_on_the_limit = 1 + k_solver_accuracy;

/// More than any finite resistance is.
constexpr double k_any_ohms = 1e300;

/// The resistance above which the meter would have shown `open` or `OL`.
Ohms open_above(const Probing& reading, const MeterSettings& meter) {
  if (reading.method == Method::insulation) return Ohms{k_insulated_ohms};
  if (reading.value.kind == ValueKind::over_range && meter.range != k_infinite_ohms) return meter.range;
  return beep_limit(meter);
}

enum class Answer : std::uint8_t { no, yes, unknown };

Answer is_at_most(OhmInterval end, double limit) {
  if (end.hi.value <= limit * k_on_the_limit) return Answer::yes;
  return end.lo.value > limit * k_on_the_limit ? Answer::no : Answer::unknown;
}
Answer negated(Answer answer) {
  if (answer == Answer::unknown) return answer;
  return answer == Answer::yes ? Answer::no : Answer::yes;
}
Answer both(Answer x, Answer y) {
  if (x == Answer::no || y == Answer::no) return Answer::no;
  return x == Answer::yes && y == Answer::yes ? Answer::yes : Answer::unknown;
}

enum class Asked : std::uint8_t { verdict, possible, quickly };

/// Whether the meter can have shown what it showed, and whether it can have shown the opposite.
struct Question {
  Answer possible, opposite;

  /// The verdict as far as it was asked for; nothing if it's still open.
  [[nodiscard]] std::optional<Verdict> verdict(Asked asked) const {
    if (possible == Answer::no) return Verdict::disagrees;
    if (possible == Answer::unknown) return std::nullopt;
    if (asked == Asked::possible) return Verdict::agrees;
    if (opposite == Answer::unknown) return std::nullopt;
    return opposite == Answer::yes ? Verdict::either : Verdict::agrees;
  }
};

Question ask_ohms(const QuickBounds& at, const Probing& reading, const MeterSettings& meter) {
  const double shown = reading.value.number;
  if (reading.method == Method::insulation && shown >= k_insulated_ohms)
    return {negated(is_at_most(at.hi, k_insulated_ohms)), is_at_most(at.lo, k_insulated_ohms)};
  const OhmInterval circuit = circuit_ohms(shown, meter);
  const Answer reaches_down = is_at_most(at.lo, circuit.hi.value);
  const Answer reaches_up = circuit.lo.value == 0
                                ? Answer::yes
                                : negated(is_at_most(at.hi, circuit.lo.value * (1 - 2 * k_solver_accuracy)));
  const Answer may_be_open = negated(is_at_most(at.hi, k_any_ohms));
  return {both(reaches_down, reaches_up), may_be_open};
}

Question ask(const QuickBounds& at, const Probing& reading, const MeterSettings& meter) {
  if (reading.value.kind == ValueKind::ohms) return ask_ohms(at, reading, meter);
  const double limit = open_above(reading, meter).value;
  const Answer may_beep = is_at_most(at.lo, limit), may_be_open = negated(is_at_most(at.hi, limit));
  return reading.value.kind == ValueKind::beep ? Question{may_beep, may_be_open}
                                               : Question{may_be_open, may_beep};
}

/// Not predicted: volts, lit, dark, counts. A low-ohm tester has no buzzer; "beep" then says nothing about a
/// limit.
bool is_predicted(const Probing& reading) {
  if (reading.value.kind == ValueKind::ohms) return true;
  return reading.value.kind < ValueKind::ohms && reading.method != Method::low_ohm;
}

/// Solves for the end that is still open, then for the other.
Verdict solved(const View& view, const Probing& reading, const MeterSettings& meter, QuickBounds bounds,
               Asked asked) {
  const Network network = network_of_points(view, reading);
  const Ohms hi = upper_end(network, counting_of(reading));
  bounds.hi = {hi, hi};
  if (const auto verdict = ask(bounds, reading, meter).verdict(asked)) return *verdict;
  const Ohms lo = lower_end(network);
  bounds.lo = {lo, lo};
  return *ask(bounds, reading, meter).verdict(asked);
}

Verdict judge_in_one_net(const View& view, const Probing& reading, const MeterSettings& meter, Asked asked) {
  const Counting counting = counting_of(reading);
  QuickBounds bounds;
  if (counting == Counting::limited && view.net(reading.from) == view.net(reading.to))
    bounds = bounds_of_net(view, view.net(reading.from));
  if (const auto verdict = ask(bounds, reading, meter).verdict(asked)) return *verdict;
  bounds.narrow(bounds_of_hard_path(view, reading, counting));
  if (const auto verdict = ask(bounds, reading, meter).verdict(asked)) return *verdict;
  return solved(view, reading, meter, bounds, asked);
}

}  // namespace

/// Bounds between two nets, kept for the next reading between them.
class Judge::Impl {
 public:
  explicit Impl(const View& view) : view_(view) {}

  Verdict verdict(const Probing& reading, const MeterSettings& meter, Asked asked) {
    if (!is_predicted(reading)) return Verdict::either;
    const NetId from = view_.net(reading.from), to = view_.net(reading.to);
    if (from == to) return judge_in_one_net(view_, reading, meter, asked);
    if (reading.from_either_side || reading.to_either_side) {
      if (ProbedNets(view_, reading).have_one_in_common())
        return judge_in_one_net(view_, reading, meter, asked);
      Pair pair;
      return judge_across(reading, meter, pair, asked);
    }
    // No current leaves a net without loads.
    if (view_.loads_of_net(from).empty() || view_.loads_of_net(to).empty())
      return *ask({k_open_interval, k_open_interval}, reading, meter).verdict(asked);
    // Over a diode it matters which lead is on which net.
    std::uint64_t red = index(from), black = index(to);
    if (!view_.graph().has_diodes() && black < red) std::swap(red, black);
    return judge_across(reading, meter, known_[red << 32 | black], asked);
  }

 private:
  /// What the bounds hold so far, cheapest first.
  enum class Known : std::uint8_t { nothing, small_side, reach, cuts, series, nets };
  struct Pair {
    QuickBounds bounds;
    Known known = Known::nothing;
  };

  Verdict judge_across(const Probing& reading, const MeterSettings& meter, Pair& pair, Asked asked) {
    while (true) {
      QuickBounds bounds = pair.bounds;
      // The limit on defaults holds for a buzzer alone; but where it's finite, so is the whole.
      if (counting_of(reading) == Counting::whole && bounds.hi.hi < k_infinite_ohms)
        bounds.hi.hi = Ohms{k_any_ohms};
      if (const auto verdict = ask(bounds, reading, meter).verdict(asked)) return *verdict;
      if (learn(reading, pair)) continue;
      return asked == Asked::quickly ? Verdict::either : solved(view_, reading, meter, bounds, asked);
    }
  }

  /// Narrows the bounds by the next dearer means; false if there's none left but solving.
  bool learn(const Probing& reading, Pair& pair) {
    const ProbedNets nets(view_, reading);
    switch (pair.known) {
      case Known::nothing:
        pair.bounds.narrow(bounds_of_small_side(view_, nets));
        pair.known = Known::small_side;
        return true;
      case Known::small_side:
        pair.bounds.narrow(bounds_of_reach(view_, nets));
        pair.known = Known::reach;
        return true;
      case Known::reach:
        pair.bounds.narrow(bounds_of_cuts(view_, nets));
        pair.known = Known::cuts;
        return true;
      case Known::cuts:
        pair.bounds.narrow(bounds_of_series(view_, nets));
        pair.known = Known::series;
        return true;
      case Known::series:
        pair.bounds.narrow(bounds_of_net_network(view_, nets));
        pair.known = Known::nets;
        return true;
      case Known::nets:
        return false;
    }
    return false;
  }

  const View& view_;
  std::unordered_map<std::uint64_t, Pair> known_;
};

Judge::Judge(const View& view) : impl_(std::make_unique<Impl>(view)) {}
Judge::Judge(Judge&&) noexcept = default;
Judge::~Judge() = default;

Verdict Judge::verdict(const Probing& reading, const MeterSettings& meter) {
  return impl_->verdict(reading, meter, Asked::verdict);
}

Verdict Judge::verdict_without_solving(const Probing& reading, const MeterSettings& meter) {
  return impl_->verdict(reading, meter, Asked::quickly);
}

bool Judge::is_possible(const Probing& reading, const MeterSettings& meter) {
  return impl_->verdict(reading, meter, Asked::possible) != Verdict::disagrees;
}

Verdict judge(const View& view, const Probing& reading, const MeterSettings& meter) {
  return Judge(view).verdict(reading, meter);
}

Counting counting_of(const Probing& reading) {
  return reading.value.kind == ValueKind::ohms ? Counting::whole : Counting::limited;
}

OhmInterval seen_ohms(const Probing& reading, const MeterSettings& meter) {
  if (reading.value.kind != ValueKind::ohms) {
    const Ohms limit = open_above(reading, meter);
    return reading.value.kind == ValueKind::beep ? OhmInterval{Ohms{0}, limit}
                                                 : OhmInterval{limit, k_infinite_ohms};
  }
  if (reading.method == Method::insulation && reading.value.number >= k_insulated_ohms)
    return {Ohms{k_insulated_ohms}, k_infinite_ohms};
  return circuit_ohms(reading.value.number, meter);
}

OhmInterval expected_resistance(const View& view, const Probing& reading, Counting counting) {
  const Network network = network_of_points(view, reading);
  const Ohms lo = lower_end(network);
  return lo == k_infinite_ohms ? k_open_interval : OhmInterval{lo, upper_end(network, counting)};
}

}  // namespace ringtrue
