#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/kinds.hpp"

namespace ringtrue {

/// One channel tried with the panel powered: what was done to it, and what was seen.
struct IoResult {
  std::string channel;  ///< as written: its point, address or tag
  Stimulus stimulus = Stimulus::jumper;
  std::string at, given, expected;  ///< where the stimulus was put, what it was, what was to be seen
  LedSeen led = LedSeen::not_looked;
  BitRead bit = BitRead::not_read;
  std::string value;  ///< of an analog channel, or what was measured at an output
  OnlyThis only_this = OnlyThis::not_stated;
  IoVerdict verdict = IoVerdict::fail;  ///< the tester's own
  std::string reason, time, by, witness, meter, revision, id;
  std::string supersedes;  ///< id of the result that this one withdraws
  std::uint32_t line = 0;
  std::string netlist;  ///< see NetlistMark
  /// Of one from an earlier revision of the netlist: why it says nothing of the newest; empty if it does.
  std::optional<std::string> outdated;
};

/// Every result, in the order of the file or job.
struct IoResults {
  std::string file;
  std::vector<IoResult> rows;
  std::vector<Note> notes;
};

/// A row as the files have it; see IoResult.
struct IoResultRow {
  std::string_view channel, stimulus, at, given, expected, led, bit, value, only_this, verdict, reason, time,
      by, witness, meter, revision, id, supersedes;
};

/// Turns a row into a result.
/// @errors missing_field (also of a withdrawal that names no result), unknown_kind, bad_time.
[[nodiscard]] Result<IoResult> io_result_from_row(const IoResultRow& row, std::uint32_t line,
                                                  std::string_view file);

/// What a result shows of a channel of this type, whatever its verdict says: `pass`, `fail`, or, for an input
/// whose pass rests on too little, `LED only` (the bit was not read) or `incomplete` (the LED, or whether
/// another channel changed, was not looked at).
[[nodiscard]] std::string_view shown_by(const IoResult& result, ChannelType type);

}  // namespace ringtrue
