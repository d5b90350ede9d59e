#include "analog_words.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

template <std::size_t N, class Enum>
const IdAndText& at(const std::array<IdAndText, N>& table, Enum value) {
  return table[static_cast<std::size_t>(value)];
}

std::string_view note_on(Simulator simulator) {
  static constexpr std::array<std::string_view, 7> k_notes = {
      "It sinks, the panel feeds the loop.",
      "It feeds the loop, the panel must not: first read 0 V between the two.",
      "First read 0 V between the two.",
      "",
      "On copper leads, its own compensation off.",
      "The controller commands the output.",
      "The controller commands the output."};
  return k_notes[static_cast<std::size_t>(simulator)];
}

std::string leads_words(const HookUp& hook_up, const PointTable& points) {
  std::vector<std::string> leads;
  for (const FurtherLead& lead : hook_up.further_leads)
    leads.push_back(points.name(lead.terminal) + " (drawn to " + points.name(lead.device) + ")");
  if (leads.empty()) return {};
  return "; further leads, each on the end where the sensor joins it: " + joined(leads);
}

/// At most so many places behind the point, without zeros at the end.
std::string decimal_text(double number, int places) {
  std::string text = fixed_text(number, places);
  if (text.find('.') == text.npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

}  // namespace

IdAndText words_of(AnalogGap gap) {
  static constexpr std::array<IdAndText, 9> k_words = {{
      {"no-signal", "The drawing states no signal."},
      {"unknown-signal",
       "The signal is none of 4-20mA, 0-20mA, 0-10V and the like, or of an input Pt100, Pt500, Pt1000, K, "
       "J."},
      {"no-range", "The drawing states no low and high, so no value can be said."},
      {"empty-range", "Low is high, so no value can be said."},
      {"no-unit", "The drawing states no unit."},
      {"no-temperature-unit", "The unit is none of temperature: degC, degF or K."},
      {"outside-sensor", "The standard gives this sensor no values between low and high."},
      {"no-raw", "The drawing states no raw_low and raw_high, so no raw count can be said."},
      {"empty-raw", "Raw_low is raw_high, so no raw count can be said."},
  }};
  return at(k_words, gap);
}

IdAndText words_of(NoHookUp why) {
  static constexpr std::array<IdAndText, 8> k_words = {{
      {"role",
       "the channel has a safety or explosion-protection role; the licensed procedure says what may be "
       "connected"},
      {"unknown-signal", "the signal is not known"},
      {"no-terminals", "the drawing lacks its field or return terminal"},
      {"joined-terminals", "by the drawing its field and return terminals are joined"},
      {"unknown-feed",
       "the drawing does not say whether the device or the panel feeds the loop, and two supplies in one "
       "loop can destroy the input"},
      {"feed-differs", "the feed drawn does not go with the signal or the sensor"},
      {"device-feeds", "the device feeds the loop, so a milliammeter alone would show nothing"},
      {"on-a-supply",
       "by the drawing a supply of the panel is, or by a contact may come, on one of its terminals"},
  }};
  return at(k_words, why);
}

IdAndText words_of(Simulator simulator) {
  static constexpr std::array<IdAndText, 7> k_words = {{
      {"transmitter", "a simulated two-wire transmitter"},
      {"current-source", "a current source"},
      {"voltage-source", "a voltage source"},
      {"resistance-decade", "a resistance decade"},
      {"millivolt-source", "a millivolt source"},
      {"milliammeter", "a milliammeter"},
      {"voltmeter", "a voltmeter"},
  }};
  return at(k_words, simulator);
}

std::string_view word(AnalogPoint::Kind kind) {
  static constexpr std::array<std::string_view, 5> k_words = {"in-range", "beside-range", "failure", "open",
                                                              "shorted"};
  return k_words[static_cast<std::size_t>(kind)];
}

std::string_view to_do(AnalogPoint::Kind kind) {
  if (kind == AnalogPoint::Kind::open) return "lift a lead";
  return kind == AnalogPoint::Kind::shorted ? "join both terminals" : "";
}

std::string hook_up_words(const HookUp& hook_up, const Channel& channel, const ConductionGraph& graph) {
  if (hook_up.why_not) return "nothing: " + std::string(words_of(*hook_up.why_not).text) + ".";
  const PointTable& points = graph.netlist().points;
  const std::string plus = points.name(hook_up.plus), minus = points.name(hook_up.minus);
  std::string text(words_of(hook_up.simulator).text);
  if (!channel.device.empty()) text += " in place of " + std::string(channel.device);
  if (hook_up.simulator == Simulator::resistance_decade)
    text += ": between " + plus + " and " + minus + leads_words(hook_up, points) + ".";
  else if (hook_up.polarity_known)
    text += ": plus to " + plus + ", minus to " + minus + ".";
  else
    text += ": between " + plus + " and " + minus +
            ". The drawing does not say which is plus: measure the volts between them first.";
  if (const std::string_view note = note_on(hook_up.simulator); !note.empty()) text.append(" ").append(note);
  return text;
}

std::string tolerance_words(const AnalogReport& report) {
  const std::string text = "Tolerance " + shortest_text(report.tolerance_pct) + " % of span";
  return text + (report.tolerance_is_given ? "." : ", an estimate: the contract decides (--tolerance).");
}

std::string fixed_text(double number, int places) {
  std::array<char, 400> buffer;  // the longest double has 309 digits before the point
  const auto written =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), number, std::chars_format::fixed, places);
  std::string text(buffer.data(), written.ptr);
  if (text.starts_with('-') && text.find_first_not_of("-0.") == text.npos) text.erase(0, 1);
  return text;
}

std::string signal_text(double signal) { return fixed_text(signal, 3); }
std::string value_text(double value) {
  constexpr int k_fewest = 3, k_most = 9;  // beyond lie the errors of doubles
  if (value == 0 || std::abs(value) >= 1) return decimal_text(value, k_fewest);
  const int four_digits = 3 - static_cast<int>(std::floor(std::log10(std::abs(value))));
  return decimal_text(value, std::clamp(four_digits, k_fewest, k_most));
}
std::string raw_text(double raw) { return decimal_text(raw, 1); }

std::string shortest_text(double number) {
  std::array<char, 400> buffer;
  const auto written =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), number, std::chars_format::fixed);
  return {buffer.data(), written.ptr};
}

std::string with_unit(const std::string& number, std::string_view unit) {
  return unit.empty() ? number : number + ' ' + std::string(unit);
}

std::string_view unit_of_seen(const AnalogReport& report) {
  const AnalogSheet& sheet = report.sheets.front();
  if (report.seen_as == SeenAs::raw) return "raw";
  if (report.seen_as == SeenAs::signal) return unit_of(sheet.scale->signal.kind);
  return report.graph.netlist().channels[sheet.channel].unit;
}

}  // namespace ringtrue::report
