#include <algorithm>
#include <utility>

#include "ringtrue/live/contradictions.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "ringtrue/report/words.hpp"
#include "session.hpp"

// What a session tells of what came into the job, from here and from elsewhere.

namespace ringtrue::cli::log {

namespace {

constexpr std::size_t k_few_rows = 20;

}  // namespace

void Session::catch_up() {
  const auto caught_up = live_.catch_up();
  if (!caught_up)
    return print_("The findings are not up to date: " + to_text(caught_up.error().front()) + "\n");
  if (!*caught_up) return;
  is_proposed_ = false;
  tell_revision();
  tell_rows_of_others();
  tell_events_of_others();
  tell_results_of_others();
  print_(watch_.news(live_, options_.live.diagnose));
}

void Session::tell_revision() {
  const std::size_t outdated = live_.state().readings().outdated.size();
  const std::size_t told = std::exchange(outdated_told_, outdated);
  if (std::exchange(drawing_told_, live_.drawing()) == live_.drawing()) return;
  std::string text =
      "Another revision of the netlist counts now: " + panel_label(live_.drawing()->netlist.panel) + ".";
  if (outdated > told) text += " It touched " + counted(outdated - told, "reading") + ".";
  print_(in_lines(text, 0, 2));
}

void Session::tell_rows_of_others() {
  std::size_t wanted = k_few_rows + 1;
  auto rows = job_.journal(wanted);
  const auto is_told = [&](const JournalReading& row) { return row.id == last_row_; };
  if (!rows || rows->empty()) return;
  auto end = std::find_if(rows->begin(), rows->end(), is_told);
  std::string text =
      end == rows->end() && rows->size() == wanted ? "Others added more than can be shown.\n" : "";
  for (auto row = std::make_reverse_iterator(end); row != rows->rend(); ++row)
    if (!own_.contains(row->id)) text += "Elsewhere " + journal_line(*row);
  last_row_ = rows->front().id;
  print_(text);
  // What was listed before may have been read by them; values would go to the wrong rows of the list.
  if (!text.empty()) shown_.clear();
}

void Session::tell_events_of_others() {
  const std::vector<Event>& events = live_.events().rows;
  const std::size_t told = std::min(events_told_, events.size());
  events_told_ = events.size();
  std::string text;
  bool is_change = false;
  for (std::size_t i = told; i < events.size(); ++i) {
    is_change = is_change || events[i].kind != EventKind::repair;
    if (!own_.contains(events[i].id))
      text += in_lines("Elsewhere " + events[i].id + "  " + std::string(word(events[i].kind)) + ", " +
                           events[i].by + ": " + events[i].text,
                       0, 4);
  }
  if (is_change) text += open_changes(live_.events());
  print_(text);
}

void Session::tell_contradicting(const std::string& id) {
  const DiagnosisState& state = live_.state();
  for (const std::vector<ReadingId>& group : contradictions(state))
    if (std::any_of(group.begin(), group.end(),
                    [&](ReadingId one) { return state.readings().name(one) == id; }))
      print_(in_lines(contradiction_line(state, group), 0, 2));
}

}  // namespace ringtrue::cli::log
