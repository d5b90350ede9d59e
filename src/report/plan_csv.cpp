#include <array>

#include "element_words.hpp"
#include "plan_words.hpp"
#include "ringtrue/report/csv_sheet.hpp"
#include "ringtrue/report/plan_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

// The first columns are those of a file of readings; the loader passes over the others (load/readings.cpp).

namespace ringtrue {

namespace {

constexpr std::array<std::string_view, 8> k_columns = {"id",         "from",   "to",    "value",
                                                       "conditions", "expect", "sheet", "proves"};
using Cells = std::array<report::SheetCell, k_columns.size()>;

Cells cells_of(const PlanReport& report, std::size_t number) {
  const PlannedReading& reading = report.plan.readings[number];
  const PlanCondition& condition = report.plan.conditions[reading.condition];
  const ConductionGraph& graph = report.graph;
  std::vector<std::string> proves;
  for (const ElementId element : reading.proves) proves.push_back(element_noun(element, graph));
  return {report::planned_id(report.plan, number),
          point_name(reading.from, condition.made, graph),
          point_name(reading.to, condition.made, graph),
          std::string(),
          condition.text,
          report::must_show_in_cell(reading),
          report::joined(report::sheets_of({reading.from, reading.to}, condition, graph), "; "),
          report::joined(proves, "; ")};
}

}  // namespace

std::string plan_csv(const PlanReport& report) {
  std::string out;
  report::put_sheet_header(out, k_columns);
  for (std::size_t i = 0; i < report.plan.readings.size(); ++i)
    report::put_sheet_row(out, cells_of(report, i));
  return out;
}

}  // namespace ringtrue
