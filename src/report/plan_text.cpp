#include <algorithm>
#include <cmath>

#include "element_words.hpp"
#include "finding_text.hpp"
#include "group_tests_text.hpp"
#include "plan_words.hpp"
#include "planned_readings_text.hpp"
#include "ringtrue/report/plan_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_wrapped;
using report::counted;

constexpr std::size_t k_few_not_covered = 8;
constexpr std::size_t k_few_witnesses = 6;

class PlanText {
 public:
  PlanText(const PlanReport& report, Detail detail)
      : report_(report), plan_(report.plan), graph_(report.graph), detail_(detail) {}

  [[nodiscard]] std::string write() {
    summary();
    cautions();
    report::append_planned_readings(out_, report_, detail_);
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
  void not_covered();
  void walk();
  void walk_row(std::string_view label, const WalkFigures& walk);
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const {
    return detail_ == Detail::everything || all <= few + 1 ? all : few;
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
      panel_label(graph_.netlist().panel) + ": plan to " +
          (identifies ? "show breaks, miswires, swaps, shifts and joined neighbours, as far as two probes can"
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
  const auto say = [&](std::size_t number, std::string_view what) {
    if (number != 0)
      append_wrapped(
          out_, std::to_string(number) + of_all + (number == 1 ? " is " : " are ") + std::string(what), 2, 4);
  };
  if (plan_.readings.empty())
    append_wrapped(out_, "No reading to take.", 2, 4);
  else
    append_wrapped(out_,
                   counted(plan_.readings.size(), "reading") +
                       (plan_.readings.size() == 1 ? " proves " : " prove ") + std::to_string(proved) +
                       of_all +
                       (report_.options.all_elements
                            ? " (conductors, bridges, terminals, contacts, loads)"
                            : " (conductors, bridges, terminals, contacts: all that conducts at rest)"),
                   2, 4);
  say(plan_.proven_before, "proven by the readings taken before");
  say(plan_.not_covered.size(), "not covered, see below");
}

void PlanText::bounds() {
  if (plan_.at_rest != 0 && report_.options.goal == Goal::detect) {
    const std::string least = std::to_string(plan_.least_at_rest);
    append_wrapped(out_,
                   counted(plan_.at_rest, "reading") + " at rest; " +
                       (plan_.at_rest == plan_.least_at_rest ? "no plan has fewer of those"
                        : plan_.at_rest > plan_.least_at_rest
                            ? "any plan has at least " + least + " of those"
                            : "it would take " + least + " without the conditions below"),
                   2, 4);
  }
  if (plan_.lifts != 0)
    append_wrapped(
        out_, counted(plan_.lifts, "conductor end") + (plan_.lifts == 1 ? " is" : " are") + " lifted", 2, 4);
  if (plan_.near_faults_only)
    append_wrapped(
        out_,
        "For a panel of this size landings and exchanges were asked within each part only, not from "
        "one part to another.",
        2, 4);
}

void PlanText::cautions() {
  const bool has_conditions = std::any_of(plan_.conditions.begin(), plan_.conditions.end(),
                                          [](const PlanCondition& one) { return !one.text.empty(); });
  append_wrapped(out_,
                 std::string("Prove dead before any continuity reading. ") +
                     (has_conditions ? "Put back what was taken out, unplugged or lifted. " : "") +
                     "Local codes, the site's isolation procedure and licensed persons decide.",
                 2, 2);
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
  if (plan_.walk.readings == 0) return;
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
