#pragma once
#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <utility>

#include "ringtrue/graph/overlay.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::testing {

/// A condition's text taken apart without the parser. Loose ends are numbered as the condition made them.
struct OracleCondition {
  std::map<std::string, std::string> states;                      ///< by object
  std::map<std::pair<std::uint32_t, bool>, std::uint32_t> loose;  ///< by conductor and "its from end"

  OracleCondition() = default;
  OracleCondition(const std::string& text, const ConditionOverlay& made, const Netlist& net) {
    std::set<std::string> lifted;
    for (std::string rest = text; !rest.empty();) {
      const std::size_t end = rest.find(';');
      const std::string setting = trimmed(rest.substr(0, end));
      rest = end == std::string::npos ? "" : rest.substr(end + 1);
      const std::string object = setting.substr(0, setting.rfind('='));
      const std::string state = setting.substr(object.size() + 1);
      if (state == "lifted")
        lifted.insert(object);
      else
        states[object] = state;
    }
    for (const ConditionOverlay::LiftedEnd& end : made.lifted) {
      const Conductor& conductor = net.conductors.at(index(end.conductor));
      const PointId clamp = end.end == End::a ? conductor.from : conductor.to;
      const std::string name = net.conductor_name(index(end.conductor)) + "@" + net.points.name(clamp);
      if (lifted.erase(name) == 0) throw std::logic_error("not in the text: " + name + " in " + text);
      loose[{index(end.conductor), end.end == End::a}] = index(end.loose);
    }
    if (!lifted.empty()) throw std::logic_error("not lifted: " + *lifted.begin() + " of " + text);
  }

  [[nodiscard]] std::string state_of(const std::string& object) const {
    const auto at = states.find(object);
    return at == states.end() ? "" : at->second;
  }
  /// Pulled, off or open, itself or the module, strip or connector that it is on.
  [[nodiscard]] bool takes_out(const std::string& part) const {
    for (const auto& [object, state] : states) {
      if (state == "unplugged" && (part.rfind(object + ":", 0) == 0 || part.rfind(object + ".", 0) == 0))
        return true;
      if (part == object && (state == "unplugged" || state == "out" || state == "off" || state == "open"))
        return true;
    }
    return false;
  }

 private:
  static std::string trimmed(const std::string& text) {
    const std::size_t first = text.find_first_not_of(' ');
    if (first == std::string::npos) return "";
    return text.substr(first, text.find_last_not_of(' ') + 1 - first);
  }
};

}  // namespace ringtrue::testing
