#include "ringtrue/expect/judge.hpp"

#include <algorithm>

#include "ringtrue/expect/hard_path.hpp"
#include "soft_paths.hpp"

namespace ringtrue {

namespace {

/// Together the defaulted elements of a hard path count at most this much for beep and open; estimate.
constexpr double k_default_path_ohms = 5;
/// Above this a circuit counts as insulated. IEC 60204-1 cl. 18.3 (from memory): at least 1 megohm at 500 V
/// DC.
constexpr double k_insulated_ohms = 1e6;

bool wants_ohms(const Probing& reading) { return reading.value.kind == ValueKind::ohms; }

/// Nets under one lead: two where a bare terminal name leaves the side open and its body does not conduct.
std::vector<NetId> nets_of(const View& view, PointId point, bool either_side) {
  std::vector<NetId> nets{view.net(point)};
  if (either_side) {
    const NetId other = view.net(view.graph().netlist().points.other_side(point));
    if (other != nets.front()) nets.push_back(other);
  }
  return nets;
}

/// Upper bound of a hard path: what its elements add up to along the shortest way.
Ohms hard_path_limit(const View& view, const Probing& reading) {
  double stated = 0, defaulted = 0;
  const auto path = hard_path(view, reading);
  for (const View::Edge& edge : path->edges) {
    if (edge.element == ElementId::none) {
      defaulted += view.overlay().added()[edge.added].interval.hi.value;
      continue;
    }
    const bool is_stated = view.graph().has_stated_interval(edge.element);
    (is_stated ? stated : defaulted) += view.interval(edge.element).hi.value;
  }
  return Ohms{stated + (wants_ohms(reading) ? defaulted : std::min(defaulted, k_default_path_ohms))};
}

bool may_hold_stated_value(const View& view, const Probing& reading) {
  if (!view.graph().has_stated_hard_interval()) return false;
  const auto stated = [&](NetId net) { return view.graph().net_has_stated_interval(net); };
  const auto rest = [&](PointId p) {
    return index(p) < view.graph().point_count() ? stated(view.graph().net_at_rest(p)) : false;
  };
  return rest(reading.from) || rest(reading.to) ||
         std::any_of(view.touched_nets().begin(), view.touched_nets().end(), stated);
}

OhmInterval hard_interval(const View& view, const Probing& reading) {
  if (!wants_ohms(reading) && !may_hold_stated_value(view, reading))
    return {Ohms{0}, Ohms{k_default_path_ohms}};
  return {Ohms{0}, hard_path_limit(view, reading)};
}

/// The resistance above which the meter would have shown `open` or `OL`.
Ohms open_above(const Probing& reading, const MeterSettings& meter) {
  if (reading.method == Method::insulation) return Ohms{k_insulated_ohms};
  if (reading.value.kind == ValueKind::over_range && meter.range != k_infinite_ohms) return meter.range;
  return meter.threshold;
}

Verdict verdict_of(bool possible, bool opposite_possible) {
  if (!possible) return Verdict::disagrees;
  return opposite_possible ? Verdict::either : Verdict::agrees;
}

Verdict judge_ohms(OhmInterval expected, const Probing& reading, const MeterSettings& meter) {
  const double ohms = reading.value.number;
  if (reading.method == Method::insulation && ohms >= k_insulated_ohms)
    return verdict_of(expected.hi > Ohms{k_insulated_ohms}, expected.lo <= Ohms{k_insulated_ohms});
  const Ohms least{ohms * (1 - meter.accuracy) - meter.lead_allowance.value},
      most{ohms * (1 + meter.accuracy)};
  return verdict_of(most >= expected.lo && least <= expected.hi, expected.hi == k_infinite_ohms);
}

Verdict judge_value(OhmInterval expected, const Probing& reading, const MeterSettings& meter) {
  const Ohms limit = open_above(reading, meter);
  switch (reading.value.kind) {
    case ValueKind::beep:
      // A low-ohm tester has no buzzer: "beep" then says nothing about a limit.
      if (reading.method == Method::low_ohm) return Verdict::either;
      return verdict_of(expected.lo <= limit, expected.hi > limit);
    case ValueKind::open:
    case ValueKind::over_range:
      if (reading.method == Method::low_ohm) return Verdict::either;
      return verdict_of(expected.hi > limit, expected.lo <= limit);
    case ValueKind::ohms:
      return judge_ohms(expected, reading, meter);
    default:
      return Verdict::either;
  }
}

}  // namespace

OhmInterval expected_resistance(const View& view, const Probing& reading, const MeterSettings& meter) {
  const NetId from = view.net(reading.from), to = view.net(reading.to);
  if (from == to) return hard_interval(view, reading);
  const std::vector<NetId> red = nets_of(view, reading.from, reading.from_either_side);
  const std::vector<NetId> black = nets_of(view, reading.to, reading.to_either_side);
  if (std::find_first_of(red.begin(), red.end(), black.begin(), black.end()) != red.end())
    return hard_interval(view, reading);
  const double value = wants_ohms(reading) ? reading.value.number * (1 + meter.accuracy) : 0;
  return soft_interval(view, red, black, Ohms{std::max(value, open_above(reading, meter).value)});
}

Verdict Judge::verdict(const Probing& reading) {
  // Only beeps and opens between two plain points share their bounds with others.
  const bool shared = reading.value.kind < ValueKind::ohms && reading.method == Method::not_stated &&
                      !reading.from_either_side && !reading.to_either_side;
  const NetId from = view_.net(reading.from), to = view_.net(reading.to);
  if (!shared || from == to) return judge(view_, reading, meter_).verdict;
  const std::uint64_t pair =
      std::uint64_t{std::min(index(from), index(to))} << 32 | std::max(index(from), index(to));
  const bool over_range = reading.value.kind == ValueKind::over_range;
  const auto [at, is_new] = between_nets_.try_emplace(pair * 2 + (over_range ? 1 : 0));
  if (is_new) at->second = expected_resistance(view_, reading, meter_);
  return judge_value(at->second, reading, meter_);
}

Judgement judge(const View& view, const Probing& reading, const MeterSettings& meter) {
  if (reading.value.kind >= ValueKind::volts) return {Verdict::either, {}};
  const OhmInterval expected = expected_resistance(view, reading, meter);
  return {judge_value(expected, reading, meter), expected};
}

}  // namespace ringtrue
