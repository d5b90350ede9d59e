#include "reading_words.hpp"

#include <charconv>
#include <cmath>

namespace ringtrue::report {

std::string ohms_text(Ohms ohms) {
  const bool kilo = ohms.value >= 1000;
  char buffer[32];
  // Three digits are more than a hand meter on its leads is worth.
  const auto written =
      std::to_chars(buffer, buffer + sizeof buffer, kilo ? ohms.value / 1000 : ohms.value, std::chars_format::general, 3);
  return std::string(buffer, written.ptr) + (kilo ? " kΩ" : " Ω");
}

std::string ReadingWords::points(ReadingId reading) const {
  const Reading& row = report_.readings.rows[index(reading)];
  std::string text(row.from);
  if (!row.to.empty()) text.append(" to ").append(row.to);
  return text;
}

std::string ReadingWords::condition(ReadingId reading) const {
  return report_.readings.conditions[report_.readings.rows[index(reading)].condition];
}

const View& ReadingWords::view(std::uint16_t condition) {
  std::unique_ptr<View>& view = views_[condition];
  if (!view)
    view = std::make_unique<View>(report_.graph, report_.comparison.conditions.overlays[condition].overlay);
  return *view;
}

std::string ReadingWords::expected(ReadingId reading) {
  const Reading& row = report_.readings.rows[index(reading)];
  const OhmInterval ohms =
      expected_resistance(view(row.condition), report_.comparison.probings[index(reading)], report_.meter);
  const bool is_beep_or_open = row.value.kind == ValueKind::beep || row.value.kind == ValueKind::open;
  if (ohms.is_open()) return "drawn open";
  if (is_beep_or_open && ohms.hi <= report_.meter.threshold) return "drawn a beep";
  const std::string range = ohms.hi == k_infinite_ohms ? ohms_text(ohms.lo) + " or more"
                                                       : ohms_text(ohms.lo) + " to " + ohms_text(ohms.hi);
  if (is_beep_or_open && ohms.lo > report_.meter.threshold) return "drawn no beep (" + range + ")";
  return "drawn " + range;
}

std::string ReadingWords::read_and_expected(ReadingId reading) {
  const Reading& row = report_.readings.rows[index(reading)];
  return "read " + to_text(row.value) + ", " + expected(reading);
}

}  // namespace ringtrue::report
