#pragma once
#include <cstdint>
#include <optional>

namespace ringtrue {

/// Ohms of an industrial platinum thermometer at a temperature; nothing outside -200 to 850 °C.
/// Source: IEC 60751, the Callendar-Van Dusen equations.
/// @param ohms_at_zero  R0: 100 for a Pt100.
[[nodiscard]] std::optional<double> platinum_ohms(double celsius, double ohms_at_zero);

enum class Thermocouple : std::uint8_t { K, J };

/// Millivolts of a thermocouple whose reference junction is at 0 °C; nothing outside -270 to 1372 °C (K) or
/// -210 to 1200 °C (J). What is to be fed to an input whose own junction is at `cold`: E(t) - E(cold).
/// Source: IEC 60584-1 on ITS-90, by the reference functions of NIST Monograph 175.
[[nodiscard]] std::optional<double> thermocouple_millivolts(Thermocouple type, double celsius);

}  // namespace ringtrue
