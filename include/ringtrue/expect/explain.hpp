#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/expect/judge.hpp"

namespace ringtrue {

/// What a buzzer does.
enum class Buzzer : std::uint8_t { beeps, silent, either };
[[nodiscard]] std::string_view word(Buzzer buzzer);  ///< `beep`, `no-beep`, `either`

/// What a buzzer does between points whose resistance lies in `circuit`, if it sounds up to `limit`.
[[nodiscard]] Buzzer buzzer_on(OhmInterval circuit, Ohms limit);

/// `View::Edge::added` of a terminal body that a bare name takes as conducting although the view doesn't.
inline constexpr std::uint32_t k_assumed_body = 0xFFFFFFFFu;

/// One way for current between the probes.
struct Way {
  std::vector<PointId> points;      ///< one longer than `edges`
  std::vector<View::Edge> edges;    ///< what the overlay added, and an assumed body, have no element
  std::vector<OhmInterval> values;  ///< of the edges
  OhmInterval ohms;                 ///< all of it in series
  bool is_copper = true;            ///< no load on it
};

/// The loads on a way, in its order.
[[nodiscard]] std::vector<ElementId> loads_of(const Way& way, const ConductionGraph& graph);

/// A part of the first way whose break a buzzer would not show.
struct HiddenBreak {
  std::vector<ElementId> elements;  ///< in the order of the way
  Way second;                       ///< what carries the current past a break of the first of them
};

/// What to lift, pull or switch off so that a reading means one thing only.
struct Steps {
  std::vector<std::string> settings;  ///< such as `K1=unplugged`, to be added to the condition
  bool searched_whole = true;         ///< false: cut short, there may be a way with fewer
};

/// What a meter must show between two points, and why.
struct Expectation {
  OhmInterval ohms;       ///< what an ohmmeter shows lies in it: every default counts whole
  OhmInterval to_buzzer;  ///< the same with the defaults of a way limited (Counting::limited)
  Buzzer buzzer = Buzzer::either;
  std::vector<Way>
      ways;  ///< least resistance first, no load on two of them; the first of several copper ways
  bool has_more_ways = false;
  /// Where the buzzer may do either: the elements whose value decides.
  std::vector<ElementId> causes;
  /// Where it beeps: what may be broken without its falling silent.
  std::vector<HiddenBreak> hidden;
  /// Where the buzzer may do either: the fewest steps that settle it. Where it beeps and something is hidden:
  /// the fewest after which a beep proves the whole way. Nothing if up to `k_max_steps` don't do it.
  std::optional<Steps> steps;
  Buzzer after_steps = Buzzer::either;
};

/// More are not tried: each multiplies the sets by all that can be opened.
inline constexpr std::size_t k_max_steps = 3;

/// Predicts a reading and says why: by which way, what it would hide, and what makes it certain.
///
/// `when` is the condition as text, and the probing was looked up under it. The steps found are the fewest:
/// each set tried breaks, at every step, one of the ways that any settling set has to break. They are only
/// what can be undone at a panel: lift a conductor's end, unplug a part or connector, take out a fuse, open a
/// link, switch a breaker off; never a clamp under one of the probes.
/// @errors what `parse_condition` can say of `when`.
[[nodiscard]] Result<Expectation> explain(const ConductionGraph& graph, const Probing& probing,
                                          std::string_view when, const MeterSettings& meter = {});

}  // namespace ringtrue
