#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace ringtrue {

// Each value is the word of the files: `contact_no` is `contact-no`. `word()` gives it, `from_word<Enum>()`
// reads it (exact case), `all_words<Enum>()` lists them for messages and schemas, in the order of the enum.

/// A bridge or busbar has no number that could be mistaken; a core belongs to a cable.
enum class ConductorKind : std::uint8_t { wire, bridge, core, busbar };

/// What a row of `parts` is: its default ohms, its state at rest and its faults go by it.
enum class PartKind : std::uint8_t {
  terminal,
  disconnect,
  plug,
  pe_terminal,  // strip-like: points .int and .ext
  fuse,
  breaker,
  isolator,
  contact_no,
  contact_nc,
  path,
  coil,
  lamp,
  resistor,
  diode,
  supply,
  input,
  transformer,
  motor,
  surge,
  capacitor,
  sensor,
  electronics,
};

/// Where a part sits. Field parts are absent in the shop unless `field=connected`.
enum class PartPlace : std::uint8_t { panel, door, field };

/// Safety or explosion-protection duty of a conductor, part or channel.
enum class Role : std::uint8_t { none, stop, guard, protective, ex };

enum class ChannelType : std::uint8_t { DI, DO, AI, AO };
/// Whether the device takes its current from the loop, or gives it.
enum class Feed : std::uint8_t { unknown, passive, active };
/// Which way current runs through a digital input that is lit: in (sink) or out (source).
enum class Sense : std::uint8_t { unknown, sink, source };
/// What the device at a digital input is.
enum class Sensor : std::uint8_t { unknown, contact, pnp, npn, two_wire, namur };
enum class PotentialKind : std::uint8_t { dc_plus, dc_minus, ac_line, ac_neutral, pe };
/// Whether every safety circuit of the drawing carries a role.
enum class Safety : std::uint8_t { not_stated, marked, none };

/// What happened at the panel. A repair opens clamps, and a temporary change until it is undone; a repeat
/// none.
enum class EventKind : std::uint8_t { repair, temporary_made, temporary_undone, repeat };

/// How a reading was taken. `insulation` and `low_ohm` are never judged by the beep threshold.
enum class Method : std::uint8_t { not_stated, beep, ohms, low_ohm, insulation, count };

// Of an I/O test. What wasn't looked at is an empty field.
enum class Stimulus : std::uint8_t { jumper, operated, simulator, logic, forced, substitute };
enum class LedSeen : std::uint8_t { not_looked, lit, dark };
enum class BitRead : std::uint8_t { not_read, zero, one };               ///< at the controller
enum class OnlyThis : std::uint8_t { not_stated, yes, no, not_looked };  ///< no other channel changed
enum class IoVerdict : std::uint8_t {
  pass,
  fail,
  incomplete,  ///< what was seen is as expected, but not all of it was looked at
  withdrawn,   ///< no result: it takes back the one that it supersedes
};

/// About a finding: what is to be done with it.
enum class DecisionKind : std::uint8_t {
  repair,     ///< the panel is repaired
  drawing,    ///< the panel is right: the drawing is changed
  accepted,   ///< it stays as it is, by somebody who says why
  withdrawn,  ///< nothing is decided any more
};

/// Side of a strip-like part. `either` is a bare name in a reading; `single` a point that has no sides.
enum class Side : std::uint8_t { single, internal, external, either };

template <class Enum>
[[nodiscard]] std::string_view word(Enum value);
template <class Enum>
[[nodiscard]] std::optional<Enum> from_word(std::string_view text);
template <class Enum>
[[nodiscard]] std::span<const std::string_view> all_words();

/// `wire, bridge, core or busbar`, for the "expected" of a message.
template <class Enum>
[[nodiscard]] std::string listed_words();

}  // namespace ringtrue
