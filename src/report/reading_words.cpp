#include "reading_words.hpp"

#include <algorithm>
#include <vector>

#include "value_words.hpp"

namespace ringtrue::report {

std::string reading_label(const Readings& readings, ReadingId reading) {
  const bool has_id = !readings.text.get(ReadingText::id, index(reading)).empty();
  return has_id ? readings.name(reading) : "line " + readings.name(reading);
}

std::string ReadingWords::points(ReadingId reading) const {
  const Reading& row = readings_.rows[index(reading)];
  std::string text(row.from);
  if (!row.to.empty()) text.append(" to ").append(row.to);
  return text;
}

std::string ReadingWords::condition(ReadingId reading, Detail detail) const {
  return condition_words(readings_.conditions[readings_.rows[index(reading)].condition], detail);
}

const View& ReadingWords::view(std::uint16_t condition) {
  std::unique_ptr<View>& view = views_[condition];
  if (!view) view = std::make_unique<View>(graph_, comparison_.conditions.overlays[condition].overlay);
  return *view;
}

std::string ReadingWords::expected(ReadingId reading) {
  const Reading& row = readings_.rows[index(reading)];
  const Probing& probing = comparison_.probings[index(reading)];
  if (probing.from == PointId::none) return "the drawing lacks a point of it";
  const OhmInterval ohms = expected_resistance(
      view(row.condition), probing, row.value.kind == ValueKind::ohms ? Counting::whole : Counting::limited);
  const bool is_beep_or_open = row.value.kind == ValueKind::beep || row.value.kind == ValueKind::open;
  const Ohms limit = beep_limit(comparison_.meters.of(reading));
  if (ohms.is_open()) return "drawn open";
  if (is_beep_or_open && ohms.hi <= limit) return "drawn a beep";
  const std::string range = range_text(ohms);
  if (is_beep_or_open && ohms.lo > limit) {
    rests_on_loads_ = true;
    return "drawn no beep (" + range + ")";
  }
  return "drawn " + range;
}

std::string ReadingWords::read_and_expected(ReadingId reading) {
  const Reading& row = readings_.rows[index(reading)];
  return "read " + to_text(row.value) + ", " + expected(reading);
}

}  // namespace ringtrue::report
