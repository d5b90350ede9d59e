#pragma once
#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// Refused, whatever anybody says; held until something is shown or somebody answers for it; else offered:
/// none of the rules speaks against it.
enum class JumperAnswer : std::uint8_t { refused, hold, offered };
[[nodiscard]] std::string_view word(JumperAnswer answer);

/// Why a jumper is refused or held. Programs may rest on the words.
enum class JumperReason : std::uint8_t {
  joins_potentials,       ///< it joins two different potentials without a load
  joins_role_pins,        ///< it joins the pins of something with a role
  on_role_net,            ///< an end is on a net that holds a pin of something with a role
  on_driven_net,          ///< an end is on the net of an output or of an analog loop that may be fed
  channel_has_role,       ///< the channel has a role
  namur_input,            ///< a plain jumper is a short circuit to it
  test_not_stated,        ///< the channel list lacks what decides the test
  potential_not_dc,       ///< a potential on the joined nets is AC or PE
  potential_unknown,      ///< there is none, or its volts aren't stated
  potential_above_limit,  ///< it has more volts than the limit
  across_closed_contact,  ///< contacts in the panel join the two at rest: the jumper would mask them
  device_is_wired,        ///< the channel's device is wired in the panel or door: it is operated itself
  terminals_joined,       ///< copper joins the channel's two terminals: there is nothing to fit
  // From here on: held, not refused.
  no_channel,             ///< no channel has these two terminals, so nothing says what must light
  path_does_not_conduct,  ///< a path of the channel stops, or something on it is open at rest
  sense_does_not_fit,     ///< what feeds the other terminal isn't what the input lights from
  two_supplies,           ///< what feeds the other terminal and the common share no supply
  finding_open,           ///< readings contradict the drawing on its paths
  not_proven,             ///< readings haven't proven both terminals and the path
  safety_not_stated,      ///< the drawing doesn't say whether its safety circuits carry a role
};
[[nodiscard]] std::string_view word(JumperReason reason);
/// Else it is one of a hold.
[[nodiscard]] bool is_refusal(JumperReason reason);

/// One reason, and what on the drawing it is about.
struct WhyJumper {
  JumperReason reason = JumperReason::no_channel;
  std::vector<std::string> names;   ///< potentials, columns or channels that it is about
  std::vector<ElementId> elements;  ///< likewise: with a role, or not proven, open, or masked
  /// Of `not_proven`: the pairs of points whose beeps prove the elements, all but those in `no_beep_shows`.
  std::vector<std::array<PointId, 2>> to_read = {};
  /// Other copper lies beside these, or their path is open at rest.
  std::vector<ElementId> no_beep_shows = {};
};

/// The answer and all that speaks against the jumper.
struct JumperVerdict {
  JumperAnswer answer = JumperAnswer::refused;
  std::vector<WhyJumper> why;  ///< all reasons in the order of the enum; those of a hold stay with an offer
  std::string unproven_by;     ///< who took it on themselves that `why` stands; else empty
  [[nodiscard]] bool has(JumperReason reason) const;
};

/// Source: from memory of the usual limit of extra-low voltage (DC).
inline constexpr double k_most_jumper_volts = 60;

/// What a tester may change of the rules.
struct JumperOptions {
  double most_volts = k_most_jumper_volts;  ///< more than that limit counts as the limit
  std::string unproven_by;                  ///< turns holds into offers; nothing turns a refusal
};

/// Judges temporary leads on a panel. Nothing it answers says that a lead is safe.
///
/// A jumper is judged with everything that has a role open and all other contacts, links, breakers and fuses
/// closed, field cables and devices included, since they may be there. It "newly joins" what it joins in any
/// state of the contacts in which it isn't joined without it; a diode may conduct like a closed contact.
class JumperJudge {
 public:
  /// The graph must outlive the judge. Cost: a few times linear in its size.
  explicit JumperJudge(const ConductionGraph& graph, JumperOptions options = {});
  ~JumperJudge();
  JumperJudge(const JumperJudge&) = delete;
  JumperJudge& operator=(const JumperJudge&) = delete;

  /// A jumper between any two points: refused, or else held, since only a channel says what it is for.
  [[nodiscard]] JumperVerdict between(PointId a, PointId b) const;

  /// The jumper between the channel's own `return` and `field`.
  /// @param findings  what readings prove; null: there are none.
  [[nodiscard]] JumperVerdict for_channel(const ChannelTrace& trace, const Findings* findings) const;

  /// A contact in the panel or door between the channel's two terminals; `none` if there is none.
  [[nodiscard]] ElementId wired_contact(const Channel& channel) const;

  /// Joined whatever the contacts do, with fuses in, breakers on and links closed.
  [[nodiscard]] bool are_always_joined(PointId a, PointId b) const;

 private:
  class Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace ringtrue
