#pragma once
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/decisions.hpp"
#include "ringtrue/model/earlier_netlist.hpp"
#include "ringtrue/model/io_results.hpp"
#include "ringtrue/model/meter.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

/// Brings readings and events that were added under earlier revisions of a netlist to the newest: they call
/// their points, and what was lifted or operated for them, as that one does, and readings that a step between
/// two revisions does not leave valid, as `retest` says, are in `Readings::outdated` with the reason. A step
/// to a netlist that only writes down what was there leaves all of them as they are, but for the names: what
/// was stale or unstable before it doesn't count after it either.
///
/// A reading stands in the newest revision just if it stands through every step since its own. One that did
/// not count before a step, and would after it, is outdated too.
/// @param earlier  oldest first; empty: nothing is done.
/// @param newest  the revision after the last of them; the others' graphs are made with `copper`.
/// @errors those of `compare`: a reading that names a meter which isn't there. Then nothing is changed.
/// Cost: per step and reading that of `retest`.
[[nodiscard]] Result<void> carry_over(const std::vector<EarlierNetlist>& earlier,
                                      const ConductionGraph& newest, const CopperSettings& copper,
                                      Readings& readings, Events& events, const Meters& meters,
                                      const MeterSettings& unnamed = {});

/// Says of each I/O result of an earlier revision in `IoResult::outdated` whether it still speaks of its
/// channel: in no step but those as built was the channel's row changed, or a clamp opened on its path, its
/// return or its common, or one of these led another way; and in no step at all did its point cease to be a
/// channel. Results then name their channel by its point, as the newest revision calls it, since an address or
/// tag may be another channel's there.
/// Cost: per step, that of `difference`; per result and step, that of `trace_channel`.
void carry_over(const std::vector<EarlierNetlist>& earlier, const ConductionGraph& newest,
                const CopperSettings& copper, IoResults& results);

/// Marks the decisions about findings of earlier revisions that must not pass for one of a finding today: in
/// a step to the newest a name in the finding came to mean something else, or, but for steps as built, one of
/// its clamps was opened. Cost: per step, that of `difference`; linear in the texts of the decisions.
void carry_over(const std::vector<EarlierNetlist>& earlier, const ConductionGraph& newest,
                const CopperSettings& copper, Decisions& decisions);

}  // namespace ringtrue
