#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "ringtrue/power/locate.hpp"

namespace ringtrue::power {

/// The best order of measuring between suspects in a row, one of which is broken: every range of them with
/// the place that parts it first.
///
/// Source: the alphabetic tree of Gilbert and Moore 1959, Variable-length binary encodings (from memory);
/// split by count, the same table with the depth in place of the average.
class Splits {
 public:
  /// @param weights    of each suspect; above 0.
  /// @param can_split  by suspect: the voltage before it can be told; that of the first is not looked at.
  Splits(const std::vector<double>& weights, const std::vector<std::uint8_t>& can_split, SplitBy by);

  /// The suspect before which to measure first; nothing if there is none to measure.
  [[nodiscard]] std::optional<std::size_t> first() const;
  [[nodiscard]] VoltagesLeft left() const;

 private:
  struct Range {
    std::size_t split = 0;  ///< begins the second part; that of the range itself: it stays together
    std::size_t at_most = 0;
    double sum = 0, cost = 0;  ///< of the weights; of weight times voltages
  };
  [[nodiscard]] Range& range(std::size_t from, std::size_t to) { return ranges_[from * (count_ + 1) + to]; }
  [[nodiscard]] const Range& whole() const { return ranges_[count_]; }
  void fill(std::size_t from, std::size_t to, const std::vector<std::uint8_t>& can_split);
  [[nodiscard]] bool is_better(const Range& one, const Range& other, std::size_t from, std::size_t to) const;

  SplitBy by_;
  std::size_t count_;
  std::vector<Range> ranges_;
};

}  // namespace ringtrue::power
