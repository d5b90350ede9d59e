#include "ringtrue/power/input_loop.hpp"

#include <algorithm>

#include "ringtrue/expect/openers.hpp"
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

std::size_t InputLoop::segment_from(PointId point) const {
  const auto at = std::find_if(segments.begin(), segments.end(),
                               [&](const LoopSegment& segment) { return segment.from == point; });
  return static_cast<std::size_t>(at - segments.begin());
}

namespace {

tl::unexpected<Errors> no_loop(const Netlist& netlist, const Channel& channel, std::string why,
                               std::string expected) {
  return fail({ErrorCode::bad_call,
               std::move(why),
               {},
               netlist.points.name(channel.point) + ", " + std::string(word(channel.type)),
               std::move(expected),
               {}});
}

/// An input that something other than a supply of the panel drives, or no input.
Result<void> has_fed_loop(const Netlist& netlist, const Channel& channel) {
  switch (channel.type) {
    case ChannelType::DO:
      return no_loop(netlist, channel, "an output has no loop that a supply drives past a device",
                     "an input; drive says what turns an output on, and what to measure where");
    case ChannelType::AO:
      return no_loop(netlist, channel, "an output feeds its loop itself",
                     "an input; analog says what to force an output to, and what to measure");
    case ChannelType::DI:
      return {};
    case ChannelType::AI:
      break;
  }
  if (channel.feed == Feed::active || channel.sensor != Sensor::two_wire)
    return no_loop(netlist, channel, "no supply of the panel is stated to feed the loop of this input",
                   "an input with a two-wire transmitter; analog says what to feed the others, and a current "
                   "is followed with the meter in the loop");
  return {};
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

/// The device's own contact where it is wired in panel or door.
ElementId contact_between(PointId a, PointId b, const ConductionGraph& graph) {
  for (const ElementId e : graph.contacts()) {
    const bool is_there = graph.netlist().parts[graph.origin(e).row].place != PartPlace::field;
    if (is_there && std::minmax({graph.end_a(e), graph.end_b(e)}) == std::minmax({a, b})) return e;
  }
  return ElementId::none;
}

}  // namespace

Result<InputLoop> input_loop(const ConductionGraph& graph, std::size_t channel) {
  const Channel& drawn = graph.netlist().channels[channel];
  const Netlist& netlist = graph.netlist();
  if (const auto fed = has_fed_loop(netlist, drawn); !fed) return tl::unexpected(fed.error());
  const ChannelTrace trace = trace_channel(graph, channel);
  if (!is_whole(trace.signal) || !is_whole(trace.return_path) || !is_whole(trace.common))
    return no_loop(netlist, drawn, "the drawing gives this input no whole loop",
                   "signal, return and common that are complete; trace says where they end");

  // From what feeds the device through it to the module, and on to what feeds the common.
  InputLoop loop;
  loop.channel = channel;
  append(loop.segments, trace.return_path);
  turn_round(loop.segments);
  const PointId device_from = trace.return_path.from, device_to = trace.signal.points.back();
  loop.segments.push_back(
      {SegmentKind::device, contact_between(device_from, device_to, graph), device_from, device_to});
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
    return no_loop(netlist, drawn,
                   "the loop of this input doesn't lead from the plus of a DC supply to a minus",
                   "return and common on a dc+ with its volts and a dc-");
  loop.volts = plus->volts;
  return loop;
}

std::string driving_conditions(const InputLoop& loop, const ConductionGraph& graph) {
  std::vector<std::string> settings;
  for (const LoopSegment& segment : loop.segments) {
    const ElementId e = segment.element;
    if (e == ElementId::none || graph.kind(e) != ElementKind::contact || graph.is_on_at_rest(e)) continue;
    const std::string setting = settings_that_close(e, graph).front();
    if (std::find(settings.begin(), settings.end(), setting) == settings.end()) settings.push_back(setting);
  }
  std::string text = "power=on";
  for (const std::string& setting : settings) text += ";" + setting;
  return text;
}

}  // namespace ringtrue
