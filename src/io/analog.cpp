#include "ringtrue/io/analog.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

namespace ringtrue {

namespace {

using Span = AnalogScale::Span;
using Kind = AnalogPoint::Kind;

// NAMUR NE 43: values from 3.8 to 20.5 mA, failures up to 3.6 and from 21 mA; here in % of 4-20 mA.
constexpr double k_failure_below = -2.5, k_value_from = -1.25, k_value_to = 103.125, k_failure_above = 106.25;
constexpr double k_no_current = -25, k_most_current = 125;  // 0 and 24 mA

/// Nothing unless both ends are stated and differ; what is wrong goes into `gaps`.
std::optional<Span> span_of(double low, double high, AnalogGap missing, AnalogGap empty,
                            std::vector<AnalogGap>& gaps) {
  if (std::isfinite(high - low) && low != high) return Span{low, high};
  gaps.push_back(std::isfinite(high - low) ? empty : missing);
  return std::nullopt;
}

/// The same span in °C; nothing for a unit that is none of temperature.
std::optional<Span> in_celsius(const Span& span, std::string_view unit) {
  const auto both = [&](auto convert) { return Span{convert(span.low), convert(span.high)}; };
  if (unit == "degC" || unit == "°C" || unit == "C") return span;
  if (unit == "degF" || unit == "°F" || unit == "F")
    return both([](double fahrenheit) { return (fahrenheit - 32) / 1.8; });
  if (unit == "K") return both([](double kelvin) { return kelvin - 273.15; });
  return std::nullopt;
}

/// The scale; what keeps it from being known goes into the gaps of the sheet.
std::optional<AnalogScale> scale_of(const Channel& channel, std::optional<double> cold_junction,
                                    std::vector<AnalogGap>& gaps) {
  const auto signal = signal_from_text(channel.signal);
  if (channel.signal.empty()) gaps.push_back(AnalogGap::no_signal);
  const bool fits = signal && !(channel.type == ChannelType::AO && signal->is_temperature());
  if (!channel.signal.empty() && !fits) gaps.push_back(AnalogGap::unknown_signal);

  AnalogScale scale;
  scale.value = span_of(channel.low, channel.high, AnalogGap::no_range, AnalogGap::empty_range, gaps);
  scale.raw = span_of(channel.raw_low, channel.raw_high, AnalogGap::no_raw, AnalogGap::empty_raw, gaps);
  if (channel.unit.empty()) gaps.push_back(AnalogGap::no_unit);
  if (!fits) return std::nullopt;

  scale.signal = *signal;
  if (signal->kind == SignalKind::thermocouple) scale.cold_junction = cold_junction;
  if (!signal->is_temperature()) return scale;
  if (scale.value && !channel.unit.empty()) {
    scale.celsius = in_celsius(*scale.value, channel.unit);
    if (!scale.celsius) gaps.push_back(AnalogGap::no_temperature_unit);
  }
  if (!scale.celsius) return std::nullopt;
  if (scale.signal_at(0) && scale.signal_at(100)) return scale;
  gaps.push_back(AnalogGap::outside_sensor);
  return std::nullopt;
}

std::vector<AnalogPoint> points_of(const AnalogScale& scale, ChannelType type) {
  std::vector<AnalogPoint> points;
  for (const double percent : {0, 25, 50, 75, 100}) points.push_back(scale.point_at(percent));
  if (type == ChannelType::AO) return points;
  if (scale.signal.has_ne43())
    for (const double percent : {k_failure_below, k_value_from, k_value_to, k_failure_above})
      points.push_back(scale.point_at(percent));
  if (scale.signal.is_temperature()) points.push_back({Kind::open, 0, {}, {}, {}});
  if (scale.signal.kind == SignalKind::resistance) points.push_back({Kind::shorted, 0, {}, {}, {}});
  return points;
}

tl::unexpected<Errors> cannot_judge(std::string message, std::string found, std::string expected) {
  return fail({ErrorCode::bad_call, std::move(message), {}, std::move(found), std::move(expected), {}});
}

bool is_value(const AnalogPoint& point) {
  return point.kind == Kind::in_range || point.kind == Kind::beside_range;
}

bool has_point(const AnalogSheet& sheet, Kind kind) {
  return std::any_of(sheet.points.begin(), sheet.points.end(),
                     [&](const AnalogPoint& point) { return point.kind == kind; });
}

std::string plain(double number) {
  std::string text = std::to_string(number);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

/// The point at which something was seen.
Result<AnalogPoint> point_of(const AnalogSheet& sheet, const AnalogSeen& seen) {
  if (seen.kind == Kind::open || seen.kind == Kind::shorted) {
    if (has_point(sheet, seen.kind)) return AnalogPoint{seen.kind, 0, {}, {}, {}};
    return cannot_judge("the sheet has no such point", seen.kind == Kind::open ? "open" : "shorted",
                        "one of its points");
  }
  double least = 0, most = 100;
  for (const AnalogPoint& point : sheet.points)
    if (is_value(point)) least = std::min(least, point.percent), most = std::max(most, point.percent);
  const bool has_failures = has_point(sheet, Kind::failure);
  const bool is_failure =
      has_failures && ((seen.percent >= k_no_current && seen.percent <= k_failure_below) ||
                       (seen.percent >= k_failure_above && seen.percent <= k_most_current));
  if (is_failure || (seen.percent >= least && seen.percent <= most))
    return sheet.scale->point_at(seen.percent);
  std::string expected = plain(least) + " to " + plain(most) + " % for a value";
  if (has_failures)
    expected +=
        ", up to " + plain(k_failure_below) + " or from " + plain(k_failure_above) + " % for a failure";
  return cannot_judge("there the sheet asks for nothing", plain(seen.percent) + " %", std::move(expected));
}

}  // namespace

std::optional<double> AnalogScale::signal_at(double percent) const {
  if (!signal.is_temperature()) return Span{signal.low, signal.high}.at(percent);
  if (!celsius) return std::nullopt;
  const double temperature = celsius->at(percent);
  if (signal.kind == SignalKind::resistance) return platinum_ohms(temperature, signal.ohms_at_zero);
  const auto hot = thermocouple_millivolts(signal.thermocouple, temperature);
  const auto cold = thermocouple_millivolts(signal.thermocouple, cold_junction.value_or(0));
  if (!hot || !cold) return std::nullopt;
  return *hot - *cold;
}

AnalogPoint AnalogScale::point_at(double percent) const {
  AnalogPoint point;
  point.percent = percent;
  point.signal = signal_at(percent);
  if (percent < 0 || percent > 100)
    point.kind = percent < k_value_from || percent > k_value_to ? Kind::failure : Kind::beside_range;
  if (point.kind == Kind::failure) return point;
  if (value) point.value = value->at(percent);
  if (raw) point.raw = raw->at(percent);
  return point;
}

AnalogSheet analog_sheet(const Supplies& supplies, std::size_t channel, std::optional<double> cold_junction) {
  const Channel& drawn = supplies.graph().netlist().channels[channel];
  AnalogSheet sheet;
  sheet.channel = channel;
  sheet.scale = scale_of(drawn, cold_junction, sheet.gaps);
  if (sheet.scale) sheet.points = points_of(*sheet.scale, drawn.type);
  sheet.hook_up = hook_up(supplies, drawn, signal_from_text(drawn.signal));
  return sheet;
}

std::optional<double> AnalogScale::percent_at(double fed) const {
  if (signal.is_temperature()) return std::nullopt;
  const double percent = (fed - signal.low) / (signal.high - signal.low) * 100;
  return std::round(percent * 1e9) / 1e9;  // 3.6 mA is -2.5 %, in decimals if not in doubles
}

Result<AnalogVerdict> judge_seen(const AnalogSheet& sheet, const AnalogSeen& seen, SeenAs as,
                                 double tolerance_pct) {
  if (!sheet.scale)
    return cannot_judge("what was seen can't be judged, since the channel has no sheet", "",
                        "signal, low, high and unit on the drawing");
  const auto point = point_of(sheet, seen);
  if (!point) return tl::unexpected(point.error());
  AnalogVerdict verdict;
  verdict.point = *point, verdict.seen = seen.seen;
  if (!is_value(*point)) {
    verdict.is_good = !seen.seen;
    return verdict;
  }
  verdict.expected = as == SeenAs::value ? point->value : as == SeenAs::raw ? point->raw : point->signal;
  if (!verdict.expected)
    return cannot_judge("what was seen can't be judged", "",
                        as == SeenAs::raw ? "raw_low and raw_high on the drawing, which differ"
                                          : "low and high on the drawing, which differ");
  if (!seen.seen) return verdict;
  double width = 0;
  if (as == SeenAs::value) width = sheet.scale->value->width();
  if (as == SeenAs::raw) width = sheet.scale->raw->width();
  if (as == SeenAs::signal) width = std::abs(*sheet.scale->signal_at(100) - *sheet.scale->signal_at(0));
  verdict.error_pct = (*seen.seen - *verdict.expected) / width * 100;
  constexpr double k_rounding = 1e-9;  // 4.08 mA is 0.5 % off 4 mA, in decimals if not in doubles
  verdict.is_good = std::abs(verdict.error_pct) <= tolerance_pct + k_rounding;
  return verdict;
}

}  // namespace ringtrue
