#include "ringtrue/base/classes.hpp"

#include <boost/pending/disjoint_sets.hpp>
#include <numeric>

namespace ringtrue {

namespace {

using Sets = boost::disjoint_sets<std::uint8_t*, std::uint32_t*, boost::find_with_path_halving>;

}  // namespace

Classes::Classes(std::size_t members) : parent_(members), rank_(members, 0) {
  std::iota(parent_.begin(), parent_.end(), 0u);
}

void Classes::join(std::uint32_t a, std::uint32_t b) { Sets(rank_.data(), parent_.data()).union_set(a, b); }

std::uint32_t Classes::of(std::uint32_t member) {
  return Sets(rank_.data(), parent_.data()).find_set(member);
}

}  // namespace ringtrue
