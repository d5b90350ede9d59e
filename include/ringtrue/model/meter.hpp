#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/base/interval.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// What has to be known of a meter to judge its readings.
struct MeterSettings {
  /// Beeps at or below it, leads included. Common practice, no source: hand meters differ from 20 to 50 ohms.
  Ohms threshold{30};
  /// Shows OL above it. Infinite = not stated; OL then only means above the threshold.
  Ohms range = k_infinite_ohms;
  /// What its leads have, taken off every value. Not stated: a value may hold up to `k_unstated_lead_ohms` of
  /// leads and probe contact, and the threshold counts for the circuit alone. 0 for a meter that was nulled.
  std::optional<Ohms> lead_ohms;
  double accuracy = 0.02;  ///< share of the value; estimate
};

inline constexpr double k_unstated_lead_ohms = 0.5;  ///< leads and probe contact; estimate
inline constexpr double k_probe_contact_ohms = 0.1;  ///< probe contact where the leads are stated; estimate
inline constexpr double k_last_digit_ohms = 0.1;     ///< of the lowest range of a hand meter; estimate

/// The greatest resistance of the circuit at which the meter beeps.
[[nodiscard]] Ohms beep_limit(const MeterSettings& meter);
/// The resistances of the circuit at which the meter may show this many ohms.
[[nodiscard]] OhmInterval circuit_ohms(double shown, const MeterSettings& meter);
/// The other way round: the values that the meter may show for a circuit whose resistance lies in the
/// interval. Infinite where it shows OL: for an open circuit, and above its range.
[[nodiscard]] OhmInterval shown_ohms(OhmInterval circuit, const MeterSettings& meter);

/// One meter of a file of meters.
struct Meter {
  std::string name, kind, serial, calibrated_until;
  MeterSettings settings;
  std::uint32_t line = 0;
};

/// A file of meters.
struct Meters {
  std::string file;
  std::vector<Meter> rows;
  std::vector<Note> notes;
};

/// A row as the files have it; ohms with an SI suffix, `60M`.
struct MeterRow {
  std::string_view meter, kind, serial, calibrated_until, threshold, range, lead_ohms, accuracy;
};
/// Turns a row into a meter. `accuracy` is a share, or a percentage with its sign: `0.02`, `2%`.
/// @errors missing_field, bad_number.
[[nodiscard]] Result<Meter> meter_from_row(const MeterRow& row, std::uint32_t line, std::string_view file);

}  // namespace ringtrue
