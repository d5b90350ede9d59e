#pragma once
#include <cstdint>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/expect/explain.hpp"

namespace ringtrue {

/// A reading beside what the drawing predicts for it, and why.
struct NotedReading {
  ReadingId reading = ReadingId::none;
  std::size_t alike = 0;  ///< further readings of which the same is to be said: other members of a ring
  Expectation expectation;
};

/// Some of a kind, and how many there are in all.
struct NotedReadings {
  std::vector<NotedReading> some;
  std::size_t all = 0;
};

/// Readings that agree and yet don't mean what they seem to.
struct ReadingNotes {
  NotedReadings beeps;   ///< beeps that fit either way: a load may have made them
  NotedReadings opens;   ///< readings without a beep that fit either way: a load could have made one
  NotedReadings ohms;    ///< values in ohms that came about through loads; listed are those through several
  NotedReadings hiding;  ///< beeps from end to end of an element that may be broken all the same; a ring once
};

/// Picks them out, in file order, and explains up to `most` of each kind.
///
/// `proven` says by element what the readings prove; an element that none does, although a beep was read from
/// its one end to the other, is one whose break the beep hides.
/// Cost: linear in the readings, and `explain` for each one listed.
[[nodiscard]] ReadingNotes note_readings(const ConductionGraph& graph, const Readings& readings,
                                         const Comparison& comparison,
                                         const std::vector<std::uint8_t>& proven, std::size_t most);

}  // namespace ringtrue
