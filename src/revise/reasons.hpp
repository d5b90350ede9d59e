#pragma once
#include <string>

#include "ringtrue/revise/retest.hpp"

namespace ringtrue {

/// Why a reading doesn't stand in a later revision, for people: `wire 1010 was moved at X3:8.int by revision
/// C`. `number`: of the later one, where its drawing names no revision of its own.
[[nodiscard]] std::string reason_of(const RetestedReading& reading, const ConductionGraph& before,
                                    const ConductionGraph& after, const Difference& difference,
                                    std::size_t number);

/// `revision C`, or `revision 3 of the netlist` where the drawings don't tell theirs apart.
[[nodiscard]] std::string revision_name(const ConductionGraph& before, const ConductionGraph& after,
                                        std::size_t number);
/// What was done at a clamp that had to be opened, a point of the earlier revision: `wire 9 was moved at
/// X1:6.int`.
[[nodiscard]] std::string opened_clamp_text(const ConductionGraph& before, const ConductionGraph& after,
                                            const Difference& difference, PointId clamp);

}  // namespace ringtrue
