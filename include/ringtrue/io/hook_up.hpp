#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "ringtrue/io/signal.hpp"
#include "ringtrue/io/supplies.hpp"

namespace ringtrue {

/// What takes the place of the field device.
enum class Simulator : std::uint8_t {
  transmitter,     ///< two-wire: it sinks what the panel feeds
  current_source,  ///< four-wire: it feeds the loop
  voltage_source,
  resistance_decade,
  millivolt_source,
  milliammeter,  ///< at an output
  voltmeter,     ///< at an output
};

/// Why none is to be connected.
enum class NoHookUp : std::uint8_t {
  role,              ///< of a safety or explosion-protection circuit
  unknown_signal,    ///< none stated, or none that is known
  no_terminals,      ///< field or return
  joined_terminals,  ///< field and return are one net
  unknown_feed,      ///< two supplies in one loop can destroy the input
  feed_differs,      ///< the feed stated does not go with the signal or the sensor
  device_feeds,      ///< an output whose loop the device feeds
  on_a_supply,       ///< a supply of the panel is, or by a contact may come, on a terminal where none may be
};

/// A further lead of a sensor, such as the third of a resistance thermometer.
struct FurtherLead {
  PointId terminal = PointId::none, device = PointId::none;
};

/// The simulator, and the terminals of the channel that it goes to.
struct HookUp {
  std::optional<NoHookUp> why_not;  ///< then the rest says nothing
  Simulator simulator = Simulator::transmitter;
  PointId plus = PointId::none, minus = PointId::none;
  bool polarity_known = true;  ///< else it is to be measured; `plus` and `minus` may be the other way round
  std::vector<FurtherLead> further_leads;
};

/// @param channel  an AI or AO; `signal` its signal, if one is known.
[[nodiscard]] HookUp hook_up(const Supplies& supplies, const Channel& channel,
                             const std::optional<Signal>& signal);

}  // namespace ringtrue
