#pragma once
#include <span>
#include <string>
#include <string_view>

#include "load/bridges.hpp"
#include "ringtrue/model/netlist_builder.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue::load {

/// A word under which a field stands in the exports of the trade.
struct TradeWord {
  std::string_view field;  ///< its name in our own files
  std::string_view word;   ///< as `plain_word` gives it
  /// Only where the header has this field as well, under whatever name: a word that means two things.
  std::string_view beside = {};
  /// Only in the column right behind this field: a `Pin` behind the device.
  std::string_view behind = {};
};

/// English and German words for the fields of a kind of row. General knowledge of the trade, no source. Words
/// that leave the unit open (`length`) or the meaning (`number`) are not among them.
template <class Row>
[[nodiscard]] std::span<const TradeWord> trade_words_of() {
  return {};
}
template <>
std::span<const TradeWord> trade_words_of<ConductorRow>();
template <>
std::span<const TradeWord> trade_words_of<PartRow>();
template <>
std::span<const TradeWord> trade_words_of<ChannelRow>();
template <>
std::span<const TradeWord> trade_words_of<PotentialRow>();
template <>
std::span<const TradeWord> trade_words_of<BridgeRow>();
template <>
std::span<const TradeWord> trade_words_of<ReadingRow>();

/// A column's name in small letters, with one blank for whatever stands between its words: `Draht-Nr.` and
/// `DRAHT NR` are `draht nr`. UTF-8; of the other letters only the German ones are made small.
[[nodiscard]] std::string plain_word(std::string_view name);

}  // namespace ringtrue::load
