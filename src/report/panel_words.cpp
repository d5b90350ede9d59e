#include "ringtrue/report/panel_words.hpp"

#include <algorithm>
#include <vector>

#include "element_words.hpp"
#include "reading_words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

constexpr std::size_t k_few = 4;

}  // namespace

std::string point_place(PointId point, const ConductionGraph& graph, Detail detail) {
  if (index(point) >= graph.point_count()) return {};
  std::vector<ElementId> conductors;
  std::vector<std::string> told, sheets;
  for (const ElementId e : graph.elements_at(point)) {
    const std::string sheet(graph.element_sheet(e));
    if (!sheet.empty() && std::find(sheets.begin(), sheets.end(), sheet) == sheets.end())
      sheets.push_back(sheet);
    if (graph.is_conductor(e)) conductors.push_back(e);
    const Part* part = report::part_of(e, graph);
    if (part != nullptr && part->place != PartPlace::panel && told.empty())
      told.emplace_back(word(part->place));
  }
  const auto at_most = [&](std::size_t all) {
    return detail == Detail::everything || all <= k_few + 1 ? all : k_few;
  };
  if (!conductors.empty()) told.push_back(list_of(conductors, graph, at_most(conductors.size())));
  if (!sheets.empty())
    told.push_back((sheets.size() == 1 ? "sheet " : "sheets ") +
                   report::joined(std::span(sheets).first(at_most(sheets.size()))));
  return report::joined(told);
}

std::string drawn_words(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                        ReadingId reading) {
  return report::ReadingWords(graph, readings, comparison).expected(reading);
}

std::string read_and_drawn(const ConductionGraph& graph, const Readings& readings,
                           const Comparison& comparison, ReadingId reading) {
  return report::ReadingWords(graph, readings, comparison).read_and_expected(reading);
}

std::string reading_line(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                         ReadingId reading) {
  report::ReadingWords words(graph, readings, comparison);
  const std::string condition = words.condition(reading, Detail::short_lists);
  return report::reading_label(readings, reading) + ": " + words.points(reading) +
         (condition.empty() ? "" : ", " + condition) + ": " + words.read_and_expected(reading);
}

std::string in_lines(std::string_view text, std::size_t indent, std::size_t hanging) {
  std::string lines;
  report::append_wrapped(lines, text, indent, hanging);
  return lines;
}

}  // namespace ringtrue
