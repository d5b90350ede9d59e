#pragma once
#include <unordered_set>
#include <utility>
#include <vector>

#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// Nets joined to the probe by copper, or by loads that a beep could pass.
class LowReach {
 public:
  LowReach(const View& view, PointId point, bool either_side, Ohms threshold);
  [[nodiscard]] bool holds(PointId p) const { return known_.count(view_.net(p)) != 0; }
  /// All points of the nets, whether the view touched them or not, by number.
  [[nodiscard]] std::vector<PointId> points() const;

 private:
  /// A net and the sum of the loads on the way by which it was found.
  using Reached = std::pair<NetId, double>;
  void add(NetId net, double sum) {
    if (known_.insert(net).second) nets_.emplace_back(net, sum);
  }
  void spread(Reached from, Ohms threshold);

  const View& view_;
  std::unordered_set<NetId> known_;
  std::vector<Reached> nets_;
};

}  // namespace ringtrue
