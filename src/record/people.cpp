#include <algorithm>
#include <map>

#include "record/sheets.hpp"

namespace ringtrue::record {

namespace {

/// Somebody's or something's use in readings and tests.
struct Use {
  std::size_t readings = 0, results = 0, events = 0, decisions = 0, signatures = 0;
  std::string first, last;

  void at(std::string_view time) {
    const auto seconds = seconds_of_time(time);
    if (!seconds) return;
    if (first.empty() || *seconds < *seconds_of_time(first)) first = time;
    if (last.empty() || *seconds > *seconds_of_time(last)) last = time;
  }
};

using Uses = std::map<std::string, Use, std::less<>>;

void use(Uses& uses, std::string_view name, std::size_t Use::*kind, std::string_view time) {
  if (name.empty()) return;
  Use& one = uses[std::string(name)];
  ++(one.*kind);
  one.at(time);
}

bool is_date(std::string_view text) {
  constexpr std::string_view k_form = "0000-00-00";
  return text.size() == k_form.size() &&
         std::equal(text.begin(), text.end(), k_form.begin(),
                    [](char c, char form) { return form == '-' ? c == '-' : c >= '0' && c <= '9'; });
}

/// Dates compare as texts; that of a time is the day at the place where it was taken.
RecordCell calibration(std::string_view until, std::string_view last_use) {
  if (until.empty()) return {"not stated", Tone::open};
  if (!is_date(until)) return {"date not understood", Tone::open};
  if (last_use.empty()) return {"not used", Tone::plain};
  if (last_use.substr(0, until.size()) > until) return {"expired when used", Tone::bad};
  return {"calibrated when used", Tone::good};
}

}  // namespace

RecordSheet instruments_sheet(const RecordSource& source) {
  const Panel& panel = source.contents.panel;
  Uses uses;
  for (std::uint32_t i = 0; i < panel.readings.rows.size(); ++i)
    use(uses, panel.readings.text.get(ReadingText::meter, i), &Use::readings,
        panel.readings.text.get(ReadingText::time, i));
  for (const IoResult& result : panel.io_results.rows) use(uses, result.meter, &Use::results, result.time);

  RecordSheet sheet{"instruments",
                    "Instruments",
                    "Each with what it was used for and whether it was calibrated then.",
                    "No instrument is named.",
                    {{"meter", "Instrument"},
                     {"kind", "Kind"},
                     {"serial", "Serial"},
                     {"calibrated_until", "Calibrated until", Kind::time},
                     {"state", "Calibration"},
                     {"readings", "Readings", Kind::number},
                     {"results", "I/O results", Kind::number},
                     {"last_use", "Last use", Kind::time}},
                    {}};
  for (const Meter& meter : panel.meters.rows) {
    const Use one = uses[meter.name];
    uses.erase(meter.name);
    sheet.rows.push_back({meter.name, meter.kind, meter.serial, meter.calibrated_until,
                          calibration(meter.calibrated_until, one.last), one.readings, one.results,
                          one.last});
  }
  for (const auto& [name, one] : uses)
    sheet.rows.push_back(
        {name, "", "", "", RecordCell{"not listed", Tone::open}, one.readings, one.results, one.last});
  return sheet;
}

RecordSheet people_sheet(const RecordSource& source) {
  const Panel& panel = source.contents.panel;
  constexpr std::string_view k_nobody = "not stated";
  const auto name = [&](std::string_view by) { return by.empty() ? k_nobody : by; };
  Uses uses;
  for (std::uint32_t i = 0; i < panel.readings.rows.size(); ++i)
    use(uses, name(panel.readings.text.get(ReadingText::by, i)), &Use::readings,
        panel.readings.text.get(ReadingText::time, i));
  for (const IoResult& result : panel.io_results.rows) use(uses, name(result.by), &Use::results, result.time);
  for (const Event& event : panel.events.rows) use(uses, name(event.by), &Use::events, event.time);
  for (const Decision& decision : panel.decisions.rows)
    use(uses, decision.by, &Use::decisions, decision.time);
  for (const Signature& signature : source.contents.signatures.rows)
    use(uses, signature.by, &Use::signatures, signature.time);
  RecordSheet sheet{"people",
                    "Who and when",
                    "Whoever logged what is current, decided about a finding or signed.",
                    "Nobody has logged anything.",
                    {{"by", "By"},
                     {"readings", "Readings", Kind::number},
                     {"results", "I/O results", Kind::number},
                     {"events", "Events", Kind::number},
                     {"decisions", "Decisions", Kind::number},
                     {"signatures", "Signatures", Kind::number},
                     {"first", "First", Kind::time},
                     {"last", "Last", Kind::time}},
                    {}};
  for (const auto& [by, one] : uses)
    sheet.rows.push_back(
        {by, one.readings, one.results, one.events, one.decisions, one.signatures, one.first, one.last});
  return sheet;
}

RecordSheet temporary_sheet(const RecordSource& source) {
  RecordSheet sheet{"temporary",
                    "Temporary changes",
                    "Temporary leads, lifted ends and the like. One that is open holds the signature.",
                    "None was made.",
                    {{"state", "State"},
                     {"points", "Points"},
                     {"text", "What"},
                     {"by", "By"},
                     {"time", "Made", Kind::time},
                     {"id", "Id"}},
                    {}};
  const Events& events = source.contents.panel.events;
  const std::vector<const Event*> open = open_temporary_changes(events);
  for (const Event& event : events.rows) {
    if (event.kind != EventKind::temporary_made) continue;
    const bool is_open = std::find(open.begin(), open.end(), &event) != open.end();
    sheet.rows.push_back({is_open ? RecordCell{"open", Tone::bad} : RecordCell{"undone", Tone::good},
                          joined(event.points, "; "), event.text, event.by, event.time, event.id});
  }
  return sheet;
}

}  // namespace ringtrue::record
