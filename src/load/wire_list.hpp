#pragma once
#include <optional>
#include <span>
#include <string_view>

#include "load/made_texts.hpp"
#include "load/trade_words.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue {

namespace load {

/// A conductor as a wire list has it: the pin of an end may stand in a column of its own, beside the device.
struct WireListRow : ConductorRow {
  std::string_view from_pin, to_pin;

  /// Makes the ends `DEVICE:PIN`; an end that says its pin stays as it is. A pin without a device keeps its
  /// colon, so that the builder tells of it.
  /// @errors bad_point: an end that says another pin than its column
  [[nodiscard]] std::optional<Error> join_pins(MadeTexts& made);
};

}  // namespace load

template <>
std::span<const FieldOf<load::WireListRow>> fields_of<load::WireListRow>();

namespace load {

/// Those of a conductor, and words for devices and pins.
template <>
std::span<const TradeWord> trade_words_of<WireListRow>();

}  // namespace load

}  // namespace ringtrue
