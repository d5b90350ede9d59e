#pragma once
#include <string>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/report/panel_words.hpp"

namespace ringtrue::report {

using ringtrue::range_text;

/// `0.4 Ω`, `1.5 kΩ`: three digits, which is more than a hand meter on its leads is worth.
[[nodiscard]] std::string ohms_text(Ohms ohms);

/// The value of an element and where it comes from: `14 m of 0.75 mm²: up to 0.45 Ω`,
/// `115 Ω ± 10 %: 104 to 127 Ω`, `576 Ω hot, less when cold: 38.4 to 576 Ω`.
[[nodiscard]] std::string value_words(ElementId element, OhmInterval ohms, const ConductionGraph& graph);

}  // namespace ringtrue::report
