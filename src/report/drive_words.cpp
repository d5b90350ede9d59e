#include "drive_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "analog_words.hpp"
#include "element_words.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

using logic::Choice;
using logic::DriveVerdict;
using logic::How;
using logic::NoPair;
using logic::Source;

std::string point_or_unknown(PointId point, const Netlist& netlist) {
  return point == PointId::none ? "(not on the drawing)" : netlist.points.name(point);
}

}  // namespace

const Channel& DriveWords::channel(std::uint32_t variable) const {
  return report_.graph.netlist().channels[output_.drive.slice.variables[variable].channel];
}

std::string DriveWords::input_name(std::uint32_t variable) const {
  return output_.drive.slice.variables[variable].name;
}

bool DriveWords::is_analog(const Source& source) const {
  return channel(source.variables.front()).type == ChannelType::AI;
}

std::string DriveWords::value_text(std::uint32_t variable, double value) const {
  const Channel& drawn = channel(variable);
  if (drawn.type == ChannelType::DI) return value > 0.5 ? "1" : "0";
  return shortest_text(value) + (drawn.unit.empty() ? "" : " " + std::string(drawn.unit));
}

std::string DriveWords::names_of(const std::vector<std::uint32_t>& variables) const {
  std::vector<std::string> names;
  for (const std::uint32_t variable : variables) names.push_back(input_name(variable));
  return joined(names);
}

std::string DriveWords::held_names() const {
  std::vector<std::uint32_t> held = drive().needs;
  held.insert(held.end(), drive().refused.begin(), drive().refused.end());
  return names_of(held);
}

std::string DriveWords::terminals(std::uint32_t variable) const {
  const Channel& drawn = channel(variable);
  const Netlist& netlist = report_.graph.netlist();
  return point_or_unknown(drawn.return_point, netlist) + " to " + point_or_unknown(drawn.field, netlist);
}

std::string DriveWords::values(const Source& source, std::size_t option) const {
  std::vector<std::string> texts;
  for (std::size_t i = 0; i < source.variables.size(); ++i)
    texts.push_back(input_name(source.variables[i]) + " = " +
                    value_text(source.variables[i], source.options[option][i]));
  return joined(texts);
}

std::string DriveWords::signal(std::uint32_t variable, double value) const {
  const auto& scale = report_.fittings.sheets[drive().slice.variables[variable].channel].scale;
  // What a thermocouple gives depends on the temperature at the terminals; ringtrue analog asks for it.
  if (!scale || !scale->value || scale->signal.kind == SignalKind::thermocouple) return "";
  const double span = scale->value->high - scale->value->low;
  const auto fed = scale->signal_at((value - scale->value->low) / span * 100);
  return fed ? " (" + with_unit(signal_text(*fed), unit_of(scale->signal.kind)) + ")" : "";
}

std::string DriveWords::action(const Source& source, std::size_t option, bool with_terminals) const {
  const bool is_rest = option == source.rest;
  const std::uint32_t variable = source.variables.front();
  switch (source.how) {
    case How::jumper:
      return (is_rest ? "take off jumper " : "fit jumper ") + names_of(source.variables) +
             (with_terminals ? " (" + terminals(variable) + ")" : "");
    case How::operate:
      return (is_rest ? "release " : "operate ") + source.device + " (" + values(source, option) + ")";
    case How::select:
      return "turn " + source.device + " to " + std::to_string(source.positions[option]) + " (" +
             values(source, option) + ")";
    case How::simulate:
      if (is_analog(source))
        return "feed " + values(source, option) + signal(variable, source.options[option].front());
      return "simulator " + names_of(source.variables) + (is_rest ? " off" : " on");
    case How::follow:
    case How::hold:
      break;
  }
  return state(source, option);
}

std::string DriveWords::state(const Source& source, std::size_t option) const {
  const bool is_rest = option == source.rest;
  const std::uint32_t variable = source.variables.front();
  switch (source.how) {
    case How::jumper:
      return (is_rest ? "no jumper " : "jumper ") + names_of(source.variables);
    case How::operate:
      return source.device + (is_rest ? " released (" : " operated (") + values(source, option) + ")";
    case How::select:
      return source.device + " at " + std::to_string(source.positions[option]) + " (" +
             values(source, option) + ")";
    case How::simulate:
      if (is_analog(source)) return values(source, option) + signal(variable, source.options[option].front());
      return "simulator " + names_of(source.variables) + (is_rest ? " off" : " on");
    case How::follow:
      return input_name(variable) + " follows " + input_name(source.output) + " by " + source.device +
             (source.is_inverted ? ", inverted" : "");
    case How::hold:
      break;
  }
  return input_name(variable) + " stays " + value_text(variable, source.options[option].front());
}

std::vector<std::string> DriveWords::actions(const std::vector<Source>& sources, const Choice& before,
                                             const logic::Step& step, bool with_terminals) const {
  std::vector<std::string> list;
  if (step.first != logic::k_none)
    list.push_back("first " + action(sources[step.first], step.choice[step.first], with_terminals));
  for (std::size_t i = 0; i < step.choice.size(); ++i)
    if (before[i] != step.choice[i] && i != step.first)
      list.push_back(action(sources[i], step.choice[i], with_terminals));
  return list;
}

std::vector<std::string> DriveWords::states(const std::vector<Source>& sources, const Choice& other,
                                            const Choice& choice) const {
  std::vector<std::string> list;
  for (std::size_t i = 0; i < choice.size(); ++i)
    if (other[i] != choice[i]) list.push_back(state(sources[i], choice[i]));
  return list;
}

std::vector<std::string> DriveWords::at_rest(const std::vector<Source>& sources) const {
  std::vector<std::string> list;
  for (const Source& source : sources)
    if (source.how == How::select || source.how == How::follow || source.how == How::hold ||
        is_analog(source))
      list.push_back(state(source, source.rest));
  return list;
}

std::string DriveWords::reason() const {
  const logic::Drive& drive = output_.drive;
  const std::string name = input_name(drive.output);
  const std::string needs = names_of(drive.needs);
  const std::string guarded =
      output_.outlet.guarded.empty() ? "" : list_of(output_.outlet.guarded, report_.graph, 4);
  const std::string searched = drive.is_whole ? "" : "; it was not searched whole";
  switch (verdict()) {
    case DriveVerdict::drivable:
      return "";
    case DriveVerdict::no_logic:
      return "the logic does not assign " + name + ", so that nothing here can drive it";
    case DriveVerdict::unreachable:
      if (drive.turns_on) return "once on, no sequence of inputs turns it off again" + searched;
      return "no sequence of inputs turns it on for longer than a scan" +
             std::string(std::any_of(drive.sources.begin(), drive.sources.end(),
                                     [&](const Source& source) { return is_analog(source); })
                             ? ", with analog inputs fed no more than their sheets ask for"
                             : "") +
             searched;
    case DriveVerdict::not_testable:
      if (drive.turns_off && !output_.outlet.safety_loads.empty())
        return "it drives " + list_of(output_.outlet.safety_loads, report_.graph, 4) +
               ", part of a safety or explosion-protection circuit";
      if (drive.turns_off && !guarded.empty())
        return "its feed passes " + guarded + ", of role " + std::string(word(output_.outlet.role));
      if (drive.turns_off) return "it has the role " + std::string(word(output_.outlet.role));
      return "it would take " + held_names() +
             " in another state, and that is never moved here: " + joined(why_held(), "; ");
    case DriveVerdict::substitute:
      break;
  }
  if (drive.verdict != DriveVerdict::substitute)
    return guarded.empty() ? "it belongs to a " + std::string(word(output_.outlet.role)) + " circuit"
                           : "its feed passes " + guarded + ", of a " +
                                 std::string(word(output_.outlet.role)) + " circuit";
  return "it needs " + needs + " as with the circuit closed by its own devices";
}

std::string DriveWords::two_terminals(std::uint32_t variable) const {
  const Channel& drawn = channel(variable);
  const Netlist& netlist = report_.graph.netlist();
  return point_or_unknown(drawn.field, netlist) + " and " + point_or_unknown(drawn.return_point, netlist);
}

std::string DriveWords::responds() const {
  const logic::Outlet& outlet = output_.outlet;
  if (outlet.loads.empty()) {
    const Channel& drawn = channel(output_.drive.output);
    if (drawn.field == PointId::none || drawn.return_point == PointId::none)
      return "not stated: the drawing names no two terminals of the device";
    const std::string device = drawn.device.empty() ? "its device" : std::string(drawn.device);
    return "nothing here: " + device + " is not connected. Connect a load of its kind between " +
           two_terminals(output_.drive.output) +
           "; an unloaded electronic output reads near full volts while off";
  }
  std::string text = list_of(outlet.loads, report_.graph, 8);
  if (!outlet.contacts.empty()) text += ", with " + list_of(outlet.contacts, report_.graph, 8);
  return text;
}

std::string DriveWords::measure() const {
  const Channel& drawn = channel(output_.drive.output);
  if (drawn.field == PointId::none || drawn.return_point == PointId::none)
    return "not stated: the drawing names no two terminals of the device";
  std::string text = two_terminals(output_.drive.output) + ": ";
  const logic::OutletVolts on = volts_of(output_.outlet, report_.graph);
  if (on.feed == nullptr || on.back == nullptr)
    return text + "volts not stated, since its feed or return reaches no stated potential";
  if (!on.volts)
    return text + "volts not stated: the drawing doesn't say what lies between " +
           std::string(on.feed->name) + " and " + std::string(on.back->name);
  text += shortest_text(std::abs(*on.volts)) + (on.is_dc ? " V DC" : " V AC");
  return text + " while on, near 0 V while off";
}

std::string DriveWords::couplers() const {
  std::vector<std::string> devices;
  for (const Source& source : output_.drive.sources)
    if (source.variables.size() > 1 || source.how == How::follow) devices.push_back(source.device);
  return any_of(devices);
}

std::string DriveWords::why_refused(std::uint32_t variable) const {
  const std::size_t number = drive().slice.variables[variable].channel;
  if (channel(variable).type == ChannelType::AI)
    return "no hook-up: " + std::string(words_of(*report_.fittings.sheets[number].hook_up.why_not).text);
  std::vector<std::string> reasons;
  for (const WhyJumper& why : report_.fittings.tests[number].jumper->why)
    if (is_refusal(why.reason))
      reasons.push_back(jumper_reason_text(why, report_.graph, report_.options, Detail::short_lists));
  return "jumper refused: " + joined(reasons, " ");
}

std::vector<std::string> DriveWords::why_held() const {
  std::vector<std::string> list;
  for (const Source& source : drive().sources)
    if (source.role != Role::none)
      list.push_back(input_name(source.variables.front()) + " has the role " +
                     std::string(word(source.role)));
    else if (source.is_refused)
      list.push_back(input_name(source.variables.front()) + ", " + why_refused(source.variables.front()));
  return list;
}

std::string DriveWords::cause(const logic::Unpaired& unpaired, const std::vector<Source>& sources) const {
  const Source& source = *std::find_if(sources.begin(), sources.end(), [&](const Source& s) {
    return std::find(s.variables.begin(), s.variables.end(), unpaired.variable) != s.variables.end();
  });
  switch (unpaired.cause) {
    case NoPair::masked:
      return "masked: in no state that inputs lead to does the output tell it";
    case NoPair::coupled:
      if (source.how == How::follow)
        return "coupled: it follows " + input_name(source.output) + " by " + source.device;
      return "coupled: it would decide only with inputs that " + couplers() + " cannot give together";
    case NoPair::held:
      if (source.role != Role::none)
        return "held: role " + std::string(word(source.role)) + "; only its own device may move it";
      if (source.is_refused) return "held: " + why_refused(unpaired.variable);
      if (source.how == How::hold)
        return "held: nothing here moves it without driving " + source.device + " first";
      return "held: only with " + held_names() + " in another state, and that is never moved here";
    case NoPair::unreachable:
      return "unreachable: the state before, in which it would decide, cannot be reached";
    case NoPair::not_searched:
      break;
  }
  return "not searched whole: too many states";
}

std::vector<std::pair<std::size_t, How>> fitted_channels(const DriveReport& report) {
  std::map<std::size_t, How> fitted;
  const auto add = [&](const logic::Drive& drive, const std::vector<Source>& sources) {
    for (const Source& source : sources)
      if (source.how == How::jumper || source.how == How::simulate)
        fitted.emplace(drive.slice.variables[source.variables.front()].channel, source.how);
  };
  for (const DrivenOutput& output : report.outputs)
    if (logic::verdict_of(output.drive, output.outlet) != DriveVerdict::not_testable)
      add(output.drive, output.drive.sources);
  return {fitted.begin(), fitted.end()};
}

std::string fitting_words(std::size_t channel, const DriveReport& report) {
  const Netlist& netlist = report.graph.netlist();
  const Channel& drawn = netlist.channels[channel];
  if (drawn.type == ChannelType::AI)
    return hook_up_words(report.fittings.sheets[channel].hook_up, drawn, report.graph);
  const InputTest& test = report.fittings.tests[channel];
  if (test.kind == InputTestKind::jumper)
    return "jumper from " + netlist.points.name(drawn.return_point) + " to " +
           netlist.points.name(drawn.field);
  InputTest said = test;  // the verdict stands beside it
  said.jumper->answer = JumperAnswer::offered;
  std::string act = input_test_words(said, report.graph, report.options, Detail::short_lists).act;
  act.erase(act.find_last_not_of('.') + 1);
  return act;
}

std::vector<std::string> fitting_reasons(std::size_t channel, const DriveReport& report) {
  std::vector<std::string> reasons;
  const InputTest& test = report.fittings.tests[channel];
  if (!test.jumper) return reasons;
  constexpr std::size_t k_few = 4;
  for (const WhyJumper& why : test.jumper->why)
    if (why.reason == JumperReason::not_proven)
      reasons.push_back("read first: " + list_of(why.elements, report.graph, k_few));
    else if (why.reason != JumperReason::namur_input)
      reasons.push_back(jumper_reason_text(why, report.graph, report.options, Detail::short_lists));
  return reasons;
}

std::string judged_fitting_words(std::size_t channel, const DriveReport& report) {
  std::string text = fitting_words(channel, report);
  const InputTest& test = report.fittings.tests[channel];
  if (!test.jumper) return text;
  if (!test.is_there() || test.jumper->answer != JumperAnswer::refused)
    text += ": " + std::string(word(test.jumper->answer));
  if (!test.jumper->unproven_by.empty()) text += " without proof, by " + test.jumper->unproven_by;
  const auto reasons = fitting_reasons(channel, report);
  return reasons.empty() ? text : text + "; " + joined(reasons, " ");
}

}  // namespace ringtrue::report
