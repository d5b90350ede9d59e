#include "record/sheets.hpp"
#include "ringtrue/report/panel_words.hpp"

namespace ringtrue::record {

namespace {

Tone tone(Standing standing) {
  switch (standing) {
    case Standing::agrees:
      return Tone::good;
    case Standing::disagrees:
      return Tone::bad;
    default:
      return Tone::open;
  }
}

/// What the drawing lets one expect, of a reading whose points it has and that is no voltage or count.
std::string drawn(const RecordSource& source, ReadingId reading) {
  const Readings& readings = source.contents.panel.readings;
  const bool is_judged = readings.rows[index(reading)].value.kind < ValueKind::volts &&
                         source.comparison.probings[index(reading)].from != PointId::none;
  if (!is_judged) return {};
  constexpr std::string_view k_begins = "drawn ";  // the column is headed so
  std::string words = drawn_words(source.graph, readings, source.comparison, reading);
  return words.starts_with(k_begins) ? words.substr(k_begins.size()) : words;
}

RecordSheet sheet_of(const RecordSource& source, RecordSheet sheet, bool (*is_on_it)(Method)) {
  sheet.columns = {{"id", "Id"},
                   {"from", "From (red)"},
                   {"to", "To (black)"},
                   above("conditions", "Conditions"),
                   {"value", "Read"},
                   {"drawn", "Drawn"},
                   {"state", "Judged"},
                   above("method", "Method"),
                   above("meter", "Meter"),
                   above("by", "By"),
                   {"time", "Time", Kind::time},
                   above("witness", "Witness"),
                   {"note", "Note"}};
  const Readings& readings = source.contents.panel.readings;
  for (std::uint32_t i = 0; i < readings.rows.size(); ++i) {
    const Reading& row = readings.rows[i];
    if (!is_on_it(row.method)) continue;
    const auto text = [&](ReadingText field) { return readings.text.get(field, i); };
    const Standing standing = source.comparison.standing[i];
    sheet.rows.push_back({readings.name(ReadingId{i}),
                          row.from,
                          row.to,
                          readings.conditions[row.condition],
                          text(ReadingText::value),
                          drawn(source, ReadingId{i}),
                          {std::string(word(standing)), tone(standing)},
                          word(row.method),
                          text(ReadingText::meter),
                          text(ReadingText::by),
                          text(ReadingText::time),
                          text(ReadingText::witness),
                          text(ReadingText::note)});
  }
  return sheet;
}

}  // namespace

RecordSheet readings_sheet(const RecordSource& source) {
  return sheet_of(source,
                  {"readings",
                   "Readings",
                   "Every current reading, as it was logged.",
                   "No reading was taken: no wiring was tested.",
                   {},
                   {}},
                  [](Method method) { return method != Method::low_ohm && method != Method::insulation; });
}

RecordSheet bonding_sheet(const RecordSource& source) {
  return sheet_of(source,
                  {"bonding",
                   "Protective bonding",
                   "Readings by a low-resistance meter.",
                   "None was taken: protective bonding was not tested.",
                   {},
                   {}},
                  [](Method method) { return method == Method::low_ohm; });
}

RecordSheet insulation_sheet(const RecordSource& source) {
  return sheet_of(source,
                  {"insulation",
                   "Insulation",
                   "Readings by an insulation tester.",
                   "None was taken: insulation was not tested.",
                   {},
                   {}},
                  [](Method method) { return method == Method::insulation; });
}

}  // namespace ringtrue::record
