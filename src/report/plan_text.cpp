#include <algorithm>
#include <cmath>

#include "element_words.hpp"
#include "finding_text.hpp"
#include "group_tests_text.hpp"
#include "next_words.hpp"
#include "plan_words.hpp"
#include "ringtrue/report/plan_report.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_entry;
using report::append_wrapped;
using report::counted;

constexpr std::size_t k_few_proven = 4;
constexpr std::size_t k_few_not_covered = 8;
constexpr std::size_t k_few_witnesses = 6;

/// Readings that stand together because a probe stays where it is; `parked` is none where both move.
struct ParkedRun {
  PointId parked = PointId::none;
  std::size_t first = 0, last = 0;  ///< in Plan::readings, `last` beyond the end
};

bool is_at(const PlannedReading& reading, PointId point) {
  return reading.from == point || reading.to == point;
}

class PlanText {
 public:
  PlanText(const PlanReport& report, Detail detail)
      : report_(report), plan_(report.plan), graph_(report.graph), detail_(detail) {}

  [[nodiscard]] std::string write() {
    summary();
    cautions();
    for (std::size_t first = 0; first < plan_.readings.size();) first = condition(first);
    report::append_group_tests(out_, report_, detail_);
    not_covered();
    walk();
    if (report_.certificate != nullptr) out_ += "\n" + certificate_text(*report_.certificate, detail_);
    return std::move(out_);
  }

 private:
  void summary();
  void what_is_proven();
  void bounds();
  void cautions();
  std::size_t condition(std::size_t first);
  void heading(const PlanCondition& condition, std::size_t readings);
  [[nodiscard]] std::vector<ParkedRun> runs(std::size_t first, std::size_t last) const;
  [[nodiscard]] std::size_t end_of_run(std::size_t first, std::size_t last, PointId parked) const;
  void run(const ParkedRun& run);
  [[nodiscard]] std::string points(const PlannedReading& reading, PointId parked) const;
  [[nodiscard]] std::string name(PointId point, const PlannedReading& reading) const;
  [[nodiscard]] std::string places(const PlannedReading& reading, PointId parked) const;
  [[nodiscard]] std::string what_it_proves(const PlannedReading& reading) const;
  void not_covered();
  void walk();
  void walk_row(std::string_view label, const WalkFigures& walk);
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const {
    return detail_ == Detail::everything || all <= few + 1 ? all : few;
  }
  [[nodiscard]] const PlanCondition& condition_of(const PlannedReading& reading) const {
    return plan_.conditions[reading.condition];
  }

  const PlanReport& report_;
  const Plan& plan_;
  const ConductionGraph& graph_;
  Detail detail_;
  std::string out_;
};

void PlanText::summary() {
  const bool identifies = report_.options.goal == Goal::identify;
  append_wrapped(
      out_,
      report::panel_label(graph_.netlist().panel) + ": plan to " +
          (identifies ? "show every break, miswire, swap, shift and joint of neighbours that two probes can"
                      : "show every break that a buzzer can"),
      0, 2);
  if (report_.contradictions != 0) append_wrapped(out_, contradiction_text(report_.contradictions), 2, 4);
  what_is_proven();
  bounds();
}

void PlanText::what_is_proven() {
  std::size_t proved = 0;
  for (const PlannedReading& reading : plan_.readings) proved += reading.proves.size();
  const std::string of_all = " of " + counted(plan_.targets, "element");
  if (plan_.readings.empty())
    append_wrapped(out_, "No reading to take.", 2, 4);
  else
    append_wrapped(out_,
                   counted(plan_.readings.size(), "reading") +
                       (plan_.readings.size() == 1 ? " proves " : " prove ") + std::to_string(proved) +
                       of_all,
                   2, 4);
  if (plan_.proven_before != 0)
    append_wrapped(out_,
                   std::to_string(plan_.proven_before) + of_all +
                       (plan_.proven_before == 1 ? " is" : " are") + " proven by the readings taken before",
                   2, 4);
  if (!plan_.not_covered.empty())
    append_wrapped(out_,
                   std::to_string(plan_.not_covered.size()) + of_all +
                       (plan_.not_covered.size() == 1 ? " is" : " are") + " not covered, see below",
                   2, 4);
}

void PlanText::bounds() {
  if (plan_.at_rest != 0)
    append_wrapped(out_,
                   std::to_string(plan_.at_rest) + " of them beep at rest; " +
                       (plan_.at_rest == plan_.least_at_rest
                            ? "no plan has fewer of those"
                            : "any plan has at least " + std::to_string(plan_.least_at_rest) + " of those"),
                   2, 4);
  if (plan_.lifts != 0)
    append_wrapped(
        out_,
        counted(plan_.lifts, "conductor end") + (plan_.lifts == 1 ? " is" : " are") + " lifted, the fewest",
        2, 4);
}

void PlanText::cautions() {
  append_wrapped(
      out_,
      "Prove dead before any continuity reading. Put back what was taken out, unplugged or lifted. "
      "Local codes, the site's isolation procedure and licensed persons decide.",
      2, 2);
}

std::size_t PlanText::condition(std::size_t first) {
  const std::uint32_t number = plan_.readings[first].condition;
  std::size_t last = first;
  while (last < plan_.readings.size() && plan_.readings[last].condition == number) ++last;
  heading(plan_.conditions[number], last - first);
  for (const ParkedRun& one : runs(first, last)) run(one);
  return last;
}

void PlanText::heading(const PlanCondition& condition, std::size_t readings) {
  // Never cut short: whoever sets the condition needs all of it.
  const std::string to_do = report::to_be_done(condition.text, Detail::everything);
  const std::string count = ": " + counted(readings, "reading");
  out_ += '\n';
  if (to_do.empty()) {
    append_wrapped(out_, "At rest, nothing opened or operated" + count, 0, 2);
    return;
  }
  append_wrapped(out_, report::capitalised(to_do) + count, 0, 2);
  append_wrapped(out_, "Put it back afterwards.", 2, 2);
}

std::size_t PlanText::end_of_run(std::size_t first, std::size_t last, PointId parked) const {
  while (first < last && is_at(plan_.readings[first], parked)) ++first;
  return first;
}

std::vector<ParkedRun> PlanText::runs(std::size_t first, std::size_t last) const {
  std::vector<ParkedRun> all;
  while (first < last) {
    const PlannedReading& reading = plan_.readings[first];
    const std::size_t of_from = end_of_run(first, last, reading.from);
    const std::size_t of_to = end_of_run(first, last, reading.to);
    const std::size_t end = std::max(of_from, of_to);
    if (end > first + 1)
      all.push_back({of_from >= of_to ? reading.from : reading.to, first, end});
    else if (all.empty() || all.back().parked != PointId::none)
      all.push_back({PointId::none, first, end});
    else
      all.back().last = end;
    first = end;
  }
  return all;
}

void PlanText::run(const ParkedRun& run) {
  constexpr std::size_t k_widest_label = 60;
  if (run.parked != PointId::none) {
    const PlannedReading& reading = plan_.readings[run.first];
    const std::string place = report::place_words(run.parked, condition_of(reading), graph_);
    append_wrapped(out_,
                   "One probe stays on " + point_name(run.parked, condition_of(reading).made, graph_) +
                       (place.empty() ? "" : " (" + place + ")"),
                   2, 4);
  }
  std::size_t id_width = 0, point_width = 0, shows_width = 0, place_width = 0;
  for (std::size_t i = run.first; i < run.last; ++i) {
    const PlannedReading& reading = plan_.readings[i];
    id_width = std::max(id_width, report::shown_width(report::planned_id(i)));
    point_width = std::max(point_width, report::shown_width(points(reading, run.parked)));
    shows_width = std::max(shows_width, report::shown_width(report::must_show(reading)));
    place_width = std::max(place_width, report::shown_width(places(reading, run.parked)));
  }
  const std::size_t width = id_width + point_width + shows_width + place_width + 7;
  for (std::size_t i = run.first; i < run.last; ++i) {
    const PlannedReading& reading = plan_.readings[i];
    const std::string label = report::padded(report::planned_id(i), id_width) + "  " +
                              report::padded(points(reading, run.parked), point_width) + "  " +
                              report::padded(report::must_show(reading), shows_width) + "  " +
                              report::padded(places(reading, run.parked), place_width) + " ";
    const std::string proves = what_it_proves(reading);
    if (width <= k_widest_label) {
      append_entry(out_, 4, label, width, proves);
      continue;
    }
    append_wrapped(out_, label, 4, 8);
    append_wrapped(out_, proves, 8, 10);
  }
}

/// Red and black are named only where they make a difference.
std::string PlanText::name(PointId point, const PlannedReading& reading) const {
  const std::string text = point_name(point, condition_of(reading).made, graph_);
  if (!reading.polarity_matters) return text;
  return text + (point == reading.from ? " (red)" : " (black)");
}

std::string PlanText::points(const PlannedReading& reading, PointId parked) const {
  if (parked == PointId::none) return name(reading.from, reading) + " to " + name(reading.to, reading);
  return name(reading.from == parked ? reading.to : reading.from, reading);
}

std::string PlanText::places(const PlannedReading& reading, PointId parked) const {
  const auto at = [&](PointId point) { return report::place_words(point, condition_of(reading), graph_); };
  if (parked != PointId::none) return at(reading.from == parked ? reading.to : reading.from);
  const std::string from = at(reading.from), to = at(reading.to);
  return from == to || to.empty() ? from : from.empty() ? to : from + "; " + to;
}

std::string PlanText::what_it_proves(const PlannedReading& reading) const {
  if (reading.proves.empty())
    return reading.expected == Expected::open ? "shows them apart" : "shows each on its own point";
  return report::list_of(reading.proves, graph_, at_most(k_few_proven, reading.proves.size()));
}

void PlanText::not_covered() {
  if (plan_.not_covered.empty()) return;
  out_ += "\nNot covered:\n";
  const auto groups = report::alike_together(plan_.not_covered);
  const std::size_t shown = at_most(k_few_not_covered, groups.size());
  for (std::size_t i = 0; i < shown; ++i) {
    const report::AlikeNotCovered& alike = groups[i];
    append_wrapped(out_,
                   report::capitalised(report::list_of(alike.elements, graph_,
                                                       at_most(k_few_witnesses, alike.elements.size()))) +
                       ": " +
                       report::reason_words(alike, graph_, at_most(k_few_witnesses, alike.witness.size())),
                   2, 4);
  }
  if (shown < groups.size())
    out_ += "  and " + std::to_string(groups.size() - shown) + " more (--all shows them)\n";
}

void PlanText::walk_row(std::string_view label, const WalkFigures& walk) {
  const std::string cells[] = {std::to_string(walk.readings), std::to_string(walk.moves),
                               std::to_string(walk.conditions), std::to_string(std::lround(walk.effort))};
  constexpr std::size_t k_label_width = 16, k_width = 13;
  out_ += "  " + report::padded(label, k_label_width);
  for (const std::string& cell : cells)
    out_.append(k_width - std::min(k_width, cell.size()), ' ').append(cell);
  out_ += '\n';
}

void PlanText::walk() {
  out_ += "\nThe walk           readings  probe moves   conditions       effort\n";
  walk_row("this plan", plan_.walk);
  walk_row("wire by wire", plan_.wire_by_wire);
  const double saved = plan_.wire_by_wire.effort - plan_.walk.effort;
  const std::string share = saved > 0 ? "It saves " + report::per_cent(saved / plan_.wire_by_wire.effort) +
                                            " of the effort of reading wire by wire. "
                                      : "";
  append_wrapped(out_, share + "Efforts are estimates; 1 is a reading between neighbouring terminals.", 2, 2);
}

}  // namespace

std::string contradiction_text(std::size_t readings) {
  return counted(readings, "reading") + (readings == 1 ? " contradicts" : " contradict") +
         " the drawing: run compare first. This plan is for the panel as drawn.";
}

std::string plan_text(const PlanReport& report, Detail detail) { return PlanText(report, detail).write(); }

}  // namespace ringtrue
