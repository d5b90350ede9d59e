#include "rows_of_wires.hpp"

#include <algorithm>

#include "ringtrue/graph/rows.hpp"

namespace ringtrue {

PointId RowOfWires::first_of(const ConductionGraph& graph, PointId p) {
  while (graph.beside(p)[0] != PointId::none) p = graph.beside(p)[0];
  return p;
}

RowOfWires::RowOfWires(const ConductionGraph& graph, PointId first) {
  for (PointId at = first; at != PointId::none; at = graph.beside(at)[1]) points_.push_back(at);
  ends_before_.assign(1, 0);
  for (std::size_t i = 0; i < points_.size(); ++i) {
    const auto at = graph.elements_at(points_[i]);
    const auto wires =
        std::count_if(at.begin(), at.end(), [&](ElementId e) { return is_wire_in_panel(e, graph); });
    ends_before_.push_back(ends_before_.back() + static_cast<std::uint32_t>(wires));
    places_.emplace_back(points_[i], i);
  }
  std::sort(places_.begin(), places_.end());
}

std::optional<std::size_t> RowOfWires::place_of(PointId p) const {
  const auto at = std::lower_bound(places_.begin(), places_.end(), std::pair<PointId, std::size_t>{p, 0});
  if (at == places_.end() || at->first != p) return std::nullopt;
  return at->second;
}

Fault RowOfWires::shift(const Run& run) const {
  Fault fault;
  fault.kind = FaultKind::shift;
  fault.places = static_cast<std::int8_t>(run.places);
  fault.p = points_[run.first], fault.q = points_[run.last];
  return fault;
}

}  // namespace ringtrue
