#pragma once
#include <cstdint>
#include <optional>

#include "ringtrue/base/interval.hpp"

namespace ringtrue {

/// How a conductor is made.
enum class StrandingClass : std::uint8_t { class_2, class_5 };  ///< IEC 60228: stranded, flexible
/// Tin takes some of the cross-section.
enum class CopperCoating : std::uint8_t { plain, coated };  ///< bare or tinned

/// What the drawing doesn't say of its conductors but their resistance depends on.
struct CopperSettings {
  double hottest_c = 40;          ///< warmest that the copper may be while it is measured; estimate
  double length_tolerance = 0.1;  ///< a conductor may be longer than drawn by this share; estimate
};

/// Greatest DC resistance of a copper conductor at 20 °C in ohms per kilometre, for the sizes of the table
/// (0.5 to 120 mm²); nothing for others. A real conductor has at most this; how much less isn't limited.
/// Source: IEC 60228:2004, tables 2 and 3 (read in public reproductions).
[[nodiscard]] std::optional<double> iec_60228_ohms_per_km(double mm2, StrandingClass stranding,
                                                          CopperCoating coating);

/// Cross-section of an American wire gauge in mm²; 0, -1, -2, -3 are 1/0 to 4/0.
/// Source: ASTM B258, d = 0.127 mm * 92^((36 - n) / 39) (from memory; agrees with two public tables).
[[nodiscard]] double awg_mm2(int gauge);

/// Resistance of solid annealed copper of that size at 20 °C, 17.241 ohm mm²/km, in ohms per kilometre.
/// Source: the resistivity of IEC 60028 (from memory).
[[nodiscard]] double solid_copper_ohms_per_km(double mm2);

/// By what the resistance of copper at 20 °C is to be multiplied at another temperature in °C.
/// Source: IEC 60228:2004, annex on temperature correction: the exact formula (234.5 + t) / 254.5, not the
/// tabulated factors, which are up to 0.3 % off between 5 and 75 °C.
[[nodiscard]] double copper_temperature_factor(double celsius);

/// The most that a conductor of this size may have at 20 °C in ohms per kilometre. A drawing doesn't say how
/// a conductor is stranded or coated, so the greatest value of the table counts; sizes outside it count
/// as 1.2 times solid copper (the table's own are at most 1.17 times; estimate).
[[nodiscard]] double greatest_ohms_per_km(double mm2);
/// The same for a gauge: 1.05 times solid copper. Estimate; NEC chapter 9 table 8 has stranded conductors at
/// 1.02 times solid ones.
[[nodiscard]] double greatest_awg_ohms_per_km(int gauge);

/// The most that a conductor may have, without its clamps: longer than drawn and as hot as the settings say.
[[nodiscard]] Ohms greatest_conductor_ohms(double ohms_per_km, double length_m,
                                           const CopperSettings& settings);

}  // namespace ringtrue
