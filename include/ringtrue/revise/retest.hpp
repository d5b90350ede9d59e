#pragma once
#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/revise/difference.hpp"

namespace ringtrue {

/// Why a reading stays valid in another revision, or why not.
enum class Validity : std::uint8_t {
  valid,               ///< what it must show, what it proves and every clamp on that are untouched
  did_not_count,       ///< it was stale, unstable or at a point that the drawing lacked, before the revision
  no_longer_possible,  ///< a point, or what was lifted, operated or pulled for it, is gone
  clamp_touched,       ///< a clamp has to be opened that it rests on
  prediction_changed,  ///< it must, or may, show something else now
  proof_changed,       ///< it proves something else now
  not_predicted,       ///< volts, lamps and counts aren't predicted, and more than numbers has changed
};
inline constexpr std::size_t k_validities = static_cast<std::size_t>(Validity::not_predicted) + 1;
[[nodiscard]] std::string_view word(Validity validity);  ///< `valid`, `did-not-count`, ...

/// What became of one reading.
struct RetestedReading {
  Validity validity = Validity::valid;
  /// With `clamp_touched`: one of those, a point before the revision.
  PointId clamp = PointId::none;
  /// What it proves alone, before the revision.
  std::vector<ElementId> proves;
};

/// Old readings, and what they are worth in another revision.
struct Retest {
  std::vector<RetestedReading> readings;  ///< by reading
  std::array<std::size_t, k_validities> counts{};
  /// The readings as the later revision calls their points and conditions: lifted ends of renumbered
  /// conductors carry the new number. Final, see Readings.
  Readings renamed;
  /// They judged by the later revision; those not valid are stale.
  Comparison comparison;
};

/// Says of each reading whether it still stands after a revision.
///
/// A beep or a value in ohms rests on the elements that have to conduct for it: it stands if the meter must
/// or may show the same as before, without the elements that hang on touched clamps too, and if the same
/// elements are proven by it. `open` and `OL`, and whatever else says that two nets are apart, need both nets
/// to be the same points, with no touched clamp on either. A renumbering alone touches nothing. `comparison`
/// is that of the readings with the earlier revision.
/// @errors of `compare`: a reading that names a meter which isn't there.
/// Cost: per reading the nets of its probes, some times over.
[[nodiscard]] Result<Retest> retest(const ConductionGraph& before, const ConductionGraph& after,
                                    const Difference& difference, const Readings& readings,
                                    const Comparison& comparison, const Meters& meters,
                                    const MeterSettings& unnamed = {});

}  // namespace ringtrue
