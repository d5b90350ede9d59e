#pragma once
#include <vector>

#include "logic/search.hpp"
#include "ringtrue/logic/drive.hpp"

namespace ringtrue::logic {

/// Fills `pairs` and `unpaired` of a drive whose slice and sources stand, for all inputs that the slice
/// reads.
/// @param free  the same sources with every input free to change by itself, to tell why one has no pair.
void find_pairs(Drive& drive, const std::vector<Source>& free, const DriveLimits& limits);

/// Puts the pairs into the order with the fewest changes between them, and each pair's members in the better
/// order: exactly up to eight pairs, else the nearest next. Only where nothing is remembered between them.
void order_pairs(Drive& drive);

}  // namespace ringtrue::logic
