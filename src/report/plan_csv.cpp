#include <array>

#include "element_words.hpp"
#include "plan_words.hpp"
#include "ringtrue/base/csv_cell.hpp"
#include "ringtrue/report/plan_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

// The first columns are those of a file of readings; the loader passes over the others (load/readings.cpp).

namespace ringtrue {

namespace {

constexpr std::array<std::string_view, 8> k_columns = {"id",         "from",   "to",    "value",
                                                       "conditions", "expect", "sheet", "proves"};
using Cells = std::array<std::string, k_columns.size()>;

/// A spreadsheet calculates what begins like a formula.
bool is_like_a_formula(std::string_view text) {
  return !text.empty() && std::string_view("=+-@\t\r").find(text[0]) != std::string_view::npos;
}

template <class Row>
void put_row(std::string& out, const Row& cells) {
  bool is_first = true;
  for (const auto& cell : cells) {
    if (!is_first) out += ',';
    is_first = false;
    const std::string text = (is_like_a_formula(cell) ? "'" : "") + std::string(cell);
    put_csv_cell(text, [&out](std::string_view piece) { out += piece; });
  }
  out += k_csv_line_end;
}

Cells cells_of(const PlanReport& report, std::size_t number) {
  const PlannedReading& reading = report.plan.readings[number];
  const PlanCondition& condition = report.plan.conditions[reading.condition];
  const ConductionGraph& graph = report.graph;
  std::vector<std::string> proves;
  for (const ElementId element : reading.proves) proves.push_back(element_noun(element, graph));
  return {report::planned_id(number),
          point_name(reading.from, condition.made, graph),
          point_name(reading.to, condition.made, graph),
          "",
          condition.text,
          report::must_show_in_cell(reading),
          report::joined(report::sheets_of({reading.from, reading.to}, condition, graph), "; "),
          report::joined(proves, "; ")};
}

}  // namespace

std::string plan_csv(const PlanReport& report) {
  std::string out;
  put_row(out, k_columns);
  for (std::size_t i = 0; i < report.plan.readings.size(); ++i) put_row(out, cells_of(report, i));
  return out;
}

}  // namespace ringtrue
