#include "next_words.hpp"

#include <algorithm>

#include "finding_text.hpp"
#include "reading_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"
#include "value_words.hpp"

namespace ringtrue::report {

namespace {

std::string name(PointId p, const ConductionGraph& graph) { return graph.netlist().points.name(p); }

std::string shifted(const Fault& fault, const ConductionGraph& graph) {
  const PointTable& points = graph.netlist().points;
  const auto part = [&](PointId p) { return std::string(part_of_place(points.place_name(points.place(p)))); };
  if (fault.places == 0) return part(fault.p) + " and " + part(fault.q) + " exchanged";
  return "the wires of " + name(fault.p, graph) + " to " + name(fault.q, graph) + " shifted";
}

std::string all_in_short(const Diagnosis& diagnosis, const ConductionGraph& graph, const Readings& readings) {
  std::vector<std::string> all;
  for (const Fault& fault : diagnosis.faults) all.push_back(in_short(fault, graph, readings));
  return joined(all, " with ");
}

/// `wire 5 open or one of 3 others`
std::string left_in_short(const NextOutcome& outcome, const Cluster& cluster, const ConductionGraph& graph,
                          const Readings& readings) {
  std::vector<std::string> named;
  const std::size_t shown = outcome.left.size() <= 2 ? outcome.left.size() : 1;
  for (std::size_t i = 0; i < shown; ++i)
    named.push_back(all_in_short(cluster.diagnoses[outcome.left[i].diagnosis], graph, readings));
  // Two that differ in what the short words leave out, such as which ends are exchanged.
  named.erase(std::unique(named.begin(), named.end()), named.end());
  if (shown < outcome.left.size())
    named.push_back("one of " + std::to_string(outcome.left.size() - shown) + " others");
  return any_of(named) + " (" + per_cent(outcome.probability) + ")";
}

}  // namespace

std::string in_short(const Fault& fault, const ConductionGraph& graph, const Readings& readings) {
  const auto noun = [&](ElementId e) { return element_noun(e, graph); };
  switch (fault.kind) {
    case FaultKind::open:
      return noun(fault.element) + " open";
    case FaultKind::missing_bridge:
      return noun(fault.element) + " missing";
    case FaultKind::miswire:
      return noun(fault.element) + " on " + name(fault.p, graph);
    case FaultKind::swap:
      return noun(fault.element) + " and " + noun(fault.element2) + " exchanged";
    case FaultKind::shift:
      return shifted(fault, graph);
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      return name(fault.p, graph) + " and " + name(fault.q, graph) + " joined";
    case FaultKind::wrong_contact:
      return noun(fault.element) + " of the other kind";
    case FaultKind::reversed:
      return noun(fault.element) + " reversed";
    case FaultKind::wrong_value:
      return (graph.is_hard(fault.element) ? "a bad joint of " : "another value of ") + noun(fault.element);
    case FaultKind::bad_reading:
      return reading_label(readings, fault.reading) + " misread";
  }
  return {};
}

std::string what_is_read(const NextReading& next, const NextOutcome& outcome) {
  if (!next.in_ohms) return outcome.beeps ? "beep" : "no beep";
  constexpr double k_any_value = 1e300;
  if (outcome.ohms.is_open()) return "OL";
  OhmInterval ohms = outcome.ohms;
  if (ohms.hi.value >= k_any_value) ohms.hi = k_infinite_ohms;
  return range_text(ohms);
}

void write_next_reading(JsonWriter& json, const NextReading* next, const ConductionGraph& graph,
                        const Readings& readings) {
  if (next == nullptr || next->state != NextState::reading) {
    json.null();
    return;
  }
  const NextPoints points = points_of(*next, graph, readings);
  json.begin_object().key("from").text(points.from).key("to").text(points.to);
  json.key("conditions").text(next->conditions);
  json.key("method").text(word(next->in_ohms ? Method::ohms : Method::beep)).end_object();
}

}  // namespace ringtrue::report

namespace ringtrue {

NextPoints points_of(const NextReading& next, const ConductionGraph& graph, const Readings& readings) {
  const PointTable& points = graph.netlist().points;
  if (next.again == ReadingId::none) return {points.name(next.from), points.name(next.to)};
  const Reading& row = readings.rows[index(next.again)];
  return {std::string(row.from), std::string(row.to)};
}

std::string_view remedy_label(const Diagnosis& likeliest) {
  return likeliest.probability < 0.5 ? "If so" : "Do";
}

std::string next_in_short(const NextReading& next, const Cluster& cluster, const ConductionGraph& graph,
                          const Readings& readings) {
  const NextPoints points = points_of(next, graph, readings);
  std::string text = "Next: read " + points.from + " to " + points.to;
  if (next.again != ReadingId::none) text += " again";
  if (next.in_ohms) text += " in ohms";
  if (!next.conditions.empty()) text += ", " + condition_words(next.conditions, Detail::short_lists);
  for (std::size_t i = 0; i < next.outcomes.size(); ++i) {
    const NextOutcome& outcome = next.outcomes[i];
    std::string read = report::what_is_read(next, outcome);
    if (!next.in_ohms) read = outcome.beeps ? "a beep" : "none";
    text += (i == 0 ? "; " : ", ") + read + (i == 0 ? " means " : ": ") +
            report::left_in_short(outcome, cluster, graph, readings);
  }
  return text + ".";
}

}  // namespace ringtrue
