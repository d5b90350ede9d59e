#pragma once
#include <string>

namespace ringtrue::report {

/// Up to which volts a digital input is dark, from which it is lit. A sentence or two.
[[nodiscard]] std::string input_volts_words();

/// What these volts make of a digital input, by its type: a clause, `lights inputs of types 2 and 3...`
[[nodiscard]] std::string input_state_words(double volts);

}  // namespace ringtrue::report
