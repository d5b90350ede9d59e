#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/power/locate.hpp"

namespace ringtrue {

/// Why a voltage that somebody read at a point of a loop says nothing of it now.
enum class WhyNotTaken : std::uint8_t {
  newer,        ///< the same point was read again later
  lit_since,    ///< the input was read lit later: the loop conducted then
  stale,        ///< a clamp of the loop was opened later, for a repair or a change that still stands
  other_minus,  ///< the black lead was elsewhere than at the minus of the loop's supply
  no_side,      ///< a terminal without its side
  opened,       ///< the condition opens the loop, a fuse out say
  not_driven,   ///< no voltage, and nothing says that all before the point was closed
};
[[nodiscard]] std::string_view word(WhyNotTaken why);  ///< `newer`, `lit-since`, ...

/// Readings in volts at points of a loop, and what was seen of the input itself.
struct LoopReadings {
  /// A voltage that counts.
  struct Taken {
    ReadingId reading = ReadingId::none;
    LoopVolts volts;
  };
  /// One that does not.
  struct NotTaken {
    ReadingId reading = ReadingId::none;
    WhyNotTaken why = WhyNotTaken::newer;
  };
  std::vector<Taken> taken;         ///< by their place in the loop; of each point the newest
  std::vector<NotTaken> not_taken;  ///< in the order of the readings
  std::optional<ReadingId> seen;    ///< the newest `lit` or `dark` of the input
};

/// The note of a voltage that was measured with the input driven and dark, `dark A1:0.6`. No condition can
/// say that a simulator stands for the device.
[[nodiscard]] std::string driven_note(const InputLoop& loop, const ConductionGraph& graph);

/// Sorts out which voltages tell of the loop as it is. The newer of two is that with the later time, or
/// without times the later row. Repairs and changes count as for other readings (see DEVELOPERS.md,
/// Compare), with every clamp of the loop: each voltage hangs on all of it. Where a point behind the device
/// or an open contact shows no voltage, the condition must close them all, or the note say that the input
/// was driven.
[[nodiscard]] LoopReadings loop_readings(const ConductionGraph& graph, const InputLoop& loop,
                                         const Readings& readings, const Events& events,
                                         const Comparison& comparison);

}  // namespace ringtrue
