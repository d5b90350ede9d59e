#include "notes_text.hpp"

#include <algorithm>

#include "element_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"
#include "value_words.hpp"
#include "way_words.hpp"

namespace ringtrue::report {

namespace {

constexpr std::size_t k_few_elements = 4;

}  // namespace

std::string ways_words(const std::vector<std::vector<ElementId>>& loads, const ConductionGraph& graph) {
  const bool one_each =
      std::all_of(loads.begin(), loads.end(), [](const auto& way) { return way.size() == 1; });
  std::string text;
  if (one_each) {
    std::vector<ElementId> all;
    for (const auto& way : loads) all.push_back(way.front());
    text = list_of(all, graph, k_few_elements);
  } else {
    for (const auto& way : loads) {
      std::vector<std::string> names;
      for (const ElementId e : way) names.push_back(element_noun(e, graph));
      text += (text.empty() ? "" : ", ") + (names.empty() ? "copper alone" : joined(names, " with "));
    }
  }
  return text + (loads.size() > 1 ? " in parallel" : "");
}

void NotesText::append(std::string& out) {
  const ReadingNotes& notes = report_.notes;
  append_kind(out, notes.beeps, "Beeps that fit either way, since a load may have made them",
              &NotesText::load_beep);
  append_opens(out);
  if (!notes.ohms.some.empty())
    append_kind(out, notes.ohms, "Values in ohms through loads, with those that go through several at once",
                &NotesText::through_loads);
  append_kind(out, notes.hiding, "Beeps that would not show a break", &NotesText::hidden_break);
}

/// Common and mostly harmless, so only counted in the short report.
void NotesText::append_opens(std::string& out) {
  const NotedReadings& opens = report_.notes.opens;
  constexpr std::string_view k_heading = "Read without a beep, though a load could have made one";
  if (detail_ == Detail::everything) return append_kind(out, opens, k_heading, &NotesText::load_open);
  if (opens.all == 0) return;
  out += '\n';
  append_wrapped(out, std::string(k_heading) + ": " + std::to_string(opens.all) + " (--all says which load)",
                 0, 2);
}

void NotesText::append_kind(std::string& out, const NotedReadings& kind, std::string_view heading,
                            std::string (NotesText::*line)(const NotedReading&)) {
  if (kind.all == 0) return;
  out += '\n';
  append_wrapped(out, std::string(heading) + ": " + std::to_string(kind.all), 0, 2);
  std::size_t width = 0;
  for (const NotedReading& noted : kind.some)
    width = std::max(width, shown_width(reading_label(report_.readings, noted.reading)));
  std::size_t told = 0;
  for (const NotedReading& noted : kind.some) {
    told += 1 + noted.alike;
    const std::string condition = words_.condition(noted.reading, detail_);
    std::string text = words_.points(noted.reading);
    if (!condition.empty()) text.append(" (").append(condition).append(")");
    if (noted.alike != 0) text.append(", and ").append(std::to_string(noted.alike)).append(" more alike");
    append_entry(out, 2, reading_label(report_.readings, noted.reading), width,
                 text + ": " + (this->*line)(noted));
  }
  // Of the values in ohms only some are worth a line.
  if (told < kind.all && &kind != &report_.notes.ohms)
    append_wrapped(out,
                   std::to_string(kind.all - told) + " more" +
                       (detail_ == Detail::everything ? "" : " (--all shows them)"),
                   2, 4);
}

std::string NotesText::causes(const NotedReading& noted) const {
  const Expectation& made = noted.expectation;
  if (made.causes.empty()) return "loads whose values the drawing doesn't give";
  return list_of(made.causes, report_.graph, k_few_elements) + (made.has_more_ways ? " or others" : "");
}

std::string NotesText::steps(const NotedReading& noted, std::string_view purpose) const {
  const auto& fewest = noted.expectation.steps;
  if (!fewest || fewest->settings.empty()) return "";
  std::string text(" ");
  text.append(capitalised(steps_words(fewest->settings, report_.graph))).append(" and read again");
  return text.append(purpose).append(".");
}

std::string NotesText::load_beep(const NotedReading& noted) {
  return "may have come through " + causes(noted) + "." + steps(noted, " to be certain");
}

std::string NotesText::load_open(const NotedReading& noted) {
  return causes(noted) + " could have made it beep.";
}

std::string NotesText::through_loads(const NotedReading& noted) {
  std::vector<std::vector<ElementId>> loads;
  bool has_diode = false;
  for (const Way& way : noted.expectation.ways) {
    loads.push_back(loads_of(way, report_.graph));
    for (const ElementId e : loads.back()) has_diode = has_diode || report_.graph.is_diode(e);
  }
  return words_.read_and_expected(noted.reading) + ", through " + ways_words(loads, report_.graph) +
         (noted.expectation.has_more_ways ? " and others" : "") +
         (has_diode ? "; the diode conducts this way round, not with the leads exchanged." : ".");
}

std::string NotesText::hidden_break(const NotedReading& noted) {
  const Expectation& made = noted.expectation;
  const HiddenBreak& broken = made.hidden.front();
  const std::string others = elements_aside(broken.second, made.ways.front(), report_.graph);
  const std::string own = list_of(broken.elements, report_.graph, k_few_elements);
  if (noted.alike != 0)
    return own + " is in a ring with " + others + "; any one of them may be broken and each still beeps." +
           steps(noted, "");
  return own + " may be broken; it would still beep by " + others + "." + steps(noted, "");
}

}  // namespace ringtrue::report
