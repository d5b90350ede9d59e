#pragma once
#include <vector>

#include "logic/search.hpp"
#include "ringtrue/logic/drive.hpp"

namespace ringtrue::logic {

/// What of a drive pairs are looked for in.
struct PairSearch {
  const Program& slice;
  std::uint32_t output = k_none;
  const std::vector<Source>& sources;
  /// The same with every input free to change by itself, to tell why one has no pair.
  const std::vector<Source>& free;
  bool has_held = false;  ///< inputs that would decide with a held one in another state
  DriveLimits limits;
};

struct FoundPairs {
  PairSet set;
  bool is_whole = true, oscillates = false;
};

/// Pairs, and causes where there is none, of all inputs that the slice reads, or of those of them.
[[nodiscard]] FoundPairs find_pairs(const PairSearch& search, const std::vector<std::uint32_t>& inputs = {});

/// Brings the tests into order, pairs following along. Chained ones: the fewest changes from one to the next,
/// the first of them from `rest`; exactly up to ten tests, else the nearest next. Else those with one prior
/// state together, first the one in most pairs.
void order_tests(PairSet& set, const Choice& rest);

}  // namespace ringtrue::logic
