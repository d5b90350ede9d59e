#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "ringtrue/base/threads.hpp"
#include "ringtrue/expect/judge.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/condition.hpp"
#include "ringtrue/model/meter.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

/// What a reading says of the drawing. Only the first three are judged and used.
enum class Standing : std::uint8_t {
  agrees,
  disagrees,
  either,
  unknown_point,  ///< the drawing lacks a point of it; of readings that are final also a part or a meter, or
                  ///< no such reading could be taken there
  stale,          ///< a later repair, temporary change or revision has touched it
  unstable,       ///< contradicts another current reading of the same pair and condition
};
[[nodiscard]] std::string_view word(
    Standing standing);  ///< `agrees`, `disagrees`, `either`, `unknown`, `stale`, `unstable`

/// The readings' distinct conditions, brought onto the graph once.
struct ConditionTable {
  std::vector<Condition> conditions;       ///< by Reading::condition
  std::vector<ConditionOverlay> overlays;  ///< likewise
};

/// The meters of a comparison, and which reading was taken with which.
class MeterTable {
 public:
  MeterTable() = default;
  /// `unnamed` is the meter of readings that name none; in a file with a single meter it's that one.
  MeterTable(const Meters& meters, const MeterSettings& unnamed);

  [[nodiscard]] const MeterSettings& of(ReadingId reading) const {
    return settings_[of_reading_.empty() ? 0 : of_reading_[index(reading)]];
  }
  /// Looks up the meters that the readings name.
  /// @errors unknown_object for one that the file of meters lacks (nearest names).
  [[nodiscard]] Errors assign(const Readings& readings, const Meters& meters);
  /// Takes over the meter of the one reading of another table of the same meters.
  void append(const MeterTable& of_one_reading);
  /// The same for one more reading that names none.
  void append_unnamed();
  [[nodiscard]] const MeterSettings& unnamed() const { return settings_.front(); }

 private:
  std::vector<MeterSettings> settings_{1};  ///< of readings without a meter, then the file's in order
  std::vector<std::uint16_t> of_reading_;   ///< empty: all have the first
};

/// Every reading looked up and judged.
struct Comparison {
  ConditionTable conditions;
  MeterTable meters;
  std::vector<Probing> probings;      ///< by reading; points are `none` where unknown
  std::vector<Standing> standing;     ///< by reading
  std::vector<Error> unknown_points;  ///< one per reading with an unknown point, with the nearest names
  std::vector<Error> unknown_clamps;  ///< that events name; they are passed over
  std::size_t agree = 0, disagree = 0, either = 0, unknown = 0, stale = 0, unstable = 0;
};

/// Judges every current reading against the drawing.
///
/// Stale and unstable readings are kept and counted, not used. Readings at points that the drawing lacks are
/// `unknown_point`; those that a later revision has outdated are stale, whatever the drawing lacks of them;
/// all others are judged. Nothing depends on the order of the rows.
/// A reading is judged by the meter it names in `meters`; one that names none, and every one where no meters
/// are given, by `unnamed` (or the only meter of the file).
/// @errors what a condition can be wrong in, an ambiguous bare name, or a meter that the file lacks, each
/// with its
///         file and line; then nothing was judged. None of readings that are final.
/// Cost: linear in the readings; per condition the nets that it touches.
[[nodiscard]] Result<Comparison> compare(const ConductionGraph& graph, const Readings& readings,
                                         const Events& events, const Meters& meters = {},
                                         const MeterSettings& unnamed = {}, Threads threads = {});

/// Judges the last of the readings and appends it to a comparison of all before it. False, with the
/// comparison as it was, if that isn't enough: under a new condition, before an event or where it may have
/// to do with what one made stale, or where there is another reading of the same pair and condition that
/// isn't stale.
/// @errors those of `compare` for that reading.
[[nodiscard]] Result<bool> compare_last(const ConductionGraph& graph, const Readings& readings,
                                        const Events& events, const Meters& meters,
                                        const MeterSettings& unnamed, Comparison& comparison);

}  // namespace ringtrue
