#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <unordered_set>

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
  std::unordered_set<std::string> keys_;
};

}  // namespace ringtrue
