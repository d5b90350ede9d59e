#pragma once
#include <string>
#include <string_view>

#include "ringtrue/base/error.hpp"
#include "ringtrue/live/io_test.hpp"
#include "ringtrue/model/io_results.hpp"

namespace ringtrue {

/// What somebody says of a channel that was tried; empty: nothing was said.
struct IoSeen {
  std::string_view stimulus;        ///< else that of the channel's own test
  std::string_view verdict;         ///< the tester's own, else it follows from what was seen
  std::string_view led, back;       ///< of an input, `lit` or `dark`: what was done, and when brought back
  std::string_view bit, only_this;  ///< of an input
  std::string_view value;           ///< measured; of an analog channel what was seen, in its unit
  std::string_view percent;         ///< of span, of an analog channel
  std::string_view seen_as;         ///< `raw`: counts instead of the unit
  std::string_view responded;       ///< of an output: `yes`, `no`
  std::string_view on, off;         ///< of an output: volts at its load
  std::string_view unproven;        ///< who takes it on themselves that a jumper is on hold
  std::string_view at, given, expected, reason;    ///< in place of those of the test, or behind its reason
  double tolerance_pct = k_default_tolerance_pct;  ///< of an analog channel, in % of span
};

/// A result as it goes into the job, judged. Holds its texts.
struct IoEntry {
  std::string channel, stimulus, at, given, expected, led, bit, value, only_this, verdict, reason, revision;
  std::string shown;  ///< what the result shows by itself: `pass`, `fail`, `LED only`, `incomplete`
  /// Without id, time, and who.
  [[nodiscard]] IoResultRow row() const;
};

/// Makes a result of what was seen: place, stimulus, what was given and expected are those of the channel's
/// own test, and the verdict follows from what was expected and seen. The one way in which results are made.
///
/// Thread-safe.
/// @errors bad_call for a jumper, or whatever stands for one, that is refused, or on hold with nobody's word
///         for it; for a channel that has no test, unless the stimulus is named; for what this type of
///         channel can't show; for a pass that what was seen speaks against. missing_field where nothing was
///         seen. bad_number, unknown_kind.
[[nodiscard]] Result<IoEntry> make_io_entry(const IoTest& test, const ConductionGraph& graph,
                                            const IoSeen& seen);

/// The row that withdraws a result; without id, time, and who. Refers to `result`.
[[nodiscard]] IoResultRow withdrawal_of(const IoResult& result);

}  // namespace ringtrue
