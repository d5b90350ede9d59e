#pragma once
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "load/made_texts.hpp"
#include "load/trade_words.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue {

namespace load {

/// A row between two ends, `from` and `to`, as a list may have it: the pin of an end may stand in a column of
/// its own, beside the device.
template <class Row>
struct WithPins : Row {
  std::string_view from_pin, to_pin;
};

/// Makes an end `DEVICE:PIN`; an end that says its pin stays as it is. A pin without a device keeps its
/// colon, so that whoever reads the point tells of it.
/// @errors bad_point in `pin_field`: the end says another pin than its column
[[nodiscard]] std::optional<Error> join_pin(std::string_view& end, std::string_view pin,
                                            std::string_view pin_field, MadeTexts& made);

/// Both ends of a row; the first mistake.
template <class Row>
[[nodiscard]] std::optional<Error> join_pins(WithPins<Row>& row, MadeTexts& made) {
  if (row.from_pin.empty() && row.to_pin.empty()) return std::nullopt;
  if (auto error = join_pin(row.from, row.from_pin, "from_pin", made)) return error;
  return join_pin(row.to, row.to_pin, "to_pin", made);
}

/// These words, then those for ends in two columns.
[[nodiscard]] std::vector<TradeWord> with_words_of_pins(std::span<const TradeWord> words);

using ConductorInList = WithPins<ConductorRow>;

}  // namespace load

template <>
std::span<const FieldOf<load::ConductorInList>> fields_of<load::ConductorInList>();

namespace load {

template <>
std::span<const TradeWord> trade_words_of<ConductorInList>();

}  // namespace load

}  // namespace ringtrue
