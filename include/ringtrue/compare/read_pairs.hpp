#pragma once
#include <compare>
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/compare/compare.hpp"

namespace ringtrue {

/// Pairs of points that current readings hold, each under its condition, whatever the order of the points and
/// of the settings.
class ReadPairs {
 public:
  /// Current is what is neither stale nor at an unknown point. Both may go once it is made.
  ReadPairs(const Readings& readings, const Comparison& comparison);
  [[nodiscard]] bool holds(PointId from, PointId to, std::string_view condition) const;
  /// False if it was there.
  bool add(PointId from, PointId to, std::string_view condition);

 private:
  struct Pair {
    std::uint32_t condition;  ///< in `conditions_`
    PointId first, second;    ///< by number
    friend auto operator<=>(const Pair&, const Pair&) = default;
  };
  std::uint32_t number_of(std::string_view condition);
  [[nodiscard]] static Pair pair_of(PointId from, PointId to, std::uint32_t condition);
  [[nodiscard]] bool has(const Pair& pair) const;

  std::map<std::string, std::uint32_t> conditions_;  ///< numbered, by their settings in one order
  std::vector<Pair> taken_;                          ///< sorted: a plant has a million
  std::set<Pair> added_;                             ///< the few that came later
};

}  // namespace ringtrue
