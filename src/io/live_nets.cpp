#include "live_nets.hpp"

#include <algorithm>

namespace ringtrue::io {

namespace {

bool is_source(PartKind kind) {
  return kind == PartKind::supply || kind == PartKind::input || kind == PartKind::transformer;
}

}  // namespace

LiveNets::LiveNets(const ConductionGraph& graph, const SwitchedCopper& copper) : copper_(copper) {
  const Netlist& netlist = graph.netlist();
  for (const Potential& potential : netlist.potentials)
    bring(number_of(std::string(potential.name), &potential), potential.point);
  bring_labels(netlist);
  std::vector<Place> pins;
  for (const Part& part : netlist.parts)
    if (is_source(part.kind))
      for (const PointId pin : {part.a, part.b})
        pins.push_back({number_of(netlist.points.name(pin), nullptr), pin});
  bring_where_none_is(pins);
}

void LiveNets::bring_labels(const Netlist& netlist) {
  std::vector<Place> not_declared;
  for (std::size_t i = 0; i < netlist.conductors.size(); ++i) {
    const Conductor& conductor = netlist.conductors[i];
    const std::string label(netlist.conductor_text.get(ConductorText::potential, i));
    if (label.empty() || conductor.is_spare()) continue;
    const auto known = by_name_.find(label);
    for (const PointId end : {conductor.from, conductor.to}) {
      if (known != by_name_.end() && lives_[known->second].declared != nullptr)
        bring(known->second, end);
      else
        not_declared.push_back({number_of(label, nullptr), end});
    }
  }
  // A mark that names no declared potential says something only where none is known.
  bring_where_none_is(not_declared);
}

void LiveNets::bring_where_none_is(const std::vector<Place>& places) {
  std::vector<Place> alone;
  for (const Place& place : places)
    if (on_closed(copper_.closed(place.point)).empty()) alone.push_back(place);
  for (const Place& place : alone) bring(place.live, place.point);
}

const std::vector<LiveNets::Place>& LiveNets::of(const ByNet& nets, NetId net) {
  static const std::vector<Place> none;
  const auto at = nets.find(net);
  return at == nets.end() ? none : at->second;
}

std::uint32_t LiveNets::number_of(std::string name, const Potential* declared) {
  const auto [at, is_new] = by_name_.emplace(std::move(name), static_cast<std::uint32_t>(lives_.size()));
  if (is_new) lives_.push_back({at->first, declared});
  return at->second;
}

void LiveNets::bring(std::uint32_t live, PointId point) {
  const auto put = [&](std::vector<Place>& places) {
    const bool is_there = std::any_of(places.begin(), places.end(), [&](const Place& place) {
      return place.live == live && copper_.steady(place.point) == copper_.steady(point);
    });
    if (!is_there) places.push_back({live, point});
  };
  put(closed_[copper_.closed(point)]);
  put(diodes_[copper_.with_diodes(point)]);
}

}  // namespace ringtrue::io
