#pragma once
#include "draft.hpp"

namespace ringtrue {

/// Wants contacts that conduct only when something is operated, and plans beeps through them.
void cover_operated(Draft& draft);

/// Wants loads, and plans readings in ohms. At rest where that tells; else with everything unplugged that has
/// no known value, which is in parallel with much.
void cover_loads(Draft& draft);

}  // namespace ringtrue
