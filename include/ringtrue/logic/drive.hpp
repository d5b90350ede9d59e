#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "ringtrue/logic/program.hpp"
#include "ringtrue/logic/stimuli.hpp"

namespace ringtrue::logic {

/// Which option of each source is set.
using Choice = std::vector<std::uint16_t>;

/// Something done, and what the logic makes of it.
struct Step {
  enum class Kind : std::uint8_t {
    rest,    ///< the controller starts with all inputs at rest
    change,  ///< inputs are set as `choice` says
    wait,    ///< nothing is done until a timer runs out
  } kind = Kind::rest;
  Choice choice;
  std::uint32_t wait_ms = 0;
  std::vector<std::uint32_t> scans_ms;  ///< the scans until nothing changes any more, each ms after the last
  bool is_on = false;                   ///< the output then
  /// The source to be set before the others, which go as listed: else these lead elsewhere.
  std::uint32_t first = k_none;
  bool is_together = false;  ///< one after the other the inputs lead elsewhere, whichever is first
};

/// One input state, tried from a stated prior state.
struct Trial {
  std::vector<Step> prior;  ///< from rest
  std::vector<Step> steps;  ///< from there; one change, and waits
  std::uint64_t watch_ms =
      0;  ///< how long the output is looked at, since the other of a pair changes so late
  /// Back to rest, last first, the controller is not as it started: it must be started anew.
  bool must_restart = false;
  std::uint64_t back_ms = 0;  ///< else how long it takes at rest until it is
};

/// Two tests with the same prior state that differ in one input, of which the output tells. Indices of tests.
struct Pair {
  std::uint32_t variable = k_none;
  std::size_t first = 0, second = 0;
};

/// Why nothing shows that an input alone decides.
enum class NoPair : std::uint8_t {
  masked,       ///< no state of the others lets it decide
  coupled,      ///< it cannot change alone: a selector, or a contact that follows an output
  held,         ///< it has a role, or nothing here can move it
  unreachable,  ///< only from a prior state that no sequence of inputs leads to
  not_searched,
};
[[nodiscard]] std::string_view word(NoPair cause);

/// An input without a pair.
struct Unpaired {
  std::uint32_t variable = k_none;
  NoPair cause = NoPair::masked;
};

/// Tests that show of each input that it alone decides.
struct PairSet {
  std::vector<Source> sources;  ///< as set for the tests; held ones have one option
  std::vector<Trial> tests;     ///< in the order in which to take them; those with one prior state together
  std::vector<Pair> pairs;      ///< in the order of the channel list
  std::vector<Unpaired> unpaired;
  bool is_exact_order = true;  ///< of chained ones: no order has fewer changes of inputs; else nearest first
  bool is_chained = false;     ///< nothing is remembered, so that tests follow each other without rest
};

/// Whether an output can be driven by its inputs here.
enum class DriveVerdict : std::uint8_t {
  drivable,
  substitute,    ///< only with a stop or guard circuit closed by real devices in place of those missing
  not_testable,  ///< only by defeating an interlock
  unreachable,   ///< no sequence of inputs turns it on and off
  no_logic,      ///< nothing assigns it
};
[[nodiscard]] std::string_view word(DriveVerdict verdict);

/// How an output is driven through the logic.
struct Drive {
  std::uint32_t output = k_none;  ///< variable
  DriveVerdict verdict = DriveVerdict::no_logic;
  Program slice;                ///< what decides it
  std::vector<Source> sources;  ///< as set for `steps`; held ones have one option
  std::vector<Step> steps;      ///< from rest to on to off; what was found of it, if not all
  bool turns_on = false, turns_off = false;
  PairSet deciding;
  /// For inputs that decide only once stop and guard circuits are closed by real devices, of an output that
  /// is driven without.
  std::optional<PairSet> with_box;
  bool is_whole = true;        ///< everything reachable was searched where something is said not to exist
  bool is_exact_order = true;  ///< the fewest changes of inputs; else nearest first
  bool oscillates = false;     ///< some input state never comes to rest, and was left out
  std::vector<std::uint32_t> needs;    ///< inputs with a role, on which it depends
  std::vector<std::uint32_t> refused;  ///< inputs where what would be fitted is refused
};

/// How much is searched for one output.
struct DriveLimits {
  std::size_t scans = 2'000'000;  ///< beyond it a search is not whole
  std::size_t choices = 65'536;   ///< beyond it only states near the one before are tried
};

/// Searches a shortest sequence of input states that turns the output on and off again, and for each input a
/// unique-cause MC/DC pair.
///
/// Fewest input states first, then fewest changed inputs, then the shortest wait. On and off count only once
/// the logic has come to rest, so that a pulse of one scan is no answer. Inputs with a role are held at rest;
/// where that fails, those of a stop or guard circuit as if that were closed.
/// Whole up to 16 bits of inputs and memory, however long timers run; further as far as the limits go.
/// Source of the pairs: Hayhurst, Veerhusen, Chilenski, Rierson 2001, NASA/TM-2001-210876 (from memory).
/// @param output  a variable of kind output.
/// @param fittings  of that graph.
[[nodiscard]] Drive drive_output(const Program& program, std::uint32_t output, const ConductionGraph& graph,
                                 const Fittings& fittings, const DriveLimits& limits = {});

}  // namespace ringtrue::logic
