#pragma once
#include <boost/pending/disjoint_sets.hpp>
#include <cstdint>
#include <numeric>
#include <vector>

namespace ringtrue {

/// Nodes in classes that can be joined (Boost's disjoint sets; union by rank and path halving).
class Classes {
 public:
  explicit Classes(std::uint32_t nodes)
      : parent_(nodes), rank_(nodes, 0), sets_(rank_.data(), parent_.data()) {
    std::iota(parent_.begin(), parent_.end(), 0u);
  }
  void join(std::uint32_t a, std::uint32_t b) { sets_.union_set(a, b); }
  /// One node of the class, the same for all its nodes.
  [[nodiscard]] std::uint32_t of(std::uint32_t node) { return sets_.find_set(node); }

 private:
  std::vector<std::uint32_t> parent_;
  std::vector<std::uint8_t> rank_;
  boost::disjoint_sets<std::uint8_t*, std::uint32_t*, boost::find_with_path_halving> sets_;
};

}  // namespace ringtrue
