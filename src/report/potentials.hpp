#pragma once
#include <string_view>
#include <unordered_map>

#include "ringtrue/graph/graph.hpp"

namespace ringtrue::report {

/// Names of the declared potentials by their net at rest.
class PotentialNames {
 public:
  explicit PotentialNames(const ConductionGraph& graph);
  /// `+24V`; empty where the point's net carries no declared potential.
  [[nodiscard]] std::string_view of(PointId point) const;

 private:
  const ConductionGraph& graph_;
  std::unordered_map<std::uint32_t, std::string_view> by_net_;
};

}  // namespace ringtrue::report
