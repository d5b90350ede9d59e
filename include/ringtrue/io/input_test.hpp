#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "ringtrue/io/hook_up.hpp"
#include "ringtrue/io/jumper_verdict.hpp"

namespace ringtrue {

/// How a channel is made to change without its field device.
enum class InputTestKind : std::uint8_t {
  operate,  ///< its contact is wired in the panel or door: operate that
  actuate,  ///< its device is, a sensor or the like: actuate that
  jumper,   ///< its contact is in the field and not connected: a jumper stands for it
  sensor,   ///< an electronic sensor: a sensor, or a simulator of one
  namur,    ///< a resistor or a simulator, never a plain jumper
  analog,   ///< a calibrator, or a meter at an output; the analog sheet says what to feed or to measure
  output,   ///< none here: a digital output is driven
  none,     ///< none; the verdict on a jumper says why
};
[[nodiscard]] std::string_view word(InputTestKind kind);

/// The test of one channel. The two terminals are the channel's own `return` and `field`.
struct InputTest {
  ChannelTrace trace;
  InputTestKind kind = InputTestKind::none;
  ElementId contact = ElementId::none;  ///< of `operate`
  /// Of `sensor`: where the device's further pin goes, as the minus of a PNP sensor; `none` if not drawn.
  PointId third = PointId::none;
  bool lit_at_rest = false;       ///< before anything is fitted or operated
  /// Further inputs that what is done here changes as well: of the same device, or on the same terminal.
  std::vector<std::size_t> also;
  std::optional<HookUp> hook_up;  ///< of an analog channel
  /// Of a digital input: on a plain jumper between the two terminals.
  std::optional<JumperVerdict> jumper;
  /// There is one, and what it fits or connects isn't refused. A sensor or resistor does the same harm as a
  /// jumper, but for what only a NAMUR input takes amiss.
  [[nodiscard]] bool is_there() const;
  /// What is wired in the panel or door is made to move, and nothing is fitted or connected.
  [[nodiscard]] bool is_by_what_is_wired() const {
    return kind == InputTestKind::operate || kind == InputTestKind::actuate;
  }
};

/// The test of each of the channels, in their order.
/// @param findings  what readings prove; null: there are none.
[[nodiscard]] std::vector<InputTest> input_tests(const ConductionGraph& graph,
                                                 std::span<const std::size_t> channels,
                                                 const Findings* findings, const JumperOptions& options = {});

}  // namespace ringtrue
