#include "input_volts.hpp"

#include <vector>

#include "ringtrue/io/input_thresholds.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

std::string input_volts_words() {
  const auto volts = [](double v) { return number_text(v) + " V"; };
  const InputThresholds first = thresholds(InputType::type_1), others = thresholds(InputType::type_2);
  return "If a channel does otherwise, measure it to its common: a 24 V DC input is dark for certain up to " +
         volts(first.dark_to_volts) + ", lit for certain from " + volts(first.lit_from_volts) +
         " (types 2 and 3: " + volts(others.lit_from_volts) +
         "; IEC 61131-2, from memory), and in between neither. ringtrue locate says where its path breaks.";
}

std::string input_state_words(double volts) {
  switch (input_state(volts)) {
    case InputState::dark:
      return "leaves a 24 V DC input dark";
    case InputState::lit:
      return "lights a 24 V DC input";
    case InputState::undefined:
      break;
  }
  std::vector<std::string> lit;
  for (const InputType type : k_input_types)
    if (input_state(volts, type) == InputState::lit)
      lit.push_back(std::to_string(static_cast<int>(type) + 1));
  if (lit.empty()) return "neither lights a 24 V DC input for certain nor leaves it dark for certain";
  return "lights a 24 V DC input of type " + joined(lit, " and ") + ", no other for certain";
}

}  // namespace ringtrue::report
