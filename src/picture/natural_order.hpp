#pragma once
#include <string_view>

namespace ringtrue::picture {

/// Names in the order in which people count: X2 before X10, `2` before `10`, `L1` before `L2`.
[[nodiscard]] bool comes_before(std::string_view a, std::string_view b);

}  // namespace ringtrue::picture
