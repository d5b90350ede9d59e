#pragma once
#include "draft.hpp"

namespace ringtrue {

// Goal::identify. A wire landed elsewhere parts its net like a break, unless it lands on the same net, beyond
// a fuse, a link or a contact; so the copper of a net is read piece by piece while all of these are open.
// What that leaves is found by trying every fault (diagnose/certificate.hpp), and the readings proposed there
// are added.

enum class Pulled : std::uint8_t { what_may_beep, every_load };
/// Fuses out, breakers off, links open, plugs pulled; and loads unplugged, at least those that a buzzer's
/// current could pass.
[[nodiscard]] PlanCondition prepared(const Draft& draft, Pulled pulled);

/// Plans beeps over each piece of copper with all pulled that can be pulled. Comes first of all.
void cover_prepared(Draft& draft);

/// Plans what reveals every miswire, swap, shift and joined neighbours that the readings so far don't. Comes
/// last of all.
void identify(Draft& draft);

}  // namespace ringtrue
