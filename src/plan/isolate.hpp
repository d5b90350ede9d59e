#pragma once
#include "draft.hpp"

namespace ringtrue {

/// Isolation::all: plans two-group tests, with everything out and unplugged that can be.
void isolate_all(Draft& draft);

}  // namespace ringtrue
