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
///
/// Current that leaves the copper of a net and comes back to it doesn't take a way that ends nowhere: nets
/// that one load alone joins to the rest are left out one after the other, and the loads to them don't count.
/// Where such a net is joined to the one in question by something else, they do.
class LoadCuts {
 public:
  /// Which loads are summed: those by which current can come back to the net, or all.
  enum class Counted : std::uint8_t { leading_back, all };

  /// Only sums are kept; the view isn't needed afterwards. Loads to points that aren't numbered all count.
  LoadCuts(const View& view, const Numbering& numbering);

  [[nodiscard]] bool has_loads() const { return has_loads_; }
  /// Of the points behind a number, itself among them.
  [[nodiscard]] Conductance behind(std::uint32_t number, Counted counted = Counted::leading_back) const {
    return between(number, end_[number], counted);
  }
  /// Of the whole net of a number.
  [[nodiscard]] Conductance of_net(std::uint32_t number, Counted counted = Counted::leading_back) const {
    return between(root_[number], end_[root_[number]], counted);
  }
  /// Of the rest of the net.
  [[nodiscard]] Conductance but_behind(std::uint32_t number, Counted counted = Counted::leading_back) const {
    return of_net(number, counted) - behind(number, counted);
  }
  /// The first number of the net.
  [[nodiscard]] std::uint32_t root(std::uint32_t number) const { return root_[number]; }
  /// Loads join the two nets, directly or through others.
  [[nodiscard]] bool are_joined_by_loads(std::uint32_t number, std::uint32_t other) const {
    return joined_[root_[number]] == joined_[root_[other]];
  }

 private:
  struct Load {
    ElementId element;
    std::uint32_t a, b;  ///< roots of its nets
    bool leads_back;
  };
  [[nodiscard]] std::vector<Load> loads_between_nets(const View& view, const Numbering& numbering) const;
  void join_nets(const std::vector<Load>& loads);
  void leave_out_dead_ends(std::vector<Load>& loads) const;
  [[nodiscard]] Conductance between(std::uint32_t first, std::uint32_t end, Counted counted) const {
    const std::vector<Conductance>& sums = counted == Counted::all ? all_ : leading_back_;
    return sums[end] - sums[first];
  }

  bool has_loads_ = false;
  std::vector<Conductance> leading_back_, all_;  ///< sums over the points with lower numbers
  std::vector<std::uint32_t> root_, end_;        ///< by number; `end_` is one past its range
  std::vector<std::uint32_t> joined_;            ///< by root: a root of the nets that loads join
};

}  // namespace ringtrue
