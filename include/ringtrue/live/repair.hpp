#pragma once
#include <string>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/live/drawing.hpp"

namespace ringtrue {

/// A repair as an event says it.
struct Repair {
  std::string points;  ///< every clamp opened, `; ` between them
  std::string text;    ///< what was done
};

/// What is done when the likeliest explanation of a finding is put right as proposed.
/// @errors bad_call where nothing explains the finding, or only a misread value does.
[[nodiscard]] Result<Repair> repair_of(const Cluster& finding, const ConductionGraph& graph,
                                       const Readings& readings);

}  // namespace ringtrue
