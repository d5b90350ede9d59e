#include "ringtrue/io/input_thresholds.hpp"

namespace ringtrue {

InputThresholds thresholds(InputType type) {
  switch (type) {
    case InputType::type_1:
      return {-3, 5, 15, 30, 0.5, false};
    case InputType::type_2:
      return {-3, 5, 11, 30, 2, true};
    case InputType::type_3:
      break;
  }
  return {-3, 5, 11, 30, 1.5, true};
}

InputState input_state(double volts, InputType type) {
  const InputThresholds at = thresholds(type);
  if (volts >= at.lowest_volts && volts <= at.dark_to_volts) return InputState::dark;
  if (volts >= at.lit_from_volts && volts <= at.highest_volts) return InputState::lit;
  return InputState::undefined;
}

InputState input_state(double volts) {
  const InputState first = input_state(volts, k_input_types.front());
  for (const InputType type : k_input_types)
    if (input_state(volts, type) != first) return InputState::undefined;
  return first;
}

}  // namespace ringtrue
