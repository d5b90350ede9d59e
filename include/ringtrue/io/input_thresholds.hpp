#pragma once
#include <array>
#include <cstdint>

namespace ringtrue {

/// Types of current-sinking inputs for 24 V DC. Source of names and values: IEC 61131-2, from memory.
enum class InputType : std::uint8_t { type_1, type_2, type_3 };
/// All of them.
inline constexpr std::array<InputType, 3> k_input_types = {InputType::type_1, InputType::type_2,
                                                           InputType::type_3};

/// Volts from the input to its common, milliamperes into it.
struct InputThresholds {
  double lowest_volts, dark_to_volts, lit_from_volts, highest_volts;
  double dark_to_ma;  ///< below it the input is dark, whatever its volts short of `lit_from_volts`
  bool takes_two_wire_sensors;
};
/// What the standard lets an input of the type do at which volts.
[[nodiscard]] InputThresholds thresholds(InputType type);

/// What the LED of an input shows.
enum class InputState : std::uint8_t { dark, undefined, lit };

/// What an input of this type must show at these volts; `undefined` also outside its rated range.
[[nodiscard]] InputState input_state(double volts, InputType type);

/// What every type must show; `undefined` where they differ.
[[nodiscard]] InputState input_state(double volts);

}  // namespace ringtrue
