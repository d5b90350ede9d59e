#include "load/end_columns.hpp"

#include <string>

#include "load/csv_rows.hpp"
#include "load/text.hpp"

namespace ringtrue {

template <>
std::span<const FieldOf<load::ConductorInList>> fields_of<load::ConductorInList>() {
  using Row = load::ConductorInList;
  static const auto fields = load::fields_in_file<Row, ConductorRow>(
      {{"from_pin", &Row::from_pin, false}, {"to_pin", &Row::to_pin, false}});
  return fields;
}

namespace load {

namespace {

std::string_view without_side(std::string_view pin) {
  return pin.ends_with(".int") || pin.ends_with(".ext") ? pin.substr(0, pin.size() - 4) : pin;
}

Error two_pins(std::string_view field, std::string_view pin, std::string_view end) {
  Error error;
  error.code = ErrorCode::bad_point;
  error.message = "the end says another pin itself";
  error.place.field = field;
  error.found = excerpt(pin) + " beside " + excerpt(end);
  error.expected = "the pin in one of the two columns, or the same in both";
  return error;
}

}  // namespace

std::optional<Error> join_pin(std::string_view& end, std::string_view pin, std::string_view pin_field,
                              MadeTexts& made) {
  if (pin.empty() || (end == "-" && pin == "-"))
    return std::nullopt;  // "-" twice: the loose end of a spare core
  if (const std::size_t colon = end.rfind(':'); colon != end.npos) {
    if (without_side(end.substr(colon + 1)) == without_side(pin)) return std::nullopt;
    return two_pins(pin_field, pin, end);
  }
  end = made.keep(std::string(end).append(":").append(pin));
  return std::nullopt;
}

std::vector<TradeWord> with_words_of_pins(std::span<const TradeWord> words) {
  // A "terminal" beside a device is its pin; alone it's the whole point. A bare "pin" is that of the column
  // before it.
  static constexpr TradeWord pins[] = {
      {"from", "from device"},
      {"from", "from component"},
      {"from", "from part"},
      {"from", "from tag"},
      {"from", "from strip"},
      {"from", "device from"},
      {"from", "source device"},
      {"from", "source component"},
      {"from", "device 1"},
      {"from", "von ger\xC3\xA4t"},
      {"from", "von bmk"},
      {"from", "von betriebsmittel"},
      {"from", "quelle bmk"},
      {"from", "quelle ger\xC3\xA4t"},
      {"from", "bmk 1"},
      {"from", "bmk von"},
      {"to", "to device"},
      {"to", "to component"},
      {"to", "to part"},
      {"to", "to tag"},
      {"to", "to strip"},
      {"to", "device to"},
      {"to", "target device"},
      {"to", "destination device"},
      {"to", "target component"},
      {"to", "device 2"},
      {"to", "nach ger\xC3\xA4t"},
      {"to", "nach bmk"},
      {"to", "nach betriebsmittel"},
      {"to", "ziel bmk"},
      {"to", "ziel ger\xC3\xA4t"},
      {"to", "bmk 2"},
      {"to", "bmk nach"},
      {"from_pin", "from pin"},
      {"from_pin", "from pin no"},
      {"from_pin", "pin from"},
      {"from_pin", "source pin"},
      {"from_pin", "von pin"},
      {"from_pin", "von anschluss"},
      {"from_pin", "anschluss von"},
      {"from_pin", "quelle anschluss"},
      {"to_pin", "to pin"},
      {"to_pin", "to pin no"},
      {"to_pin", "pin to"},
      {"to_pin", "target pin"},
      {"to_pin", "destination pin"},
      {"to_pin", "nach pin"},
      {"to_pin", "nach anschluss"},
      {"to_pin", "anschluss nach"},
      {"to_pin", "ziel anschluss"},
      {"from_pin", "pin", {}, "from"},
      {"from_pin", "pin no", {}, "from"},
      {"from_pin", "terminal", {}, "from"},
      {"from_pin", "terminal no", {}, "from"},
      {"from_pin", "klemme", {}, "from"},
      {"from_pin", "klemme nr", {}, "from"},
      {"from_pin", "anschluss", {}, "from"},
      {"to_pin", "pin", {}, "to"},
      {"to_pin", "pin no", {}, "to"},
      {"to_pin", "terminal", {}, "to"},
      {"to_pin", "terminal no", {}, "to"},
      {"to_pin", "klemme", {}, "to"},
      {"to_pin", "klemme nr", {}, "to"},
      {"to_pin", "anschluss", {}, "to"},
      {"from_pin", "pin 1", "from"},
      {"from", "pin 1"},
      {"from_pin", "terminal 1", "from"},
      {"from", "terminal 1"},
      {"from_pin", "klemme 1", "from"},
      {"from", "klemme 1"},
      {"from_pin", "anschluss 1", "from"},
      {"from", "anschluss 1"},
      {"from_pin", "klemme von", "from"},
      {"from", "klemme von"},
      {"to_pin", "pin 2", "to"},
      {"to", "pin 2"},
      {"to_pin", "terminal 2", "to"},
      {"to", "terminal 2"},
      {"to_pin", "klemme 2", "to"},
      {"to", "klemme 2"},
      {"to_pin", "anschluss 2", "to"},
      {"to", "anschluss 2"},
      {"to_pin", "klemme nach", "to"},
      {"to", "klemme nach"},
      {"from_pin", "from terminal", "from"},
      {"from", "from terminal"},
      {"from_pin", "source terminal", "from"},
      {"from", "source terminal"},
      {"from_pin", "von klemme", "from"},
      {"from", "von klemme"},
      {"to_pin", "to terminal", "to"},
      {"to", "to terminal"},
      {"to_pin", "target terminal", "to"},
      {"to", "target terminal"},
      {"to_pin", "destination terminal", "to"},
      {"to", "destination terminal"},
      {"to_pin", "nach klemme", "to"},
      {"to", "nach klemme"},
  };
  std::vector<TradeWord> all(words.begin(), words.end());
  all.insert(all.end(), std::begin(pins), std::end(pins));
  return all;
}

template <>
std::span<const TradeWord> trade_words_of<ConductorInList>() {
  static const std::vector<TradeWord> words = with_words_of_pins(trade_words_of<ConductorRow>());
  return words;
}

}  // namespace load

}  // namespace ringtrue
