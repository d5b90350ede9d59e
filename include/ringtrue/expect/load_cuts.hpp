#pragma once
#include <cstdint>
#include <vector>

#include "ringtrue/base/interval.hpp"
#include "ringtrue/graph/numbering.hpp"

namespace ringtrue {

/// What the loads at some points let through at most, each at its lowest value.
struct Conductance {
  double siemens = 0;
  std::uint32_t unlimited = 0;  ///< loads that may have 0 ohms

  friend Conductance operator+(const Conductance& x, const Conductance& y) {
    return {x.siemens + y.siemens, x.unlimited + y.unlimited};
  }
  friend Conductance operator-(const Conductance& x, const Conductance& y) {
    return {x.siemens > y.siemens ? x.siemens - y.siemens : 0, x.unlimited - y.unlimited};
  }
  /// Between points from which all current has to leave through these loads, and others, there are more ohms
  /// for certain (Nash-Williams 1959, from memory: the loads around a cut in parallel).
  [[nodiscard]] bool is_more_than(Ohms limit) const {
    constexpr double k_rounding = 1e-6;  // of sums and differences
    return unlimited == 0 && siemens * limit.value < 1 - k_rounding;
  }
};

/// Sums of loads over ranges of a numbering: over the points behind an element, or those of a net. A load
/// with both ends among them counts twice, which only makes a bound weaker.
class LoadCuts {
 public:
  /// Only sums are kept; the view isn't needed afterwards.
  LoadCuts(const View& view, const Numbering& numbering);

  [[nodiscard]] bool has_loads() const { return has_loads_; }
  /// Of the points behind a number, itself among them.
  [[nodiscard]] Conductance behind(std::uint32_t number) const { return between(number, end_[number]); }
  /// Of the whole net of a number.
  [[nodiscard]] Conductance of_net(std::uint32_t number) const {
    return between(root_[number], end_[root_[number]]);
  }
  /// Of the rest of the net.
  [[nodiscard]] Conductance but_behind(std::uint32_t number) const { return of_net(number) - behind(number); }
  /// The first number of the net.
  [[nodiscard]] std::uint32_t root(std::uint32_t number) const { return root_[number]; }

 private:
  [[nodiscard]] Conductance between(std::uint32_t first, std::uint32_t end) const {
    return before_[end] - before_[first];
  }
  bool has_loads_ = false;
  std::vector<Conductance> before_;  ///< sum over the points with lower numbers
  std::vector<std::uint32_t> root_, end_;
};

}  // namespace ringtrue
