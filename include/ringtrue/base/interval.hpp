#pragma once
#include <compare>
#include <limits>

namespace ringtrue {

/// Resistance in ohms.
struct Ohms {
  double value = 0;
  friend constexpr auto operator<=>(Ohms, Ohms) = default;
};

/// No current whatever the voltage.
inline constexpr Ohms k_infinite_ohms{std::numeric_limits<double>::infinity()};

/// A resistance known to lie in [lo, hi], lo <= hi, both may be infinite (2-terminal, never negative).
struct OhmInterval {
  Ohms lo{0};
  Ohms hi = k_infinite_ohms;

  [[nodiscard]] constexpr bool contains(Ohms r) const { return lo <= r && r <= hi; }
  /// No current can flow whatever the values are.
  [[nodiscard]] constexpr bool is_open() const { return lo == k_infinite_ohms; }
  friend constexpr bool operator==(OhmInterval, OhmInterval) = default;
};

/// Of what is open, out, off, unplugged or lifted.
inline constexpr OhmInterval k_open_interval{k_infinite_ohms, k_infinite_ohms};

}  // namespace ringtrue
