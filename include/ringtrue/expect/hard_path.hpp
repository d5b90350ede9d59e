#pragma once
#include <optional>
#include <vector>

#include "ringtrue/expect/judge.hpp"

namespace ringtrue {

/// A walk through hard elements; `points` is one longer than `edges`.
struct HardPath {
  std::vector<PointId> points;
  std::vector<View::Edge> edges;
};

/// The hard path with the fewest elements between the probes of a reading; nothing if their nets differ. A
/// bare terminal name starts or ends on the side nearer to the other probe, so that its body is never on the
/// path. Among equally short paths the one found first in order of element numbers. Cost: the size of the
/// net.
[[nodiscard]] std::optional<HardPath> hard_path(const View& view, const Probing& reading);

}  // namespace ringtrue
