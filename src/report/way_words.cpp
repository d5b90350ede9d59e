#include "way_words.hpp"

#include <algorithm>

#include "element_words.hpp"
#include "ringtrue/report/words.hpp"
#include "value_words.hpp"

namespace ringtrue::report {

namespace {

constexpr std::size_t k_few_elements = 8;

/// An edge that stands in no row: a temporary lead, or a body that a bare terminal name takes as conducting.
std::string unnamed_edge(const View::Edge& edge, const PointTable& points) {
  if (edge.added != k_assumed_body) return "temporary lead";
  return "terminal " + std::string(points.place_name(points.place(edge.to)));
}

/// `unplug K1`, `take out fuse X2:1`, `lift wire 504 at A2:M`.
std::string step_words(const std::string& setting, const ConductionGraph& graph) {
  const std::size_t equals = setting.rfind('=');
  const std::string object = setting.substr(0, equals);
  const auto condition = parse_condition(setting, graph);
  if (!condition || condition->settings.size() != 1) return setting;
  const Setting& step = condition->settings.front();
  switch (step.state) {
    case State::lifted:
      return "lift " + element_noun(ElementId{step.conductor}, graph) + " at " +
             object.substr(object.find('@') + 1);
    case State::out:
      return "take out fuse " + object;
    case State::off:
      return "switch off " + object;
    case State::open:
      return "open link " + object;
    default:
      return "unplug " + object;
  }
}

}  // namespace

std::string point_name(const Way& way, std::size_t point, const ConductionGraph& graph) {
  const PointId p = way.points[point];
  if (index(p) < graph.point_count()) return graph.netlist().points.name(p);
  // A loose end is on its conductor alone; it's called after the clamp it was lifted from.
  const std::size_t edge = point == 0 ? 0 : point - 1;
  const ElementId e = way.edges[edge].element;
  const PointId other = way.points[point == 0 ? 1 : point - 1];
  const PointId clamp = graph.end_a(e) == other ? graph.end_b(e) : graph.end_a(e);
  return graph.element_name(e) + "@" + graph.netlist().points.name(clamp);
}

std::vector<WalkRow> walk_of(const Way& way, const ConductionGraph& graph) {
  std::vector<WalkRow> rows;
  for (std::size_t i = 0; i < way.edges.size(); ++i) {
    const ElementId e = way.edges[i].element;
    WalkRow row{point_name(way, i, graph), "", point_name(way, i + 1, graph), "", ""};
    if (e == ElementId::none) {
      row.element = unnamed_edge(way.edges[i], graph.netlist().points);
      row.value = range_text(way.values[i]);
    } else {
      row.element = element_noun(e, graph);
      row.sheet = graph.element_sheet(e);
      row.value = value_words(e, way.values[i], graph);
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::string loads_words(const Way& way, const ConductionGraph& graph) {
  std::vector<std::string> loads;
  for (std::size_t i = 0; i < way.edges.size(); ++i) {
    const ElementId e = way.edges[i].element;
    if (e == ElementId::none || graph.is_hard(e)) continue;
    const std::string sheet(graph.element_sheet(e));
    loads.push_back(element_noun(e, graph) + " (" + (sheet.empty() ? "" : "sheet " + sheet + ", ") +
                    value_words(e, way.values[i], graph) + ")");
  }
  return joined(loads, ", then ");
}

std::string elements_aside(const Way& way, const Way& from, const ConductionGraph& graph) {
  std::vector<ElementId> elements;
  for (const View::Edge& edge : way.edges) {
    const bool shared = std::any_of(from.edges.begin(), from.edges.end(),
                                    [&](const View::Edge& other) { return other.element == edge.element; });
    if (edge.element != ElementId::none && !shared) elements.push_back(edge.element);
  }
  return list_of(elements, graph, k_few_elements);
}

std::string steps_words(const std::vector<std::string>& settings, const ConductionGraph& graph) {
  std::string text;
  for (std::size_t i = 0; i < settings.size(); ++i)
    text += (i == 0 ? "" : i + 1 == settings.size() ? " and " : ", ") + step_words(settings[i], graph);
  return text;
}

}  // namespace ringtrue::report
