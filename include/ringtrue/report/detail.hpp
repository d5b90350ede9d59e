#pragma once
#include <cstdint>

namespace ringtrue {

/// How long the lists of a text report may get.
enum class Detail : std::uint8_t {
  short_lists,  ///< the first few of each, and how many more there are
  everything,
};

}  // namespace ringtrue
