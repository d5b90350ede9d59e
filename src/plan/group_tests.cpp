#include "group_tests.hpp"

#include <bit>

namespace ringtrue {

namespace {

std::uint32_t log2_up(std::size_t n) { return n < 2 ? 0 : static_cast<std::uint32_t>(std::bit_width(n - 1)); }

std::uint32_t mask_of(std::uint32_t digits) {
  return static_cast<std::uint32_t>((std::uint64_t{1} << digits) - 1);
}

}  // namespace

std::uint32_t tests_parting(std::size_t bundles) { return log2_up(bundles); }
std::uint32_t tests_stuck(std::size_t bundles) { return bundles < 2 ? 0 : log2_up(bundles + 2); }
std::uint32_t tests_locating(std::size_t bundles) { return 2 * log2_up(bundles); }

/// In pairs, each code followed by its complement, so that a pair puts one bundle on each clip in every test.
/// The first of a pair begins with a zero, so no two pairs share a code.
std::vector<std::uint32_t> codes_parting(std::size_t bundles) {
  const std::uint32_t digits = tests_parting(bundles);
  std::vector<std::uint32_t> codes(bundles);
  for (std::size_t i = 0; i < bundles; ++i) {
    const auto code = static_cast<std::uint32_t>(i / 2);
    codes[i] = i % 2 == 0 ? code : ~code & mask_of(digits);
  }
  return codes;
}

}  // namespace ringtrue
