#include "element_words.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue {

namespace {

class PartsOfFault {
 public:
  explicit PartsOfFault(const ConductionGraph& graph) : graph_(graph) {}

  void add_element(ElementId element) {
    const Part* part = report::part_of(element, graph_);
    parts_.elements.push_back(part != nullptr ? std::string(part->part) : graph_.element_name(element));
    add_row(element);
  }

  void add_row(ElementId element) {
    const auto source = report::row_of(element, graph_);
    if (!source) return;
    FaultParts::Row row;
    row.is_conductor = graph_.is_conductor(element);
    const Part* part = report::part_of(element, graph_);
    row.name = part != nullptr ? std::string(part->part) : graph_.element_name(element);
    row.from = name(graph_.end_a(element));
    row.to = name(graph_.end_b(element));
    row.sheet = graph_.element_sheet(element);
    if (source->file < graph_.netlist().files.size()) row.file = graph_.netlist().files[source->file];
    row.line = source->line;
    parts_.rows.push_back(std::move(row));
  }

  void add_both_ends(ElementId element) {
    parts_.ends.push_back(name(graph_.end_a(element)));
    parts_.ends.push_back(name(graph_.end_b(element)));
  }

  void add_end(ElementId element, End end) {
    parts_.ends.push_back(name(end == End::a ? graph_.end_a(element) : graph_.end_b(element)));
  }

  void add_point(PointId point) { parts_.points.push_back(name(point)); }

  void add_written(std::string_view point) { parts_.points.emplace_back(point); }

  [[nodiscard]] FaultParts take() { return std::move(parts_); }

 private:
  [[nodiscard]] std::string name(PointId point) const { return graph_.netlist().points.name(point); }

  const ConductionGraph& graph_;
  FaultParts parts_;
};

}  // namespace

FaultParts fault_parts(const Fault& fault, const ConductionGraph& graph, const Readings& readings) {
  PartsOfFault parts(graph);
  switch (fault.kind) {
    case FaultKind::open:
    case FaultKind::missing_bridge:
    case FaultKind::wrong_value:
    case FaultKind::reversed:
      parts.add_element(fault.element);
      parts.add_both_ends(fault.element);
      break;
    case FaultKind::wrong_contact:
      parts.add_element(fault.element);
      parts.add_both_ends(fault.element);
      if (const auto partner = report::changeover_partner(fault.element, graph)) parts.add_row(*partner);
      break;
    case FaultKind::miswire:
      parts.add_element(fault.element);
      parts.add_end(fault.element, fault.end);
      parts.add_point(fault.p);
      break;
    case FaultKind::swap:
      parts.add_element(fault.element);
      parts.add_element(fault.element2);
      parts.add_end(fault.element, fault.end);
      parts.add_end(fault.element2, fault.end2);
      break;
    case FaultKind::shift:
      for (const LandedEnd& moved : landed_ends(fault, graph)) {
        parts.add_element(moved.conductor);
        parts.add_end(moved.conductor, moved.end);
        parts.add_point(moved.at);
      }
      break;
    case FaultKind::bad_reading:
      parts.add_written(readings.rows[index(fault.reading)].from);
      parts.add_written(readings.rows[index(fault.reading)].to);
      break;
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      parts.add_point(fault.p);
      parts.add_point(fault.q);
      break;
  }
  return parts.take();
}

}  // namespace ringtrue
