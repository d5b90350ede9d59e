#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/job/job.hpp"
#include "ringtrue/live/entry.hpp"
#include "ringtrue/live/live_job.hpp"

// What is said while readings are logged: whole lines, each with its end.

namespace ringtrue::cli::log {

/// Stress on a terminal; nothing elsewhere.
enum class Colour : bool { off, on };

/// `1 finding`, `2 findings`
[[nodiscard]] std::string counted(std::size_t number, std::string_view noun);

/// `X1:5.int to K3:A1, S1 operated`
[[nodiscard]] std::string points_words(std::string_view from, std::string_view to,
                                       std::string_view condition);

/// `R12  X1:5.int to K3:A1, open: contradicts the drawing: read open, drawn a beep`
[[nodiscard]] std::string acknowledgement(std::string_view id, const Entry& entry, const Drawing& drawing,
                                          Colour colour);

/// `X1:5.int to K3:A1: drawn a beep`; of an entry with any value.
[[nodiscard]] std::string expectation(const Entry& entry, const Drawing& drawing);

/// Where to put the probes, what for, and what is to be done before.
/// @param condition  what is set now.
[[nodiscard]] std::string proposal(const Upcoming& reading, std::string_view condition,
                                   const ConductionGraph& graph, Colour colour);

/// One line per reading.
[[nodiscard]] std::string list_of_upcoming(std::span<const Upcoming> readings);

/// `R7  X1:5.int to K3:A1, open, Ann: superseded by R8`
[[nodiscard]] std::string journal_line(const JournalReading& row);

/// The temporary changes that are still open, numbered; nothing if there are none.
[[nodiscard]] std::string open_changes(const Events& events);

/// Readings, findings, channels and the plan, counted.
[[nodiscard]] std::string progress(LiveJob& live);

/// The forms of a line and all commands.
[[nodiscard]] std::string help_text();

}  // namespace ringtrue::cli::log
