#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/io/hook_up.hpp"
#include "ringtrue/io/signal.hpp"

namespace ringtrue {

/// In % of span. An estimate of this project: usual are 0.1 to 0.5; the contract decides.
inline constexpr double k_default_tolerance_pct = 0.5;

/// What the drawing lacks for a whole sheet.
enum class AnalogGap : std::uint8_t {
  no_signal,
  unknown_signal,
  no_range,     ///< low or high
  empty_range,  ///< low is high
  no_unit,
  no_temperature_unit,  ///< of a thermometer: neither °C, °F nor K
  outside_sensor,       ///< the standard gives no values there
  no_raw,               ///< raw_low or raw_high
  empty_raw,
};

/// One line of the sheet.
struct AnalogPoint {
  enum class Kind : std::uint8_t {
    in_range,
    beside_range,  ///< outside 0 to 100 %, and a value all the same
    failure,       ///< the signal is given, and a failure must be told
    open,          ///< a lead is lifted, and a failure must be told
    shorted,       ///< both terminals are joined, and a failure must be told
  };
  Kind kind = Kind::in_range;
  double percent = 0;                ///< of span; 0 for open and shorted
  std::optional<double> signal;      ///< mA, V, Ω or mV; none for open and shorted
  std::optional<double> value, raw;  ///< in engineering units, in counts; none for failures and where unknown
};

/// How the values of a channel lie between 0 and 100 %. Each span may fall (low above high).
struct AnalogScale {
  /// Linear from `low` at 0 % to `high` at 100 %.
  struct Span {
    double low = 0, high = 0;
    [[nodiscard]] double at(double percent) const { return low + (high - low) * percent / 100; }
    [[nodiscard]] double width() const { return high < low ? low - high : high - low; }
  };
  Signal signal;
  std::optional<Span> value, raw;
  std::optional<Span> celsius;          ///< of a thermometer
  std::optional<double> cold_junction;  ///< °C; of a thermocouple. None: 0 °C

  /// What is to be fed, or comes out, at so many % of span: mA, V, Ω, mV. Nothing where the sensor has no
  /// value.
  [[nodiscard]] std::optional<double> signal_at(double percent) const;
  [[nodiscard]] AnalogPoint point_at(double percent) const;
  /// The other way round, of mA and V alone: a thermometer's points are told by their percentage.
  [[nodiscard]] std::optional<double> percent_at(double fed) const;
};

/// The test of one AI or AO.
struct AnalogSheet {
  std::size_t channel = 0;           ///< index into the netlist's channels
  std::optional<AnalogScale> scale;  ///< none: the gaps say why
  std::vector<AnalogPoint>
      points;  ///< 0, 25, 50, 75, 100 %; of an AI then what lies outside. None without a scale
  std::vector<AnalogGap> gaps;
  HookUp hook_up;
};

/// @param channel  an AI or AO.
/// @param cold_junction  °C at the terminals, within -50 to 100.
[[nodiscard]] AnalogSheet analog_sheet(const Supplies& supplies, std::size_t channel,
                                       std::optional<double> cold_junction = {});

/// What a value seen is: of an input in engineering units or counts at the controller; of an output in mA or
/// V at its terminals.
enum class SeenAs : std::uint8_t { value, raw, signal };

/// What was seen at one point.
struct AnalogSeen {
  double percent = 0;                                    ///< of span; says nothing for `open` and `shorted`
  std::optional<double> seen;                            ///< none: a failure was told
  AnalogPoint::Kind kind = AnalogPoint::Kind::in_range;  ///< or `open` or `shorted`; else the percentage says
};

/// Reads `50`, `12mA` (the unit of the sheet's signal, mA or V), `open` or `shorted`, and a number or
/// `failure`.
/// @errors bad_call with what would be one.
[[nodiscard]] Result<AnalogSeen> analog_seen_from(const AnalogSheet& sheet, std::string_view at,
                                                  std::string_view what);

/// What was seen at a point beside what had to be.
struct AnalogVerdict {
  AnalogPoint point;
  std::optional<double> expected, seen;  ///< none: a failure
  double error_pct = 0;  ///< of span, positive where more was seen than expected; 0 if either is a failure
  bool is_good = false;  ///< not more than the tolerance, either way; or a failure where one must be told
};

/// Judges what was seen at a point of the sheet, or at any other percentage between its outermost values or,
/// by NAMUR NE 43 from 0 to 24 mA, where a failure must be told.
/// @errors bad_call: the scale has no such values; the sheet has no such point.
[[nodiscard]] Result<AnalogVerdict> judge_seen(const AnalogSheet& sheet, const AnalogSeen& seen, SeenAs as,
                                               double tolerance_pct = k_default_tolerance_pct);

}  // namespace ringtrue
