#pragma once

/// NAMUR NE 43 in % of 4-20 mA: values from 3.8 to 20.5 mA, failures up to 3.6 and from 21 mA; in between it
/// asks for neither.
namespace ringtrue::io::ne43 {

inline constexpr double k_failure_below = -2.5, k_value_from = -1.25, k_value_to = 103.125,
                        k_failure_above = 106.25;

}  // namespace ringtrue::io::ne43
