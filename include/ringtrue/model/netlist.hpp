#pragma once
#include <cstdint>
#include <deque>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/base/ids.hpp"
#include "ringtrue/model/kinds.hpp"
#include "ringtrue/model/points.hpp"
#include "ringtrue/model/text_columns.hpp"

namespace ringtrue {

/// The line of the file that a record came from.
struct RowSource {
  std::uint32_t line = 0;
  std::uint16_t file = 0;  ///< index into `Netlist::files`
};

/// Fields of a conductor that stay text.
enum class ConductorText : std::uint8_t {
  wire,
  id,
  colour,
  mm2,
  awg,
  length_m,
  cable,
  core,
  sheet,
  potential,
  note,
  count_
};

/// One conductor. Its texts stand in `Netlist::conductor_text`.
struct Conductor {
  PointId from = PointId::none;
  PointId to = PointId::none;  ///< `none` only for a spare core
  RowSource source;
  ConductorKind kind = ConductorKind::wire;
  Role role = Role::none;

  [[nodiscard]] bool is_spare() const { return to == PointId::none; }
};

/// A row that says once more what an earlier one said. It is no conductor of its own.
struct RepeatedConductor {
  std::uint32_t conductor = 0;  ///< index of the one that counts
  RowSource source;             ///< the row that does not
};

/// A number that the drawing does not state; told by `std::isnan`.
inline constexpr double k_not_given = std::numeric_limits<double>::quiet_NaN();

/// One row of `parts`: one conducting (or loading) path between two points.
struct Part {
  std::string_view part;  ///< canonical designation; `X1:5` for strip-like kinds
  PartKind kind = PartKind::terminal;
  PointId a = PointId::none;  ///< `.int` for strip-like kinds
  PointId b = PointId::none;  ///< `.ext` for strip-like kinds
  double ohms = k_not_given;
  double tolerance_pct = k_not_given;
  double volts = k_not_given;
  double amps = k_not_given;  ///< rated current of a fuse or breaker
  std::string_view
      actuated_by;  ///< part whose operation moves this contact; its own part where the file is silent
  std::vector<int> closed_in;  ///< selector positions; empty = not a selector contact
  PartPlace place = PartPlace::panel;
  Role role = Role::none;
  bool strip_like = false;
  std::string_view sheet, note;
  RowSource source;
};

/// One input or output point of the controller. Texts are empty where the channel list is silent.
struct Channel {
  PointId point = PointId::none;
  ChannelType type = ChannelType::DI;
  std::string_view address, tag, text;
  PointId field = PointId::none;         ///< field terminal of the signal (bare names: `.ext`)
  PointId return_point = PointId::none;  ///< the device's other field terminal
  PointId common = PointId::none;        ///< the module point through which the current also flows
  std::string_view device;
  Feed feed = Feed::unknown;
  std::optional<bool> normal;
  Sense sense = Sense::unknown;
  Sensor sensor = Sensor::unknown;
  std::string_view signal, unit, module, led;
  double low = k_not_given, high = k_not_given, raw_low = k_not_given, raw_high = k_not_given;
  Role role = Role::none;
  RowSource source;
};

/// A voltage that the drawing declares, and where it comes from.
struct Potential {
  std::string_view name;
  PotentialKind kind = PotentialKind::dc_plus;
  double volts = k_not_given;
  PointId point = PointId::none;  ///< where it originates
  RowSource source;
  /// Against its own reference. A minus, neutral or PE is that, whatever is written beside it: some drawings
  /// put the voltage of its supply there.
  [[nodiscard]] double volts_to_reference() const {
    return kind == PotentialKind::dc_plus || kind == PotentialKind::ac_line ? volts : 0;
  }
};

/// What the drawing says of itself.
struct PanelInfo {
  std::string name, revision, drawing;
  Designation designation;  ///< default function and location of names
  Safety safety = Safety::not_stated;
};

/// A drawing's netlist: plain, immutable after `NetlistBuilder::finish`. Its texts are views into the buffers
/// it owns.
struct Netlist {
  PanelInfo panel;
  PointTable points;
  std::vector<Conductor> conductors;
  TextColumns<ConductorText> conductor_text;
  std::vector<RepeatedConductor> repeated_conductors;  ///< in the order of the rows
  std::vector<Part> parts;
  std::vector<Channel> channels;
  std::vector<Potential> potentials;
  std::vector<PlaceId> implied_terminals;  ///< two-sided places that only the wire list knows
  std::vector<std::string> files;
  std::vector<Note> notes;

  std::vector<std::uint32_t> parts_by_name;  ///< indices into `parts`, sorted by `part`, for look-ups

  std::vector<std::shared_ptr<const void>> buffers;  ///< keep the bytes behind the views alive
  std::shared_ptr<std::deque<std::string>> names =
      std::make_shared<std::deque<std::string>>();  ///< the same, for names that were put together

  /// Rows of `parts` whose part is `name` (views into `parts_by_name`; empty if there is none).
  [[nodiscard]] std::span<const std::uint32_t> parts_named(std::string_view name) const;
  /// Rows whose part is the name itself, or begins with it and a colon or full stop: everything that hangs on
  /// a strip, module or connector.
  [[nodiscard]] std::vector<std::uint32_t> parts_under(std::string_view name) const;
  /// How people call a conductor: its wire number, else cable/core, else `X1:4-X1:5`.
  [[nodiscard]] std::string conductor_name(std::size_t conductor) const;
};

}  // namespace ringtrue
