#pragma once
#include <cstdint>
#include <optional>
#include <string_view>

#include "ringtrue/io/thermometers.hpp"

namespace ringtrue {

/// What travels over the two terminals.
enum class SignalKind : std::uint8_t { current, voltage, resistance, thermocouple };

/// What an analog channel takes or gives.
struct Signal {
  SignalKind kind = SignalKind::current;
  double low = 0, high = 0;                     ///< mA or V at 0 and 100 %; of currents and voltages only
  double ohms_at_zero = 0;                      ///< of a resistance thermometer
  Thermocouple thermocouple = Thermocouple::K;  ///< of a thermocouple

  /// Zero is told from a broken wire, and NAMUR NE 43 says what lies beside the range.
  [[nodiscard]] bool has_ne43() const { return kind == SignalKind::current && low == 4 && high == 20; }
  [[nodiscard]] bool is_temperature() const { return kind >= SignalKind::resistance; }
};

/// Reads `4-20mA`, `0..10 V`, `-10-10V`, `±10V`, `Pt100`, `Pt500`, `Pt1000`, `K`, `type J`, in any case.
[[nodiscard]] std::optional<Signal> signal_from_text(std::string_view text);

/// `mA`, `V`, `Ω`, `mV`
[[nodiscard]] std::string_view unit_of(SignalKind kind);

}  // namespace ringtrue
