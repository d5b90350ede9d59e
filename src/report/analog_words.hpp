#pragma once
#include <string>
#include <string_view>

#include "ringtrue/io/analog.hpp"
#include "ringtrue/report/analog_report.hpp"

namespace ringtrue::report {

/// A stable word for programs, and a sentence for people.
struct IdAndText {
  std::string_view id, text;
};
[[nodiscard]] IdAndText words_of(AnalogGap gap);
[[nodiscard]] IdAndText words_of(NoHookUp why);
[[nodiscard]] IdAndText words_of(Simulator simulator);
[[nodiscard]] std::string_view word(AnalogPoint::Kind kind);

/// What to do for a point that no signal is given at; empty for the others.
[[nodiscard]] std::string_view to_do(AnalogPoint::Kind kind);

/// What to connect, and to which terminals; or why nothing. Sentences, for behind "Connect".
[[nodiscard]] std::string hook_up_words(const HookUp& hook_up, const Channel& channel,
                                        const ConductionGraph& graph);

inline constexpr std::string_view k_io_caution =
    "For I/O tests: power limited and fused, moving machinery disconnected. Local codes, the site's "
    "isolation procedure and licensed persons decide.";
/// How results are judged, and on whose word.
[[nodiscard]] std::string tolerance_words(const AnalogReport& report);

/// With so many places behind the point.
[[nodiscard]] std::string fixed_text(double number, int places);
/// `4.000`: mA, V, Ω, mV.
[[nodiscard]] std::string signal_text(double signal);
[[nodiscard]] std::string value_text(double value);
[[nodiscard]] std::string raw_text(double raw);
/// As it was typed.
[[nodiscard]] std::string shortest_text(double number);
/// `12 %`; the number alone where no unit is known.
[[nodiscard]] std::string with_unit(const std::string& number, std::string_view unit);
/// The unit of what is seen.
[[nodiscard]] std::string_view unit_of_seen(const AnalogReport& report);

}  // namespace ringtrue::report
