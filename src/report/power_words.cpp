#include "power_words.hpp"

#include <cmath>

#include "ringtrue/report/panel_words.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

std::string short_list(std::vector<std::string> texts, Detail detail) {
  constexpr std::size_t k_shown = 6;
  const std::size_t more =
      detail == Detail::everything || texts.size() <= k_shown + 1 ? 0 : texts.size() - k_shown;
  texts.resize(texts.size() - more);
  return joined(texts) + (more == 0 ? "" : " and " + std::to_string(more) + " more");
}

std::string potential_name(std::uint32_t potential, const Netlist& netlist) {
  return std::string(netlist.potentials[potential].name);
}

std::string missing_protective(const BeforePower& before, const ConductionGraph& graph, Detail detail) {
  if (!before.has_earth) return "the netlist names no potential of kind pe";
  if (before.unproven_protective.empty()) return {};
  const std::size_t limit = detail == Detail::everything ? before.unproven_protective.size() : 6;
  return std::to_string(before.unproven_protective.size()) + " of " + counted(before.protective, "element") +
         " not proven: " + list_of(before.unproven_protective, graph, limit);
}

std::string missing_pairs(const BeforePower& before, const Netlist& netlist, Detail detail) {
  std::vector<std::string> pairs;
  for (const auto& [a, b] : before.not_shown_apart)
    pairs.push_back(potential_name(a, netlist) + " to " + potential_name(b, netlist));
  if (pairs.empty()) return {};
  const std::string all = std::to_string(pairs.size()) + " of " + counted(before.pairs, "pair");
  return all + " not read: " + short_list(std::move(pairs), detail);
}

std::string missing_insulation(const BeforePower& before, const Netlist& netlist) {
  if (before.not_insulated.empty()) return {};
  return "no insulation reading of 1 MΩ or more to the protective conductor with all electronics "
         "unplugged: " +
         potential_names(before.not_insulated, netlist);
}

/// A name as `X2:` `5` `.ext`; without a number it stands alone.
struct Numbered {
  std::string before, after;
  std::size_t number = 0;
  bool has_number = false;
  [[nodiscard]] std::string text() const {
    return before + (has_number ? std::to_string(number) : "") + after;
  }
  [[nodiscard]] bool is_next_to(const Numbered& other) const {
    return has_number && other.has_number && number == other.number + 1 && before == other.before &&
           after == other.after;
  }
};

Numbered numbered(const std::string& name) {
  std::size_t end = name.size();
  for (const std::string_view side : {".int", ".ext", ".int/.ext"})
    if (name.ends_with(side)) end = name.size() - side.size();
  std::size_t first = end;
  while (first > 0 && name[first - 1] >= '0' && name[first - 1] <= '9') --first;
  const bool is_plain = first < end && end - first < 9 && (name[first] != '0' || end - first == 1);
  if (!is_plain) return {name, "", 0, false};
  return {name.substr(0, first), name.substr(end), std::stoul(name.substr(first, end - first)), true};
}

std::string missing_wiring(const BeforePower& before) {
  const std::size_t count = before.unproven_live_count();
  if (count == 0) return {};
  return std::to_string(count) + " of " + counted(before.live, "element") +
         " that become live not proven, named in their steps";
}

std::string missing_undone(const BeforePower& before) {
  std::vector<std::string> changes;
  for (const Event* event : before.open_changes)
    changes.push_back(joined(event->points, " and ") + (event->text.empty() ? "" : " (" + event->text + ")"));
  return joined(changes, "; ");
}

}  // namespace

std::vector<Precondition> preconditions(const PowerReport& report, Detail detail) {
  /// Of `all` that readings could show; of none they show nothing.
  const auto made = [&](std::string_view id, std::string text, std::string missing, std::size_t all = 1) {
    const std::string_view state = !missing.empty()                       ? "not-shown"
                                   : report.before == nullptr || all == 0 ? "to-be-seen"
                                                                          : "shown";
    return Precondition{id, state, std::move(text), std::move(missing)};
  };
  const BeforePower none;
  const BeforePower& before = report.before == nullptr ? none : *report.before;
  const bool is_read = report.before != nullptr;
  const ConductionGraph& graph = report.graph;
  std::vector<Precondition> all;
  all.push_back(made("protective-conductor", "The protective conductor is proven.",
                     is_read ? missing_protective(before, graph, detail) : ""));
  all.push_back(made("potentials-apart", "No path of low resistance leads from any potential to another.",
                     missing_pairs(before, graph.netlist(), detail), before.pairs));
  all.push_back(made("insulation", "Insulation is measured, with the electronics unplugged.",
                     missing_insulation(before, graph.netlist()), before.lines));
  all.push_back(made("wiring", "What becomes live is proven to be wired as drawn.", missing_wiring(before),
                     before.live));
  all.push_back(made(
      "contradictions", "No reading contradicts the drawing or another reading.",
      before.contradictions == 0 ? "" : counted(before.contradictions, "finding") + " open: run compare"));
  all.push_back(made("temporary-changes", "No temporary change is open.", missing_undone(before)));
  all.push_back({"actuators", "to-be-seen", "Motors and actuators are isolated; field cables are off.", {}});
  return all;
}

std::string action_words(const PowerStep& step, const PowerReport& report) {
  const std::string live = potential_names(step.goes_live, report.graph.netlist());
  const std::string goes_live = live.empty() ? "" : ", which makes " + live + " live";
  switch (step.action) {
    case PowerAction::always_live:
      return "nothing is switched; live with the main switch off: " + live;
    case PowerAction::supply_on:
      return "switch the incoming supply on, every protective device open" + goes_live;
    case PowerAction::close:
      return "close " + std::string(step.kind) + " " + std::string(step.device) + goes_live;
  }
  return {};
}

std::string volts_words(const ExpectedVolts& expected) {
  const double rounded = std::round(expected.volts * 10) / 10;
  return number_text(rounded) + (expected.alternating ? " V AC" : " V DC");
}

std::string through_words(const ExpectedVolts& expected, const ConductionGraph& graph) {
  std::vector<std::string> parts;
  for (const ElementId e : expected.through) {
    const std::string part(graph.netlist().parts[graph.origin(e).row].part);
    if (parts.empty() || parts.back() != part) parts.push_back(part);
  }
  return parts.empty() ? "" : "through " + joined(parts, " and ");
}

std::vector<std::string> step_cautions(const PowerReport& report, std::size_t number, Detail detail) {
  const PowerStep& step = report.power_up.steps[number];
  std::vector<std::string> cautions;
  if (step.action == PowerAction::always_live)
    cautions.emplace_back("Live with the main switch off: it stays live whatever this panel's switches do.");
  if (step.action == PowerAction::close && !step.is_fed)
    cautions.emplace_back("Nothing feeds it with every contact at rest, so no voltage is stated.");
  std::vector<std::uint32_t> without_volts;
  for (const std::uint32_t i : step.goes_live)
    if (std::isnan(report.graph.netlist().potentials[i].volts)) without_volts.push_back(i);
  if (!without_volts.empty())
    cautions.push_back("The drawing states no volts of " +
                       potential_names(without_volts, report.graph.netlist()) +
                       ", so none are expected where it leads.");
  if (!step.joins.empty())
    cautions.push_back("From here on copper joins " + potential_names(step.joins, report.graph.netlist()) +
                       ", each from a source of its own: only if the drawing means them to run together. No "
                       "voltage is stated there.");
  for (const std::string_view relay : step.may_pull)
    cautions.push_back(std::string(relay) + " may pull in: nothing is stated behind its contacts.");
  if (report.before != nullptr && !report.before->unproven_live[number].empty()) {
    const std::vector<ElementId>& unproven = report.before->unproven_live[number];
    const std::size_t limit = detail == Detail::everything ? unproven.size() : 6;
    cautions.push_back("Not proven by readings: " + list_of(unproven, report.graph, limit) + ".");
  }
  return cautions;
}

std::string potential_names(const std::vector<std::uint32_t>& potentials, const Netlist& netlist) {
  std::vector<std::string> names;
  for (const std::uint32_t i : potentials) names.push_back(potential_name(i, netlist));
  return joined(names);
}

std::vector<std::string> in_runs(const std::vector<std::string>& names) {
  std::vector<Numbered> places;
  for (const std::string& name : names) places.push_back(numbered(name));
  std::vector<std::string> runs;
  for (auto first = places.begin(); first != places.end();) {
    auto last = first;
    while (last + 1 != places.end() && (last + 1)->is_next_to(*last)) ++last;
    if (last - first < 2) last = first;
    runs.push_back(first->text() + (last == first ? "" : " up to " + last->text()));
    first = last + 1;
  }
  return runs;
}

std::vector<std::string> names_in_runs(const std::vector<PointId>& points, const Netlist& netlist) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < points.size(); ++i) {
    names.push_back(netlist.points.name(points[i]));
    const bool has_both = names.back().ends_with(".int") && i + 1 < points.size() &&
                          netlist.points.has_sides(netlist.points.place(points[i])) &&
                          points[i + 1] == netlist.points.other_side(points[i]);
    if (!has_both) continue;
    names.back() += "/.ext";
    ++i;
  }
  return in_runs(names);
}

const std::vector<std::string_view>& power_cautions() {
  static const std::vector<std::string_view> k_cautions{
      "Local codes, the site's isolation procedure and licensed persons decide.",
      "0 V is what a meter must show if the panel is as drawn. It is to be measured, and proves no circuit "
      "dead.",
      "A value that differs: stop, switch off, isolate, prove dead by the site's procedure, find the cause.",
  };
  return k_cautions;
}

}  // namespace ringtrue::report
