#include "ringtrue/io/analog.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "ne43.hpp"

namespace ringtrue {

namespace {

using Span = AnalogScale::Span;
using Kind = AnalogPoint::Kind;
using namespace io::ne43;

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

}  // namespace ringtrue
