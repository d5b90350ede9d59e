#include "ringtrue/io/hook_up.hpp"

#include <string>
#include <utility>

namespace ringtrue {

namespace {

/// A supply is where the simulator would stand against it, or across it.
bool is_on_a_supply(const Supplies& supplies, const Channel& channel, bool panel_feeds) {
  const PointId field = channel.field, back = channel.return_point;
  const bool is_across =
      supplies.reaches(PotentialKind::dc_minus, field) && supplies.reaches(PotentialKind::dc_plus, back);
  return is_across || supplies.ac_reaches(field) || supplies.ac_reaches(back) ||
         supplies.reaches(PotentialKind::dc_plus, field) ||
         (!panel_feeds && supplies.reaches(PotentialKind::dc_plus, back));
}

/// Puts plus to where the current of a loop that the panel feeds comes from.
void orient(HookUp& made, const Supplies& supplies, const Channel& channel) {
  const PointId back = channel.return_point, common = channel.common;
  const ConductionGraph& graph = supplies.graph();
  const bool on_plus = supplies.reaches(PotentialKind::dc_plus, back);
  const bool on_common = common != PointId::none && graph.net_at_rest(back) == graph.net_at_rest(common);
  const bool on_minus = supplies.reaches(PotentialKind::dc_minus, back) || on_common;
  made.polarity_known = on_plus != on_minus;
  if (on_plus) std::swap(made.plus, made.minus);
}

std::vector<FurtherLead> further_leads(const Netlist& netlist, const Channel& channel) {
  const std::string device = std::string(channel.device) + ":";
  std::vector<FurtherLead> leads;
  if (channel.device.empty()) return leads;
  for (const Conductor& conductor : netlist.conductors) {
    if (conductor.is_spare()) continue;
    FurtherLead lead{conductor.from, conductor.to};
    if (netlist.points.name(lead.terminal).starts_with(device)) std::swap(lead.terminal, lead.device);
    if (!netlist.points.name(lead.device).starts_with(device)) continue;
    const bool is_known = lead.terminal == channel.field || lead.terminal == channel.return_point ||
                          netlist.points.name(lead.terminal).starts_with(device);
    if (!is_known) leads.push_back(lead);
  }
  return leads;
}

/// What goes to an input, or why nothing does.
std::optional<NoHookUp> choose_for_input(const Channel& channel, SignalKind kind, Simulator& chosen) {
  if (kind == SignalKind::thermocouple) return chosen = Simulator::millivolt_source, std::nullopt;
  if (kind == SignalKind::resistance) {
    chosen = Simulator::resistance_decade;
    return channel.feed == Feed::active ? std::optional(NoHookUp::feed_differs) : std::nullopt;
  }
  if (channel.feed == Feed::unknown) return NoHookUp::unknown_feed;
  const bool passive = channel.feed == Feed::passive;
  if (kind == SignalKind::voltage) {
    chosen = Simulator::voltage_source;
    return passive ? std::optional(NoHookUp::feed_differs) : std::nullopt;
  }
  chosen = passive ? Simulator::transmitter : Simulator::current_source;
  const bool differs = !passive && channel.sensor == Sensor::two_wire;
  return differs ? std::optional(NoHookUp::feed_differs) : std::nullopt;
}

std::optional<NoHookUp> choose_for_output(const Channel& channel, SignalKind kind, Simulator& chosen) {
  if (kind == SignalKind::voltage) {  // a voltmeter brings no supply into the circuit
    chosen = Simulator::voltmeter;
    return channel.feed == Feed::active ? std::optional(NoHookUp::feed_differs) : std::nullopt;
  }
  chosen = Simulator::milliammeter;
  if (kind != SignalKind::current) return NoHookUp::unknown_signal;
  if (channel.feed == Feed::unknown) return NoHookUp::unknown_feed;
  return channel.feed == Feed::active ? std::optional(NoHookUp::device_feeds) : std::nullopt;
}

HookUp none_because(NoHookUp why) {
  HookUp none;
  none.why_not = why;
  return none;
}

}  // namespace

HookUp hook_up(const Supplies& supplies, const Channel& channel, const std::optional<Signal>& signal) {
  if (channel.role != Role::none) return none_because(NoHookUp::role);
  if (!signal) return none_because(NoHookUp::unknown_signal);
  if (channel.field == PointId::none || channel.return_point == PointId::none)
    return none_because(NoHookUp::no_terminals);
  const ConductionGraph& graph = supplies.graph();
  if (graph.net_at_rest(channel.field) == graph.net_at_rest(channel.return_point))
    return none_because(NoHookUp::joined_terminals);
  HookUp made;
  const bool is_input = channel.type == ChannelType::AI;
  const auto why_not = is_input ? choose_for_input(channel, signal->kind, made.simulator)
                                : choose_for_output(channel, signal->kind, made.simulator);
  if (why_not) return none_because(*why_not);

  const bool panel_feeds =
      made.simulator == Simulator::transmitter || made.simulator == Simulator::milliammeter;
  if (is_on_a_supply(supplies, channel, panel_feeds)) return none_because(NoHookUp::on_a_supply);
  made.plus = channel.field, made.minus = channel.return_point;
  if (panel_feeds) orient(made, supplies, channel);
  if (signal->kind == SignalKind::resistance) made.further_leads = further_leads(graph.netlist(), channel);
  return made;
}

}  // namespace ringtrue
