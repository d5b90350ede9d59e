#include "ringtrue/io/signal.hpp"

#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <string>
#include <utility>

namespace ringtrue {

namespace {

constexpr char k_to = '~';  // between the ends of a range, however it was written
constexpr std::array<std::pair<std::string_view, std::string_view>, 9> k_spellings = {{{"...", "~"},
                                                                                       {"..", "~"},
                                                                                       {"…", "~"},
                                                                                       {"–", "~"},
                                                                                       {"to", "~"},
                                                                                       {"−", "-"},
                                                                                       {"±", "+-"},
                                                                                       {"+/-", "+-"},
                                                                                       {"type", ""}}};

/// Without blanks, in lower case, with one spelling of everything.
std::string simplified(std::string_view text) {
  std::string plain;
  for (const char c : text)
    if (c != ' ') plain += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  for (const auto& [written, meant] : k_spellings)
    for (std::size_t at = plain.find(written); at != plain.npos; at = plain.find(written, at + meant.size()))
      plain.replace(at, written.size(), meant);
  return plain;
}

/// Takes a number off the front.
std::optional<double> take_number(std::string_view& text) {
  if (text.starts_with('+')) text.remove_prefix(1);
  double value = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  if (read.ec != std::errc{} || !std::isfinite(value)) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(read.ptr - text.data()));
  return value;
}

/// `4-20`, `0~10`, `+-10`: the ends, the lower one first.
std::optional<std::pair<double, double>> range_of(std::string_view text) {
  if (text.starts_with("+-")) {
    text.remove_prefix(2);
    const auto most = take_number(text);
    if (!most || *most <= 0 || !text.empty()) return std::nullopt;
    return std::pair(-*most, *most);
  }
  const auto low = take_number(text);
  if (!low || text.empty() || (text.front() != k_to && text.front() != '-')) return std::nullopt;
  text.remove_prefix(1);
  const auto high = take_number(text);
  if (!high || !text.empty() || *low >= *high) return std::nullopt;
  return std::pair(*low, *high);
}

std::optional<Signal> electrical(SignalKind kind, std::string_view range, double most) {
  const auto ends = range_of(range);
  if (!ends || ends->first < -most || ends->second > most) return std::nullopt;
  Signal signal;
  signal.kind = kind, signal.low = ends->first, signal.high = ends->second;
  return signal;
}

}  // namespace

std::optional<Signal> signal_from_text(std::string_view text) {
  constexpr double k_most_milliamps = 24, k_most_volts = 30;  // above these it is no signal
  const std::string plain = simplified(text);
  const std::string_view word = plain;
  Signal signal;
  for (const auto& [name, ohms] :
       {std::pair("pt100", 100.0), std::pair("pt500", 500.0), std::pair("pt1000", 1000.0)})
    if (word == name) return signal.kind = SignalKind::resistance, signal.ohms_at_zero = ohms, signal;
  for (const auto& [name, type] : {std::pair("k", Thermocouple::K), std::pair("j", Thermocouple::J)})
    if (word == name) return signal.kind = SignalKind::thermocouple, signal.thermocouple = type, signal;
  if (word.ends_with("ma"))
    return electrical(SignalKind::current, word.substr(0, word.size() - 2), k_most_milliamps);
  if (word.ends_with("v"))
    return electrical(SignalKind::voltage, word.substr(0, word.size() - 1), k_most_volts);
  return std::nullopt;
}

std::string_view unit_of(SignalKind kind) {
  constexpr std::array<std::string_view, 4> k_units = {"mA", "V", "Ω", "mV"};
  return k_units[static_cast<std::size_t>(kind)];
}

}  // namespace ringtrue
