#pragma once
#include <string>

#include "ringtrue/revise/retest.hpp"

namespace ringtrue {

/// Why a reading doesn't stand in a later revision, for people: `wire 1010 was moved at X3:8.int by revision
/// C`. `number`: of the later one, where its drawing names no revision of its own.
[[nodiscard]] std::string reason_of(const RetestedReading& reading, const ConductionGraph& before,
                                    const ConductionGraph& after, const Difference& difference,
                                    std::size_t number);

}  // namespace ringtrue
