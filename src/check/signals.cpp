// What a channel says of its current against the potentials that it is wired to. Only a potential that the
// wiring reaches at rest, and a word that the channel list has, is judged.
#include "rules.hpp"

namespace ringtrue::check {

namespace {

enum class Pole : std::uint8_t { unknown, plus, minus };

Pole pole_of(const Drawing& drawing, PointId p) {
  if (p == PointId::none) return Pole::unknown;
  const auto potential = drawing.potential_at_rest(p);
  if (!potential) return Pole::unknown;
  switch (drawing.netlist.potentials[*potential].kind) {
    case PotentialKind::dc_plus:
      return Pole::plus;
    case PotentialKind::dc_minus:
      return Pole::minus;
    default:
      return Pole::unknown;
  }
}

std::string_view word_of(Pole pole) { return pole == Pole::plus ? "plus" : "minus"; }
Pole opposite(Pole pole) { return pole == Pole::plus ? Pole::minus : Pole::plus; }

/// The pole of the module's common. A sinking channel takes current in at its point and out at its common; a
/// sourcing one the other way round.
Pole common_pole(Sense sense) { return sense == Sense::sink ? Pole::minus : Pole::plus; }

bool is_current_loop(const Channel& c) { return c.signal.find("mA") != std::string_view::npos; }
bool is_digital(const Channel& c) { return c.type == ChannelType::DI || c.type == ChannelType::DO; }
bool is_input(const Channel& c) { return c.type == ChannelType::DI || c.type == ChannelType::AI; }

std::string sensor_fault(const Channel& c) {
  using enum Sensor;
  if (c.sensor == unknown) return "";
  const std::string sensor = "A " + std::string(word(c.sensor)) + " sensor ";
  if (!is_input(c)) return sensor + "is named on an output.";
  if (c.sensor == pnp && c.sense == Sense::source) return sensor + "feeds its input, and the input sources.";
  if (c.sensor == npn && c.sense == Sense::sink) return sensor + "sinks current, and so does the input.";
  return "";
}

std::string feed_fault(const Drawing& drawing, const Channel& c) {
  const Pole pole = pole_of(drawing, c.return_point);
  if (c.feed == Feed::unknown) return "";
  const bool is_active = c.feed == Feed::active;
  if (is_active && (c.sensor == Sensor::contact || c.sensor == Sensor::two_wire))
    return "A " + std::string(word(c.sensor)) + " feeds nothing, and the device is said to be active.";
  if (!is_current_loop(c)) return "";
  if (c.type == ChannelType::AO && is_active && c.sense != Sense::sink)
    return "The output feeds the loop, and the device is said to be active.";
  if (c.type != ChannelType::AI || c.sense == Sense::source) return "";
  if (is_active && pole == Pole::plus)
    return "The device is said to feed its loop, and " + drawing.name(c.return_point) + " is at plus.";
  if (!is_active && pole == Pole::minus)
    return "The device takes its current from the loop, and " + drawing.name(c.return_point) +
           " is at minus: nothing feeds it, unless the module does (sense = source).";
  return "";
}

}  // namespace

void sense_against_wiring(const Drawing& drawing, Found& found) {
  for (std::size_t i = 0; i < drawing.netlist.channels.size(); ++i) {
    const Channel& c = drawing.netlist.channels[i];
    if (!is_digital(c) || c.sense == Sense::unknown) continue;
    const auto judge = [&](PointId p, Pole right, std::string_view noun) {
      if (const Pole pole = pole_of(drawing, p); pole != Pole::unknown && pole != right)
        found.add("The " + std::string(word(c.type)) + " is said to " + std::string(word(c.sense)) +
                      " current, and its " + std::string(noun) + " " + drawing.name(p) + " is at " +
                      std::string(word_of(pole)) + ".",
                  {drawing.channel_row(i)});
    };
    judge(c.common, common_pole(c.sense), "common");
    judge(c.return_point, opposite(common_pole(c.sense)), "return");
  }
}

void sensor_against_channel(const Drawing& drawing, Found& found) {
  for (std::size_t i = 0; i < drawing.netlist.channels.size(); ++i)
    if (std::string fault = sensor_fault(drawing.netlist.channels[i]); !fault.empty())
      found.add(std::move(fault), {drawing.channel_row(i)});
}

void feed_against_channel(const Drawing& drawing, Found& found) {
  for (std::size_t i = 0; i < drawing.netlist.channels.size(); ++i)
    if (std::string fault = feed_fault(drawing, drawing.netlist.channels[i]); !fault.empty())
      found.add(std::move(fault), {drawing.channel_row(i)});
}

}  // namespace ringtrue::check
