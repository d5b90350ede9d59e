#pragma once
#include "draft.hpp"

namespace ringtrue {

/// Plans what shows the breaks of what is wanted and conducts at rest: beeps at rest, and others with loops
/// opened. What loads leave in doubt is noted in Draft::unsure.
void cover_at_rest(Draft& draft);

}  // namespace ringtrue
