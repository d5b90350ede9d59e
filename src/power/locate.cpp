#include "ringtrue/power/locate.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

std::string_view word(SegmentKind kind) {
  switch (kind) {
    case SegmentKind::element:
      return "element";
    case SegmentKind::device:
      return "device";
    case SegmentKind::module:
      return "module";
  }
  return {};
}

namespace {

tl::unexpected<Errors> no_loop(const ConductionGraph& graph, std::size_t channel, std::string why) {
  const Netlist& netlist = graph.netlist();
  return fail({ErrorCode::bad_call,
               std::move(why),
               {},
               netlist.points.name(netlist.channels[channel].point),
               "a DI whose signal, return and common the drawing leads to plus and minus of one supply",
               {}});
}

bool is_whole(const TracedPath& path) {
  return path.verdict == PathVerdict::complete || path.verdict == PathVerdict::passes_open;
}

const Potential* potential_at(const ConductionGraph& graph, PointId p, PotentialKind kind) {
  for (const Potential& potential : graph.netlist().potentials)
    if (potential.kind == kind && graph.net_at_rest(potential.point) == graph.net_at_rest(p))
      return &potential;
  return nullptr;
}

void append(std::vector<LoopSegment>& loop, const TracedPath& path) {
  for (std::size_t i = 0; i < path.elements.size(); ++i)
    loop.push_back({SegmentKind::element, path.elements[i], path.points[i], path.points[i + 1]});
}

void turn_round(std::vector<LoopSegment>& loop) {
  std::reverse(loop.begin(), loop.end());
  for (LoopSegment& segment : loop) std::swap(segment.from, segment.to);
}

}  // namespace

Result<InputLoop> input_loop(const ConductionGraph& graph, std::size_t channel) {
  const Channel& drawn = graph.netlist().channels[channel];
  if (drawn.type != ChannelType::DI)
    return no_loop(graph, channel, "only a digital input has a loop to light it");
  const ChannelTrace trace = trace_channel(graph, channel);
  if (!is_whole(trace.signal) || !is_whole(trace.return_path) || !is_whole(trace.common))
    return no_loop(graph, channel, "the drawing gives this input no whole loop; trace says where it ends");

  // From what feeds the device through it to the module, and on to what feeds the common.
  InputLoop loop;
  append(loop.segments, trace.return_path);
  turn_round(loop.segments);
  loop.segments.push_back(
      {SegmentKind::device, ElementId::none, trace.return_path.from, trace.signal.points.back()});
  std::vector<LoopSegment> signal;
  append(signal, trace.signal);
  turn_round(signal);
  loop.segments.insert(loop.segments.end(), signal.begin(), signal.end());
  loop.segments.push_back({SegmentKind::module, ElementId::none, drawn.point, trace.common.from});
  append(loop.segments, trace.common);

  if (potential_at(graph, loop.plus(), PotentialKind::dc_minus) != nullptr) turn_round(loop.segments);
  const Potential* plus = potential_at(graph, loop.plus(), PotentialKind::dc_plus);
  const Potential* minus = potential_at(graph, loop.minus(), PotentialKind::dc_minus);
  if (plus == nullptr || minus == nullptr || !(plus->volts > 0))
    return no_loop(graph, channel,
                   "the loop of this input doesn't lead from the plus of a DC supply to a minus");
  loop.volts = plus->volts - (minus->volts < 0 ? minus->volts : 0);
  return loop;
}

Located locate(const InputLoop& loop, std::span<const LoopVolts> measured,
               const std::vector<std::uint8_t>& is_proven) {
  Located found;
  const std::size_t n = loop.segments.size();
  const auto place_of = [&](PointId p) {
    const auto at = std::find_if(loop.segments.begin(), loop.segments.end(),
                                 [&](const LoopSegment& segment) { return segment.from == p; });
    return static_cast<std::size_t>(at - loop.segments.begin());
  };
  // The break is behind every point with the voltage of plus, and before every one without.
  std::size_t first = 0, end = n;
  for (const auto& [point, volts] : measured) {
    const std::size_t place = place_of(point);
    const double share = std::abs(volts) / loop.volts;
    if (share > 0.25 && share < 0.75) {
      found.unclear.push_back(point);
    } else if (place == 0) {
      (share >= 0.75 ? found.is_supply_shown : found.is_supply_missing) = true;
    } else if (share >= 0.75) {
      first = std::max(first, place);
    } else {
      end = std::min(end, place);
    }
  }
  found.is_contradictory = first >= end || (found.is_supply_shown && found.is_supply_missing) ||
                           (found.is_supply_missing && first > 0);
  if (found.is_contradictory || found.is_supply_missing) return found;
  for (std::size_t i = first; i < end; ++i) {
    const LoopSegment& segment = loop.segments[i];
    if (segment.kind != SegmentKind::element || is_proven[index(segment.element)] == 0)
      found.suspects.push_back(i);
  }
  const std::size_t left = found.suspects.size();
  found.is_contradictory = left == 0;
  if (left > 1) found.further = static_cast<std::size_t>(std::bit_width(left - 1));
  if (!found.is_supply_shown) {
    found.next = loop.plus();
    ++found.further;
  } else if (left > 1) {
    found.next = loop.segments[found.suspects[left / 2]].from;
  }
  return found;
}

}  // namespace ringtrue
