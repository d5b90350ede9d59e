#pragma once
#include <vector>

#include "ringtrue/base/interval.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// Bounds of the resistance between two different nets that only loads can join.
///
/// `from` and `to` are one net each, or the two nets of a bare terminal name. Above `enough` the lower bound
/// is not tightened any further: the caller only wants to know that it lies above.
[[nodiscard]] OhmInterval soft_interval(const View& view, const std::vector<NetId>& from,
                                        const std::vector<NetId>& to, Ohms enough);

}  // namespace ringtrue
