#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// A voltage to be measured and what the drawing expects of it.
struct ExpectedVolts {
  PointId red = PointId::none, black = PointId::none;
  double volts = 0;  ///< DC: of red against black; AC: the magnitude
  bool alternating = false;
  std::vector<ElementId> through;  ///< loads that lead there; empty: joined hard to the potential
  std::vector<PointId> also;       ///< further places on the net of `red` that must show the same
};

/// Where nothing live may have come.
struct MustBeZero {
  PointId red = PointId::none, black = PointId::none;
};

/// What is done in a step.
enum class PowerAction : std::uint8_t {
  always_live,  ///< nothing is switched: live with the main switch off
  supply_on,    ///< the supply from outside comes on, every protective device is open
  close,        ///< one protective device is closed
};
[[nodiscard]] std::string_view word(PowerAction action);  ///< `always-live`, `supply-on`, `close`

/// One step of the sheet: what is switched and what to measure then.
struct PowerStep {
  PowerAction action = PowerAction::close;
  std::string_view device;  ///< closed: `Q1`, `X2:1`
  std::string_view kind;    ///< its word in the files: `isolator`, `breaker`, `fuse`
  std::string_view sheet;
  std::vector<std::uint32_t> goes_live;  ///< potentials that this step makes live
  /// Potentials of two or more sources that copper joins from this step on: no voltage is stated there.
  std::vector<std::uint32_t> joins;
  bool is_fed = true;  ///< something live stood before the device
  std::vector<ExpectedVolts> readings;
  std::vector<ExpectedVolts> pins;  ///< supply pins of unplugged electronics, for voltage and polarity
  std::vector<MustBeZero> zeros;
  std::vector<std::string_view> may_pull;  ///< relays that may pull in: what their contacts join isn't stated
};

/// Electronics to plug in once all their supply pins have shown voltage and polarity.
struct PlugIn {
  std::string_view part;
  /// Index of the last step that brings one of its pins its voltage; nothing if none does.
  std::optional<std::size_t> after_step;
  std::vector<ExpectedVolts> pins;  ///< to be measured again with it plugged in
  std::vector<PointId> not_stated;  ///< its supply pins on other nets, of which no step states a voltage
};

/// A staged power-up with every field device absent.
struct PowerUp {
  std::vector<std::string_view> devices;    ///< isolators, breakers, fuses: all open first
  std::vector<std::string_view> unplugged;  ///< electronics, in the order of the drawing
  std::vector<PowerStep> steps;
  std::vector<PlugIn> plug_ins;
  std::vector<std::uint32_t> never_live;  ///< potentials that no step makes live with everything at rest
};

/// The order in which a panel is powered, and what each step must show.
///
/// Every protective device is open and all electronics are unplugged. What is live without a switch comes
/// first, then the supply from outside, then one device after the other, each behind what feeds it, one
/// branch to its end before the next. Each is closed in exactly one step.
///
/// Expected at a point: joined hard to a potential, its voltage; else, if what is closed and all loads lead
/// to potentials of one voltage only, that voltage, through loads of known small resistance; 0 V where they
/// lead to nothing live; else nothing is stated. A contact of a relay whose coil may have voltage counts as
/// either open or closed. All values hold for a meter of 1 MΩ within 2 % (loads up to 20 kΩ).
///
/// Cost: linear in the netlist for each protective device.
[[nodiscard]] PowerUp plan_power_up(const ConductionGraph& graph);

}  // namespace ringtrue
