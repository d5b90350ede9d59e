#include "drive_words.hpp"

#include <algorithm>
#include <cmath>

#include "element_words.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

using logic::DriveVerdict;
using logic::How;
using logic::NoPair;
using logic::Source;

std::string point_or_unknown(PointId point, const Netlist& netlist) {
  return point == PointId::none ? "(not on the drawing)" : netlist.points.name(point);
}

/// The potential that a path ends on; null where the drawing states none.
const Potential* potential_at(const TracedPath& path, const ConductionGraph& graph) {
  if (path.to == PointId::none) return nullptr;
  for (const Potential& potential : graph.netlist().potentials)
    if (graph.net_at_rest(potential.point) == graph.net_at_rest(path.to)) return &potential;
  return nullptr;
}

}  // namespace

const Channel& DriveWords::channel(std::uint32_t variable) const {
  return graph_.netlist().channels[output_.drive.slice.variables[variable].channel];
}

std::string DriveWords::input_name(std::uint32_t variable) const {
  return output_.drive.slice.variables[variable].name;
}

std::string DriveWords::value_text(std::uint32_t variable, double value) const {
  const Channel& drawn = channel(variable);
  if (drawn.type == ChannelType::DI) return value > 0.5 ? "1" : "0";
  return number_text(value) + (drawn.unit.empty() ? "" : " " + std::string(drawn.unit));
}

std::string DriveWords::names_of(const std::vector<std::uint32_t>& variables) const {
  std::vector<std::string> names;
  for (const std::uint32_t variable : variables) names.push_back(input_name(variable));
  return joined(names);
}

const Source& DriveWords::source_of(std::uint32_t variable) const {
  const auto& sources = output_.drive.sources;
  return *std::find_if(sources.begin(), sources.end(), [&](const Source& source) {
    return std::find(source.variables.begin(), source.variables.end(), variable) != source.variables.end();
  });
}

std::string DriveWords::terminals(std::uint32_t variable) const {
  const Channel& drawn = channel(variable);
  return point_or_unknown(drawn.field, graph_.netlist()) + " and " +
         point_or_unknown(drawn.return_point, graph_.netlist());
}

std::string DriveWords::lit(const Source& source, std::size_t option) const {
  std::vector<std::string> values;
  for (std::size_t i = 0; i < source.variables.size(); ++i)
    values.push_back(input_name(source.variables[i]) + " = " +
                     value_text(source.variables[i], source.options[option][i]));
  return " (" + joined(values) + ")";
}

std::string DriveWords::action(const Source& source, std::size_t option) const {
  const bool is_rest = option == source.rest;
  const std::uint32_t variable = source.variables.front();
  switch (source.how) {
    case How::jumper:
      return (is_rest ? "take the jumper off " : "jumper ") + terminals(variable) + lit(source, option);
    case How::operate:
      return (is_rest ? "release " : "operate ") + source.device + lit(source, option);
    case How::select:
      return "turn " + source.device + " to position " + std::to_string(source.positions[option]) +
             lit(source, option);
    case How::simulate:
      return "set the simulator at " + terminals(variable) + lit(source, option);
    case How::follow:
      return input_name(variable) + " follows " + input_name(source.output) + " by " + source.device;
    case How::hold:
      break;
  }
  return input_name(variable) + " stays " + value_text(variable, source.options[option].front());
}

std::vector<std::string> DriveWords::actions(const logic::Choice& before, const logic::Choice& after) const {
  std::vector<std::string> list;
  for (std::size_t i = 0; i < after.size(); ++i)
    if (before[i] != after[i]) list.push_back(action(output_.drive.sources[i], after[i]));
  return list;
}

std::vector<std::string> DriveWords::at_rest() const {
  std::vector<std::string> list;
  for (const Source& source : output_.drive.sources) {
    const bool is_analog = channel(source.variables.front()).type == ChannelType::AI;
    if (source.how == How::select || source.how == How::follow || source.how == How::hold || is_analog)
      list.push_back(action(source, source.rest));
  }
  return list;
}

std::string DriveWords::reason() const {
  const logic::Drive& drive = output_.drive;
  const DriveVerdict verdict = logic::verdict_of(drive, output_.outlet);
  const std::string name = input_name(drive.output);
  const std::string needs = drive.needs.empty() ? "" : names_of(drive.needs);
  const std::string guarded =
      output_.outlet.guarded.empty() ? "" : list_of(output_.outlet.guarded, graph_, 4);
  const std::string searched = drive.is_whole ? "" : "; it was not searched whole";
  switch (verdict) {
    case DriveVerdict::drivable:
      return "";
    case DriveVerdict::no_logic:
      return "the logic does not assign " + name + ", so that nothing here can drive it";
    case DriveVerdict::unreachable:
      if (drive.turns_on) return "once on, no sequence of inputs turns it off again" + searched;
      return "no sequence of inputs turns it on for longer than a scan" + searched;
    case DriveVerdict::not_testable:
      if (drive.turns_off && !guarded.empty())
        return "its feed passes " + guarded + ", of role " + std::string(word(output_.outlet.role));
      if (drive.turns_off) return "it has the role " + std::string(word(output_.outlet.role));
      return "it would take " + needs + " in another state, which has a role and is never moved here";
    case DriveVerdict::substitute:
      break;
  }
  if (drive.verdict != DriveVerdict::substitute)
    return guarded.empty() ? "it belongs to a " + std::string(word(output_.outlet.role)) + " circuit"
                           : "its feed passes " + guarded + ", of a " +
                                 std::string(word(output_.outlet.role)) + " circuit";
  return "it needs " + needs + " as with the circuit closed by its own devices";
}

std::vector<std::string> DriveWords::box() const {
  std::vector<std::string> list;
  const auto names = [&](const std::vector<PointId>& points) {
    std::vector<std::string> texts;
    for (const PointId point : points) texts.push_back(graph_.netlist().points.name(point));
    return any_of(texts);
  };
  for (const logic::MissingContact& missing : logic::missing_contacts(graph_))
    list.push_back("a contact like " + element_noun(missing.contact, graph_) + " between " +
                   names(missing.a) + " and " + names(missing.b) + in_sheets({missing.contact}, graph_));
  return list;
}

std::string DriveWords::responds() const {
  const logic::Outlet& outlet = output_.outlet;
  if (outlet.loads.empty()) {
    const Channel& drawn = channel(output_.drive.output);
    const std::string device = drawn.device.empty() ? "its device" : std::string(drawn.device);
    return "nothing here: " + device + " is not connected. Connect a load of its kind between " +
           terminals(output_.drive.output) +
           "; an unloaded electronic output reads near full volts while off";
  }
  std::string text = list_of(outlet.loads, graph_, 8);
  if (!outlet.contacts.empty()) text += ", with " + list_of(outlet.contacts, graph_, 8);
  return text;
}

std::string DriveWords::measure() const {
  const Channel& drawn = channel(output_.drive.output);
  if (drawn.field == PointId::none || drawn.return_point == PointId::none)
    return "not stated: the drawing names no two terminals of the device";
  std::string text = terminals(output_.drive.output) + ": ";
  const Potential* const feed = potential_at(output_.outlet.trace.common, graph_);
  const Potential* const back = potential_at(output_.outlet.trace.return_path, graph_);
  if (feed == nullptr || back == nullptr || !std::isfinite(feed->volts) || !std::isfinite(back->volts))
    return text + "volts not stated, since its feed or return reaches no stated potential";
  const bool is_dc = feed->kind == PotentialKind::dc_plus || feed->kind == PotentialKind::dc_minus;
  text += number_text(std::abs(feed->volts - back->volts)) + (is_dc ? " V DC" : " V AC");
  return text + " while on, near 0 V while off";
}

std::string DriveWords::couplers() const {
  std::vector<std::string> devices;
  for (const Source& source : output_.drive.sources)
    if (source.variables.size() > 1 || source.how == How::follow) devices.push_back(source.device);
  return any_of(devices);
}

std::string DriveWords::cause(const logic::Unpaired& unpaired) const {
  const Source& source = source_of(unpaired.variable);
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
      if (source.how != How::hold)
        return "held: only with " + names_of(output_.drive.needs) + " moved, which has a role";
      return "held: nothing here moves it without driving " + source.device + " first";
    case NoPair::unreachable:
      return "unreachable: the state before, in which it would decide, cannot be reached";
    case NoPair::not_searched:
      break;
  }
  return "not searched whole: too many states";
}

}  // namespace ringtrue::report
