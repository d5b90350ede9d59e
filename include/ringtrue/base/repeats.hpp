#pragma once
#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

namespace ringtrue {

/// Rows that may stand for the same two things as another row, whichever way round, in order. Left out is
/// what surely stands alone: of a million conductors, or readings, nearly all. Four bits for each thing tell,
/// by their numbers, so that rows that follow each other along a panel stay in the cache; only what is given
/// needs a table.
///
/// @param things   one more than the greatest number
/// @param pair_of  by row: the two numbers as an optional pair; nothing for a row that doesn't count
template <class PairOf>
[[nodiscard]] std::vector<std::uint32_t> that_may_repeat(std::uint32_t rows, std::size_t things,
                                                         PairOf pair_of) {
  std::vector<bool> low(things), low_again(things), high(things), high_again(things);
  const auto see = [](std::vector<bool>& once, std::vector<bool>& again, std::uint32_t number) {
    if (once[number])
      again[number] = true;
    else
      once[number] = true;
  };
  for (std::uint32_t row = 0; row < rows; ++row)
    if (const auto pair = pair_of(row)) {
      see(low, low_again, std::min(pair->first, pair->second));
      see(high, high_again, std::max(pair->first, pair->second));
    }
  std::vector<std::uint32_t> repeats;
  for (std::uint32_t row = 0; row < rows; ++row)
    if (const auto pair = pair_of(row); pair && low_again[std::min(pair->first, pair->second)] &&
                                        high_again[std::max(pair->first, pair->second)])
      repeats.push_back(row);
  return repeats;
}

}  // namespace ringtrue
