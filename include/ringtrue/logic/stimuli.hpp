#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/io/analog.hpp"
#include "ringtrue/io/input_test.hpp"
#include "ringtrue/logic/program.hpp"

namespace ringtrue::logic {

/// What may be fitted or operated at each channel of a panel, by its number; made once for all outputs.
struct Fittings {
  std::vector<InputTest> tests;
  std::vector<AnalogSheet> sheets;  ///< of AI
};
/// @param findings  what readings prove; null: there are none.
[[nodiscard]] Fittings fittings_of(const ConductionGraph& graph, const Findings* findings,
                                   const JumperOptions& options = {});

/// How an input is brought to a state.
enum class How : std::uint8_t {
  jumper,    ///< the field contact is not there: join its two terminals
  operate,   ///< a contact wired in panel or door: operate the device
  select,    ///< contacts of one selector: turn it
  simulate,  ///< analog or active sensor: a simulator in place of the device
  follow,    ///< a contact moved by a coil that an output of this panel drives
  hold,      ///< stays as it is: has a role, what would be fitted is refused, or nothing here can move it
};
[[nodiscard]] std::string_view word(How how);

/// One thing that the tester sets, with the inputs that depend on it.
struct Source {
  How how = How::jumper;
  std::vector<std::uint32_t> variables;      ///< inputs, in the order of the channel list
  std::vector<std::vector<double>> options;  ///< values of `variables`; 0 or 1 for a digital input
  std::uint16_t rest = 0;                    ///< which option holds while nothing is done
  std::string device;                        ///< operated, turned or followed; empty for a jumper
  std::vector<int> positions;                ///< of a selector, by option
  std::uint32_t output = k_none;             ///< the variable that `follow` follows
  bool is_inverted = false;                  ///< `follow`: by a break contact
  bool is_refused = false;                   ///< `hold`: what would be fitted or connected is refused
  Role role = Role::none;
};

/// The sources of the inputs that a program reads. Without field devices a field contact is open; a device
/// with a role, and a contact moved by one, is never moved here; nothing is fitted where that is refused.
///
/// Analog inputs get one value on each side of each constant that they are compared with, and the constant
/// itself where that makes a difference; a digital value of a channel that follows an output is that
/// output's.
/// @param program  a slice; for the values of an analog input only its comparisons count.
[[nodiscard]] std::vector<Source> sources_of(const Program& program, const ConductionGraph& graph,
                                             const Fittings& fittings);

/// The values to try of an analog input, lowest first; none that its sheet doesn't ask for, since more than
/// that is no signal, and may destroy the input. With no comparison: its lowest value alone.
[[nodiscard]] std::vector<double> values_to_try(const Program& program, std::uint32_t variable,
                                                const Channel& channel, const AnalogSheet& sheet);

}  // namespace ringtrue::logic
