#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

namespace ringtrue {

// Codes for tests of two groups (GroupTests in plan.hpp): digit k (bit k) of a bundle's code says on which
// clip it is in test k. Two bundles that are joined by mistake make a beep in each test where their codes
// differ.

/// The fewest tests that part every two of so many bundles: ceil(log2 n), 0 for one and for none. Fewer can't
/// do: k digits make only 2^k different codes. Source: Kautz 1974, Testing for faults in wiring networks.
[[nodiscard]] std::uint32_t tests_parting(std::size_t bundles);

/// The same where no code is of zeros or of ones alone: ceil(log2(n + 2)), 0 for one and for none.
/// Source: Goel and McMahon 1982 (from memory).
[[nodiscard]] std::uint32_t tests_stuck(std::size_t bundles);

/// The same with each code and its complement: 2 ceil(log2 n). Source: Wagner 1987 (from memory).
[[nodiscard]] std::uint32_t tests_locating(std::size_t bundles);

/// A code of `tests_parting` digits for each bundle, no two the same. In each test the clips hold equally
/// many bundles, or one of them one more; so neither is empty.
[[nodiscard]] std::vector<std::uint32_t> codes_parting(std::size_t bundles);

}  // namespace ringtrue
