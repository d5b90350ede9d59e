#pragma once
#include <array>
#include <cstdint>
#include <functional>
#include <string_view>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/diagnose/possible_faults.hpp"

namespace ringtrue {

/// What readings say of a single fault.
enum class Fate : std::uint8_t {
  revealed,   ///< with it, a reading of the list comes out otherwise for certain
  left_out,   ///< no reading of the list does, but one that two probes can take would
  uncertain,  ///< something changes, but whether a meter shows it rests on the value of a load
  hidden,     ///< nothing that two probes can read changes
};
inline constexpr std::size_t k_fates = static_cast<std::size_t>(Fate::hidden) + 1;
[[nodiscard]] std::string_view word(Fate fate);  ///< `revealed`, `left-out`, `uncertain`, `hidden`

/// Why nothing changes.
enum class WhyHidden : std::uint8_t {
  none,            ///< it isn't hidden
  same_copper,     ///< the same points stay joined: other copper runs beside it
  no_probe_point,  ///< only points that are not there, of field devices that are absent, are joined or parted
  does_not_conduct,  ///< an element that none of the conditions lets conduct
};
[[nodiscard]] std::string_view word(WhyHidden why);

/// A reading that isn't in the list. Red lead on `from`.
struct ProposedReading {
  PointId from = PointId::none, to = PointId::none;
  std::uint16_t condition = 0;           ///< of the comparison
  ValueKind expected = ValueKind::beep;  ///< what the drawing lets it show: beep, open or ohms
};

/// `CertifiedFault::proposed` of a short that needs a reading between its own two points.
inline constexpr std::uint32_t k_own_points = 0xFFFFFFFFu;

/// A fault, what the readings say of it, and what shows that.
struct CertifiedFault {
  Fault fault;
  Fate fate = Fate::hidden;
  WhyHidden why = WhyHidden::none;
  ReadingId reading = ReadingId::none;  ///< where revealed, unless something else shows it
  /// Where left out or uncertain: in Certificate::proposed. With it the fault is revealed, or may be.
  std::uint32_t proposed = 0;
};

/// How many faults of each kind have each fate.
using FateCounts = std::array<std::array<std::size_t, k_fates>, k_fault_kinds>;

/// What readings say of every single fault, counted; those that they do not reveal one by one.
struct Certificate {
  std::size_t not_asked = 0;  ///< faults left out of account, see CertifyOptions::first_only
  FateCounts counts{};
  std::vector<ProposedReading> proposed;
  /// All that is left out, uncertain or hidden, but for shorts that are left out: the reading between their
  /// two points is what they need. Sorted by fault.
  std::vector<CertifiedFault> open;
};

/// What is asked, and what counts as shown without a reading.
struct CertifyOptions {
  /// Readings from this one on are planned: one in ohms stands for every value that the drawing lets the
  /// meter show. Those before were taken.
  std::size_t planned_from = static_cast<std::size_t>(-1);
  /// Faults that something else than a reading shows. They count as revealed, by no reading.
  std::function<bool(const Fault&)> shown_otherwise;
  /// Faults of these kinds are asked first, so that the readings proposed for them come first.
  std::function<bool(const Fault&)> comes_first;
  bool first_only = false;  ///< ask no others
  /// Asks only whether a reading reveals it. What none does counts as left out, without a reading proposed.
  bool revealed_only = false;
  /// What a reading proposed for an earlier fault shows counts as left out, though one that was taken may
  /// show it too: which are to be proposed comes out the same, sooner.
  bool proposed_is_enough = false;
  /// Called for every fault, in no order, if given.
  std::function<void(const CertifiedFault&)> each;
};

/// A fault as a hand makes it by being one part off at most: a landing or an exchange on one part, a shift, a
/// joint of neighbours; and every fault of an element by itself.
[[nodiscard]] bool is_near(const Fault& fault, const ConductionGraph& graph);
/// There are so many faults, some millions, that asking each would take very long.
[[nodiscard]] bool has_very_many_faults(const ConductionGraph& graph);

/// Says of every single fault of the universe (`possible_faults`, but for bad readings) whether the agreeing
/// readings of a comparison reveal it, and if not, whether two probes could under the conditions that they
/// were taken under.
///
/// Revealed: the reading named can't show the same with the fault. Hidden: under none of the conditions is
/// any point that can be probed joined to other copper than as drawn, nor does any load's way change; so
/// every reading stays what it is, but for the few ohms of copper itself. Both are exact under the model.
/// Time grows with the square of the number of conductors.
[[nodiscard]] Certificate certify(const ConductionGraph& graph, const Readings& readings,
                                  const Comparison& comparison, const CertifyOptions& options = {});

}  // namespace ringtrue
