#pragma once
#include <string>
#include <vector>

#include "drive_words.hpp"

namespace ringtrue::report {

/// One thing done and what the output does then.
struct DriveLine {
  std::size_t number = 0;
  std::string act, expect;
};

/// Lines that start from the same state.
struct DriveGroup {
  std::string heading;  ///< empty for the sequence
  std::vector<DriveLine> lines;
};

/// What shows of each input that it alone decides.
struct DecidingLines {
  std::string how;  ///< what holds for all of them
  std::vector<DriveGroup> groups;
  std::vector<std::string> pairs;     ///< `START 3, 4`
  std::vector<std::string> unpaired;  ///< `START, HAND: no pair, masked...`, alike ones together
};

/// Steps from rest, numbered on from `number`, which is left at the last.
[[nodiscard]] DriveGroup sequence_lines(const DriveWords& words, std::size_t& number);
[[nodiscard]] DecidingLines deciding_lines(const DriveWords& words, const logic::PairSet& set,
                                           std::size_t& number);

}  // namespace ringtrue::report
