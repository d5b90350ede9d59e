#include "ringtrue/model/readings.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "model/wrong_field.hpp"
#include "ringtrue/model/number.hpp"

namespace ringtrue {

namespace {

std::string lower(std::string_view text) {
  std::string low(text);
  for (char& c : low)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return low;
}

bool cut_end(std::string_view& text, std::string_view tail) {
  if (!text.ends_with(tail)) return false;
  text = trimmed(text.substr(0, text.size() - tail.size()));
  return true;
}

constexpr std::string_view k_a_reading =
    "beep, open, OL, ohms such as 0.4 or 1.5k, volts such as 23.9V, lit, dark or count=2";

/// As sheets of readings have them, English and German; from memory. What may be said of the wire and not of
/// the meter, such as `ok`, `yes`, `x` and `-`, is none of them, nor is what a slip of the pen makes of a
/// number (`0.l`).
constexpr std::array<std::pair<std::string_view, ValueKind>, 19> k_value_words{
    {{"beep", ValueKind::beep},
     {"open", ValueKind::open},
     {"ol", ValueKind::over_range},
     {"lit", ValueKind::lit},
     {"dark", ValueKind::dark},
     {"beeps", ValueKind::beep},
     {"continuity", ValueKind::beep},
     {"piep", ValueKind::beep},
     {"piept", ValueKind::beep},
     {"durchgang", ValueKind::beep},
     {"no beep", ValueKind::open},
     {"no continuity", ValueKind::open},
     {"offen", ValueKind::open},
     {"piept nicht", ValueKind::open},
     {"kein durchgang", ValueKind::open},
     {"0l", ValueKind::over_range},
     {"o.l", ValueKind::over_range},
     {"\xE2\x88\x9E", ValueKind::over_range},
     {"unendlich", ValueKind::over_range}}};

tl::unexpected<Errors> no_reading(std::string_view text) {
  return fail({ErrorCode::bad_reading, "not a reading", {}, std::string(text), std::string(k_a_reading), {}});
}

Result<ReadingValue> number_value(std::string_view whole, std::string_view text, ValueKind kind,
                                  double scale) {
  const auto number = parse_number(trimmed(text));
  if (!number || !std::isfinite(*number * scale)) return no_reading(whole);
  if (kind == ValueKind::count && !as_int(*number)) return no_reading(whole);
  if (*number < 0 && kind != ValueKind::volts) return no_reading(whole);
  return ReadingValue{kind, *number * scale};
}

/// Cuts an SI suffix off a value in ohms and gives its factor.
double cut_scale(std::string_view& text) {
  if (text.empty()) return 1;
  const char last = text.back();
  const double scale = last == 'k' || last == 'K' ? 1e3 : last == 'M' ? 1e6 : last == 'm' ? 1e-3 : 1;
  if (scale != 1) text = trimmed(text.substr(0, text.size() - 1));
  return scale;
}

}  // namespace

Error bare_one() {
  return {ErrorCode::bad_reading,
          "a bare 1 may be ohms, a yes, or a meter over range",
          {},
          "1",
          "1 ohm, beep or OL",
          {}};
}

Result<ReadingValue> parse_value(std::string_view whole) {
  // The two commonest values first: a buzz-out is nearly all of them.
  if (whole == "beep") return ReadingValue{ValueKind::beep, 0};
  if (whole == "open") return ReadingValue{ValueKind::open, 0};
  std::string_view text = trimmed(whole);
  const std::string low = lower(text);
  for (const auto& [word, kind] : k_value_words)
    if (low == word) return ReadingValue{kind, 0};
  if (low.starts_with("count=")) return number_value(whole, text.substr(6), ValueKind::count, 1);
  if (low.ends_with("mv"))
    return number_value(whole, text.substr(0, text.size() - 2), ValueKind::volts, 1e-3);
  if (low.ends_with("v")) return number_value(whole, text.substr(0, text.size() - 1), ValueKind::volts, 1);
  // U+03A9 Greek omega and U+2126 ohm sign are both in use.
  if (!cut_end(text, "\xCE\xA9") && !cut_end(text, "\xE2\x84\xA6") && low.ends_with("ohm"))
    cut_end(text, text.substr(text.size() - 3));
  const double scale = cut_scale(text);
  return number_value(whole, text, ValueKind::ohms, scale);
}

std::string to_text(const ReadingValue& value) {
  const auto number = [&](const char* unit) {
    char buffer[40];
    std::snprintf(buffer, sizeof buffer, "%.6g%s", value.number, unit);
    return std::string(buffer);
  };
  switch (value.kind) {
    case ValueKind::beep:
      return "beep";
    case ValueKind::open:
      return "open";
    case ValueKind::over_range:
      return "OL";
    case ValueKind::ohms:
      return number(" \xCE\xA9");
    case ValueKind::volts:
      return number(" V");
    case ValueKind::lit:
      return "lit";
    case ValueKind::dark:
      return "dark";
    case ValueKind::count:
      return "count=" + number("");
  }
  return {};
}

std::string Readings::name(ReadingId reading) const {
  const std::string_view id = text.get(ReadingText::id, index(reading));
  return id.empty() ? std::to_string(rows[index(reading)].line) : std::string(id);
}

ReadingsBuilder::ReadingsBuilder(std::string file) { readings_.file = std::move(file); }

void ReadingsBuilder::keep(std::shared_ptr<const void> buffer) {
  readings_.buffers.push_back(std::move(buffer));
}

void ReadingsBuilder::reserve(std::size_t rows) {
  readings_.rows.reserve(rows);
  readings_.text.expect(rows);
}

std::uint16_t ReadingsBuilder::condition_number(std::string_view text, std::uint32_t line) {
  if (text == last_condition_) return last_condition_number_;
  auto& known = readings_.conditions;
  std::size_t number = static_cast<std::size_t>(std::find(known.begin(), known.end(), text) - known.begin());
  if (number == known.size()) {
    if (number > 0xFFFF) {
      add_error({ErrorCode::bad_condition,
                 "more than 65535 different conditions in one file",
                 {readings_.file, line, "", "conditions"},
                 "",
                 "",
                 {}});
      return 0;
    }
    known.emplace_back(text);
    readings_.condition_lines.push_back(line);
  }
  last_condition_ = text;
  last_condition_number_ = static_cast<std::uint16_t>(number);
  return last_condition_number_;
}

void ReadingsBuilder::add(const ReadingRow& row, std::uint32_t line, std::string_view netlist) {
  const auto complain = [&](Error error, std::string_view field) {
    error.place = {readings_.file, line, "", std::string(field)};
    add_error(std::move(error));
  };
  Reading reading;
  reading.from = row.from;
  reading.to = row.to;
  reading.line = line;
  if (auto value = parse_value(row.value))
    reading.value = *value;
  else
    return complain(std::move(value.error().front()), "value");
  const bool one_point = reading.value.kind >= ValueKind::volts;
  if (row.from.empty() || (row.to.empty() && !one_point))
    return complain(
        {ErrorCode::missing_field, "a reading needs two points", {}, "", "the point of the other lead", {}},
        row.from.empty() ? "from" : "to");
  if (const auto method = from_word<Method>(row.method))
    reading.method = *method;
  else
    return complain(
        {ErrorCode::unknown_kind, "unknown word", {}, std::string(row.method), listed_words<Method>(), {}},
        "method");
  if (!row.time.empty() && !seconds_of_time(row.time))
    return complain({ErrorCode::bad_time,
                     "not a time",
                     {},
                     std::string(row.time),
                     "RFC 3339, such as 2026-03-02T07:15:00Z",
                     {}},
                    "time");
  reading.condition = condition_number(row.conditions, line);
  const std::size_t at = readings_.rows.size();
  const auto set = [&](ReadingText field, std::string_view text) {
    if (!text.empty()) readings_.text.set(field, at, text);
  };
  using Text = ReadingText;
  set(Text::id, row.id), set(Text::value, row.value), set(Text::time, row.time), set(Text::by, row.by);
  set(Text::meter, row.meter), set(Text::witness, row.witness), set(Text::note, row.note);
  set(Text::netlist, netlist);
  readings_.rows.push_back(reading);
}

void ReadingsBuilder::add_error(Error error) {
  if (!has_enough_errors()) errors_.push_back(std::move(error));
}
void ReadingsBuilder::add_note(Note note) { readings_.notes.push_back(std::move(note)); }

Result<Readings> ReadingsBuilder::finish() {
  if (!errors_.empty()) return tl::unexpected(std::move(errors_));
  return std::move(readings_);
}

Result<Event> event_from_row(const EventRow& row, std::uint32_t line, std::string_view file) {
  const WrongField wrong(file, line);
  Event event;
  event.line = line;
  event.time = row.time, event.by = row.by, event.text = row.text, event.id = row.id;
  if (!seconds_of_time(row.time))
    return wrong(ErrorCode::bad_time, "not a time", "time", row.time,
                 "RFC 3339, such as 2026-03-02T07:15:00Z");
  if (const auto kind = from_word<EventKind>(row.kind))
    event.kind = *kind;
  else
    return wrong(ErrorCode::unknown_kind, "unknown word", "kind", row.kind, listed_words<EventKind>());
  std::string_view rest = row.points;
  while (!rest.empty()) {
    const std::size_t end = rest.find(';');
    const std::string_view point = trimmed(rest.substr(0, end));
    if (!point.empty()) event.points.emplace_back(point);
    rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  }
  if (event.points.empty())
    return wrong(ErrorCode::missing_field, "an event names every clamp that was opened", "points", "",
                 "points such as X1:5.int; K1:A1");
  return event;
}

}  // namespace ringtrue
