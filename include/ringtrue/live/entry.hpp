#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/live/drawing.hpp"

namespace ringtrue {

/// A reading as somebody logs it, looked up and judged by itself. Holds its texts.
struct Entry {
  std::string from, to, value, conditions;  ///< as they go into the job
  Readings reading;                         ///< the one
  Comparison comparison;                    ///< of that one alone
  [[nodiscard]] Standing standing() const { return comparison.standing.front(); }
};

/// Looks up what was typed: points without regard to case, a wire number alone (`to` empty) for both its
/// ends, a channel's tag or address for its point.
///
/// Its standing is that of the reading alone: whether another reading of the pair says otherwise, `compare`
/// of all readings tells. Thread-safe.
/// @errors what is wrong with a point (nearest names), the value, the condition or the meter. Then it must
/// not
///         be logged.
[[nodiscard]] Result<Entry> make_entry(const Drawing& drawing, const Meters& meters,
                                       const MeterSettings& unnamed, const ReadingRow& typed);

/// Clamps of a repair or a temporary change as somebody names them, as they go into the job: looked up as the
/// points of a reading are, `; ` between them.
/// @errors what is wrong with one of them.
[[nodiscard]] Result<std::string> find_clamps(const Drawing& drawing, std::string_view typed);

/// The clamps that are opened to put the faults right, each once and by its point; those of a bad reading are
/// none.
[[nodiscard]] std::vector<std::string> clamps_to_open(const Diagnosis& diagnosis,
                                                      const ConductionGraph& graph);

/// Tells a diagnosis from others of its panel, whatever its place among the findings: eight hexadecimal
/// digits made of its faults.
[[nodiscard]] std::string diagnosis_key(const Diagnosis& diagnosis);

}  // namespace ringtrue
