#include "record/elements.hpp"

#include "record/sheets.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue::record {

namespace {

std::vector<bool> touched_by_findings(const RecordSource& source) {
  std::vector<bool> touched(source.graph.element_count());
  const auto touch = [&](ElementId element) {
    if (element != ElementId::none) touched[index(element)] = true;
  };
  for (const Cluster& cluster : source.findings.clusters)
    for (const Diagnosis& diagnosis : cluster.diagnoses)
      for (const Fault& fault : diagnosis.faults) {
        if (diagnosis.rank != 1) continue;
        touch(fault.element);
        touch(fault.element2);
        for (const LandedEnd& end : landed_ends(fault, source.graph)) touch(end.conductor);
      }
  return touched;
}

std::string_view word(ElementState state) {
  switch (state) {
    case ElementState::proven:
      return "proven";
    case ElementState::in_finding:
      return "in a finding";
    case ElementState::not_proven:
      return "not proven";
    case ElementState::absent:
      return "not checkable here";
  }
  return {};
}

Tone tone(ElementState state) {
  switch (state) {
    case ElementState::proven:
      return Tone::good;
    case ElementState::in_finding:
      return Tone::bad;
    default:
      return Tone::open;
  }
}

}  // namespace

std::vector<ElementStanding> standings(const RecordSource& source) {
  const ConductionGraph& graph = source.graph;
  const std::vector<bool> touched = touched_by_findings(source);
  std::vector<ElementStanding> all;
  for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
    const ElementId element{i};
    if (graph.origin(element).from == ElementOrigin::From::channel) continue;
    const bool is_proven = i < source.findings.proven.size() && source.findings.proven[i] != 0;
    all.push_back({element, touched[i]                        ? ElementState::in_finding
                            : is_proven                       ? ElementState::proven
                            : is_absent_field(element, graph) ? ElementState::absent
                                                              : ElementState::not_proven});
  }
  return all;
}

RecordSheet buzz_out_sheet(const RecordSource& source) {
  const ConductionGraph& graph = source.graph;
  RecordSheet sheet{
      "buzz_out",
      "Buzz-out list",
      "Every conductor and part of the drawing, and whether readings prove that it is there and "
      "conducts.",
      "The drawing has no conductors.",
      {{"element", "Wire or part"},
       {"kind", "Kind"},
       {"from", "From"},
       {"to", "To"},
       {"sheet", "Sheet"},
       {"state", "Shown"}},
      {}};
  const auto name = [&](PointId point) {
    return index(point) < graph.netlist().points.size() ? graph.netlist().points.name(point) : std::string();
  };
  for (const ElementStanding& one : standings(source))
    sheet.rows.push_back({element_noun(one.element, graph),
                          graph.element_kind_word(one.element),
                          name(graph.end_a(one.element)),
                          name(graph.end_b(one.element)),
                          graph.element_sheet(one.element),
                          {std::string(word(one.state)), tone(one.state)}});
  return sheet;
}

}  // namespace ringtrue::record
