#include "load/trade_words.hpp"

namespace ringtrue::load {

template <>
std::span<const TradeWord> trade_words_of<ConductorRow>() {
  static constexpr TradeWord words[] = {
      {"wire", "wire no"},
      {"wire", "wire nr"},
      {"wire", "wire number"},
      {"wire", "wire id"},
      {"wire", "conductor"},
      {"wire", "conductor no"},
      {"wire", "draht"},
      {"wire", "draht nr"},
      {"wire", "drahtnummer"},
      {"wire", "leiter"},
      {"wire", "leiter nr"},
      {"wire", "leiternummer"},
      {"wire", "ferrule"},
      {"wire", "ferrule no"},
      {"wire", "ferrule nr"},
      {"wire", "ferrule number"},
      {"core", "ader", "cable"},
      {"wire", "ader"},
      {"from", "von"},
      {"from", "source"},
      {"from", "quelle"},
      {"from", "end 1"},
      {"from", "end a"},
      {"from", "start"},
      {"from", "anfang"},
      {"from", "point 1"},
      {"from", "punkt 1"},
      {"to", "nach"},
      {"to", "target"},
      {"to", "destination"},
      {"to", "ziel"},
      {"to", "end 2"},
      {"to", "end b"},
      {"to", "end"},
      {"to", "ende"},
      {"to", "point 2"},
      {"to", "punkt 2"},
      {"kind", "type"},
      {"kind", "art"},
      {"kind", "typ"},
      {"colour", "color"},
      {"colour", "farbe"},
      {"colour", "aderfarbe"},
      {"mm2", "mm²"},
      {"mm2", "csa"},
      {"mm2", "csa mm²"},
      {"mm2", "csa mm2"},
      {"mm2", "cross section"},
      {"mm2", "cross section mm²"},
      {"mm2", "cross section mm2"},
      {"mm2", "querschnitt"},
      {"mm2", "querschnitt mm²"},
      {"mm2", "querschnitt mm2"},
      {"awg", "gauge awg"},
      {"awg", "awg gauge"},
      {"length_m", "length m"},
      {"length_m", "länge m"},
      {"length_m", "laenge m"},
      {"cable", "cable no"},
      {"cable", "cable nr"},
      {"cable", "cable number"},
      {"cable", "kabel"},
      {"cable", "kabel nr"},
      {"cable", "kabelnummer"},
      {"core", "core no"},
      {"core", "core nr"},
      {"core", "core number"},
      {"core", "ader nr"},
      {"core", "adernummer"},
      {"sheet", "page"},
      {"sheet", "sheet no"},
      {"sheet", "seite"},
      {"sheet", "blatt"},
      {"sheet", "blatt nr"},
      {"sheet", "drawing ref"},
      {"potential", "potenzial"},
      {"note", "notes"},
      {"note", "remark"},
      {"note", "remarks"},
      {"note", "comment"},
      {"note", "bemerkung"},
      {"note", "kommentar"},
  };
  return words;
}

template <>
std::span<const TradeWord> trade_words_of<PartRow>() {
  static constexpr TradeWord words[] = {
      {"part", "device"},
      {"part", "device tag"},
      {"part", "component"},
      {"part", "tag"},
      {"part", "designation"},
      {"part", "bmk"},
      {"part", "betriebsmittel"},
      {"part", "betriebsmittelkennzeichen"},
      {"part", "kennzeichen"},
      {"kind", "type"},
      {"kind", "art"},
      {"kind", "typ"},
      {"a", "pin 1"},
      {"a", "pin a"},
      {"a", "anschluss 1"},
      {"b", "pin 2"},
      {"b", "pin b"},
      {"b", "anschluss 2"},
      {"ohms", "ohm"},
      {"ohms", "resistance ohm"},
      {"ohms", "widerstand ohm"},
      {"volts", "voltage v"},
      {"volts", "spannung v"},
      {"amps", "rated current a"},
      {"amps", "nennstrom a"},
      {"actuated_by", "actuated by"},
      {"actuated_by", "betätigt von"},
      {"place", "location"},
      {"place", "einbauort"},
      {"place", "ort"},
      {"sheet", "page"},
      {"sheet", "seite"},
      {"sheet", "blatt"},
      {"note", "remark"},
      {"note", "remarks"},
      {"note", "comment"},
      {"note", "bemerkung"},
      {"note", "kommentar"},
  };
  return words;
}

template <>
std::span<const TradeWord> trade_words_of<ChannelRow>() {
  static constexpr TradeWord words[] = {
      {"point", "channel"},
      {"point", "kanal"},
      {"point", "channel point"},
      {"type", "signal type"},
      {"type", "signalart"},
      {"type", "typ"},
      {"type", "i o"},
      {"type", "e a"},
      {"address", "adresse"},
      {"address", "plc address"},
      {"address", "sps adresse"},
      {"tag", "symbol"},
      {"tag", "kennzeichen"},
      {"text", "description"},
      {"text", "function text"},
      {"text", "bezeichnung"},
      {"text", "funktionstext"},
      {"text", "beschreibung"},
      {"field", "field terminal"},
      {"field", "feldklemme"},
      {"return", "return terminal"},
      {"return", "rückleiter"},
      {"device", "field device"},
      {"device", "feldgerät"},
      {"unit", "einheit"},
      {"module", "baugruppe"},
      {"low", "range low"},
      {"high", "range high"},
  };
  return words;
}

template <>
std::span<const TradeWord> trade_words_of<PotentialRow>() {
  static constexpr TradeWord words[] = {
      {"name", "potential"},  {"name", "potenzial"},   {"kind", "type"},    {"kind", "art"},
      {"volts", "voltage v"}, {"volts", "spannung v"}, {"point", "origin"}, {"point", "ursprung"},
  };
  return words;
}

template <>
std::span<const TradeWord> trade_words_of<BridgeRow>() {
  static constexpr TradeWord words[] = {
      {"strip", "terminal strip"},
      {"strip", "klemmleiste"},
      {"strip", "leiste"},
      {"terminals", "bridge"},
      {"terminals", "bridges"},
      {"terminals",
       "br\xC3\xBC"
       "cke"},
      {"terminals", "link"},
      {"terminals",
       "steckbr\xC3\xBC"
       "cke"},
      {"terminals", "querverbinder"},
      {"sheet", "seite"},
      {"sheet", "page"},
      {"sheet", "blatt"},
      {"note", "remark"},
      {"note", "bemerkung"},
  };
  return words;
}

template <>
std::span<const TradeWord> trade_words_of<ReadingRow>() {
  static constexpr TradeWord words[] = {
      {"from", "von"},
      {"to", "nach"},
      {"value", "reading"},
      {"value", "result"},
      {"value", "wert"},
      {"value", "messwert"},
      {"value", "anzeige"},
      {"value", "ergebnis"},
      {"note", "remark"},
      {"note", "remarks"},
      {"note", "comment"},
      {"note", "bemerkung"},
      {"note", "kommentar"},
      {"meter", "messger\xC3\xA4t"},
      {"conditions", "condition"},
      {"conditions", "bedingung"},
      {"conditions", "bedingungen"},
  };
  return words;
}

std::string plain_word(std::string_view name) {
  constexpr std::string_view k_between = " \t\r\n.:-_/()[],";
  std::string word;
  bool is_between = false;
  for (std::size_t i = 0; i < name.size(); ++i) {
    char c = name[i];
    const bool is_blank =
        k_between.find(c) != k_between.npos || (c == '\xC2' && name.substr(i, 2) == "\xC2\xA0");
    if (is_blank) {
      if (c == '\xC2') ++i;
      is_between = !word.empty();
      continue;
    }
    if (is_between) word += ' ';
    is_between = false;
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    const bool is_umlaut =
        !word.empty() && word.back() == '\xC3' && (c == '\x84' || c == '\x96' || c == '\x9C');
    word += is_umlaut ? static_cast<char>(c + 0x20) : c;
  }
  return word;
}

}  // namespace ringtrue::load
