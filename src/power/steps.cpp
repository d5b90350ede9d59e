#include "steps.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ringtrue::power {

namespace {

std::string_view part_of(const ConductionGraph& graph, PointId p) {
  const PointTable& points = graph.netlist().points;
  return part_of_place(points.place_name(points.place(p)));
}

std::vector<PointId> ends_of(const ConductionGraph& graph, const Device& device) {
  std::vector<PointId> ends;
  for (const ElementId e : device.poles) ends.insert(ends.end(), {graph.end_a(e), graph.end_b(e)});
  return ends;
}

}  // namespace

std::vector<Device> protective_devices(const ConductionGraph& graph) {
  std::vector<Device> devices;
  for (std::uint32_t row = 0; row < graph.netlist().parts.size(); ++row) {
    const Part& part = graph.netlist().parts[row];
    if (!is_protective_device(part)) continue;
    auto found =
        std::find_if(devices.begin(), devices.end(), [&](const Device& d) { return d.part == part.part; });
    if (found == devices.end()) found = devices.insert(found, {part.part, part.sheet, part.kind, {}});
    found->poles.push_back(graph.element_of_part(row));
  }
  return devices;
}

std::vector<std::string_view> electronics(const ConductionGraph& graph) {
  std::vector<std::string_view> parts;
  const auto add = [&](std::string_view part) {
    if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(part);
  };
  for (const Part& part : graph.netlist().parts)
    if (part.kind == PartKind::electronics && part.place != PartPlace::field) add(part.part);
  for (const Channel& channel : graph.netlist().channels) add(part_of(graph, channel.point));
  return parts;
}

std::vector<PointId> supply_pins(const ConductionGraph& graph, std::string_view part) {
  const Netlist& netlist = graph.netlist();
  std::set<PointId> pins;
  for (const std::uint32_t row : netlist.parts_named(part)) {
    const Part& drawn = netlist.parts[row];
    if (drawn.kind == PartKind::electronics || drawn.kind == PartKind::coil) pins.insert({drawn.a, drawn.b});
  }
  for (const Channel& channel : netlist.channels)
    if (channel.common != PointId::none && part_of(graph, channel.common) == part)
      pins.insert(channel.common);
  for (const Channel& channel : netlist.channels) pins.erase(channel.point);
  return {pins.begin(), pins.end()};
}

Measuring::Measuring(const ConductionGraph& graph, const Sources& sources, const std::vector<Device>& devices,
                     std::span<const std::string_view> unplugged)
    : graph_(graph), sources_(sources), devices_(devices) {
  for (const std::string_view part : unplugged) pins_.emplace_back(part, supply_pins(graph, part));
}

void Measuring::measure(const PowerState* before, const PowerState& after, const Device* closed,
                        PowerStep& step) const {
  for (std::size_t i = 0; i < sources_.origins.size(); ++i) {
    const bool was_live = before != nullptr && before->is_live(i);
    if (after.is_live(i) && !was_live && sources_.origins[i].volts != 0)
      step.goes_live.push_back(sources_.origins[i].potential);
  }
  find_joined(before, after, step);
  read_pins(before, after, step);
  read_new_nets(before, after, closed, step);
  read_between_lines(after, closed, step);
  read_zeros(before, after, step);
  const auto& relays = after.may_pull();
  std::copy_if(relays.begin(), relays.end(), std::back_inserter(step.may_pull), [&](std::string_view relay) {
    return before == nullptr ||
           std::find(before->may_pull().begin(), before->may_pull().end(), relay) == before->may_pull().end();
  });
}

void Measuring::find_joined(const PowerState* before, const PowerState& after, PowerStep& step) const {
  for (std::size_t i = 0; i < sources_.origins.size(); ++i) {
    const PointId p = sources_.origins[i].point;
    const std::vector<std::size_t> joined = after.sources_at(p);
    const bool is_one = std::find(joined.begin(), joined.end(), i) != joined.end();
    if (is_one && joined.size() > 1 && (before == nullptr || before->sources_at(p) != joined))
      step.joins.push_back(sources_.origins[i].potential);
  }
}

bool Measuring::is_new(const PowerState* before, const PowerState& after, PointId p) const {
  return after.at(p).shows == Shows::volts && (before == nullptr || before->at(p).shows != Shows::volts);
}

PointId Measuring::reference_of(const PowerState& state, PointId p) const {
  return sources_.systems[sources_.origins[state.at(p).origin].system].reference;
}

ExpectedVolts Measuring::expected(const PowerState& state, PointId red, PointId black) const {
  const Expectation& at = state.at(red);
  const Origin& origin = sources_.origins[at.origin];
  return {red, black, origin.volts, origin.alternating, at.through, {}};
}

void Measuring::read_new_nets(const PowerState* before, const PowerState& after, const Device* closed,
                              PowerStep& step) const {
  std::vector<PointId> first = closed != nullptr ? ends_of(graph_, *closed) : std::vector<PointId>{};
  for (const Origin& origin : sources_.origins) first.push_back(origin.point);
  std::set<PointId> is_taken;
  for (const ExpectedVolts& pin : step.pins)
    if (std::none_of(sources_.origins.begin(), sources_.origins.end(),
                     [&](const Origin& origin) { return origin.point == pin.red; }))
      is_taken.insert(pin.red);
  std::map<std::uint32_t, std::size_t> reading_of_net;
  const auto read = [&](PointId p) {
    if (!is_new(before, after, p) || !is_taken.insert(p).second) return;
    const auto [at, is_first] = reading_of_net.emplace(after.net(p), step.readings.size());
    if (is_first)
      step.readings.push_back(expected(after, p, reference_of(after, p)));
    else
      step.readings[at->second].also.push_back(p);
  };
  for (const PointId p : first) read(p);
  for (std::uint32_t p = 0; p < graph_.point_count(); ++p) read(PointId{p});
}

/// Three lines of one supply have √3 of a line's voltage between each two.
void Measuring::read_between_lines(const PowerState& after, const Device* closed, PowerStep& step) const {
  const std::vector<PointId> ends = closed != nullptr ? ends_of(graph_, *closed) : std::vector<PointId>{};
  std::vector<ExpectedVolts> between;
  for (std::size_t i = 0; i < step.readings.size(); ++i)
    for (std::size_t j = i + 1; j < step.readings.size(); ++j) {
      const ExpectedVolts& one = step.readings[i];
      const ExpectedVolts& other = step.readings[j];
      const auto is_measured = [&](PointId p) {
        return after.at(p).is_hard &&
               (closed == nullptr || std::find(ends.begin(), ends.end(), p) != ends.end());
      };
      if (!one.alternating || !other.alternating || !is_measured(one.red) || !is_measured(other.red))
        continue;
      const std::size_t a = after.at(one.red).origin, b = after.at(other.red).origin;
      if (a == b || sources_.origins[a].system != sources_.origins[b].system ||
          !sources_.systems[sources_.origins[a].system].three_phase)
        continue;
      between.push_back({one.red, other.red, one.volts * std::sqrt(3.0), true, {}, {}});
    }
  step.readings.insert(step.readings.end(), between.begin(), between.end());
}

void Measuring::read_pins(const PowerState* before, const PowerState& after, PowerStep& step) const {
  for (const auto& [part, pins] : pins_)
    for (const PointId p : pins) {
      if (!is_new(before, after, p) || !after.at(p).is_hard) continue;
      const PointId reference = reference_of(after, p);
      const auto own = std::find_if(pins.begin(), pins.end(),
                                    [&](PointId other) { return after.net(other) == after.net(reference); });
      step.pins.push_back(expected(after, p, own == pins.end() ? reference : *own));
    }
  for (const auto& [part, pins] : pins_)
    if (std::all_of(pins.begin(), pins.end(), [&](PointId p) { return is_on_reference(after, p); }))
      for (const PointId p : pins) read_from_source(before, after, p, step);
}

bool Measuring::is_on_reference(const PowerState& state, PointId p) const {
  return state.at(p).is_hard && sources_.origins[state.at(p).origin].volts == 0;
}

/// A module that has only a minus of its supply shows it by the voltage from the supply's plus.
void Measuring::read_from_source(const PowerState* before, const PowerState& after, PointId pin,
                                 PowerStep& step) const {
  const std::uint32_t system = sources_.origins[after.at(pin).origin].system;
  for (const Origin& origin : sources_.origins) {
    if (origin.system != system || origin.volts == 0) continue;
    if (is_new(before, after, origin.point) && after.at(origin.point).is_hard)
      step.pins.push_back(expected(after, origin.point, pin));
    return;
  }
}

/// The far side of each open device, outputs of supplies that are off, and, where they are now fed, field
/// terminals of signals past their device and far sides of contacts; each with what a probe is put to
/// besides.
std::vector<MustBeZero> Measuring::that_must_be_zero(const PowerState* before,
                                                     const PowerState& after) const {
  std::vector<MustBeZero> all;
  for (const Device& device : devices_) {
    const std::vector<PointId> ends = ends_of(graph_, device);
    const auto fed =
        std::find_if(ends.begin(), ends.end(), [&](PointId p) { return after.at(p).shows == Shows::volts; });
    if (fed == ends.end()) continue;
    for (const PointId end : ends) all.push_back({end, reference_of(after, *fed)});
  }
  for (std::size_t i = 0; i < sources_.origins.size(); ++i) {
    const Origin& origin = sources_.origins[i];
    if (!after.is_live(i) && origin.volts != 0)
      all.push_back({origin.point, sources_.systems[origin.system].reference});
  }
  for (const Channel& channel : graph_.netlist().channels) {
    if (channel.field == PointId::none || channel.return_point == PointId::none) continue;
    if (is_new(before, after, channel.return_point))
      all.push_back({channel.field, reference_of(after, channel.return_point)});
  }
  for (const ElementId contact : graph_.contacts()) {
    const PointId a = graph_.end_a(contact), b = graph_.end_b(contact);
    if (is_new(before, after, a)) all.push_back({b, reference_of(after, a)});
    if (is_new(before, after, b)) all.push_back({a, reference_of(after, b)});
  }
  return all;
}

void Measuring::read_zeros(const PowerState* before, const PowerState& after, PowerStep& step) const {
  std::set<std::uint32_t> done;
  for (const auto& [red, fed_from] : that_must_be_zero(before, after)) {
    const Expectation& at = after.at(red);
    if (at.shows != Shows::nothing || at.is_hard || !done.insert(after.net(red)).second) continue;
    const PointId black = at.has_origin ? reference_of(after, red) : fed_from;
    if (black != PointId::none && black != red) step.zeros.push_back({red, black});
  }
}

}  // namespace ringtrue::power
