#include "next_words.hpp"

#include <algorithm>

#include "finding_text.hpp"
#include "reading_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"
#include "value_words.hpp"

namespace ringtrue::report {

namespace {

std::string name(PointId p, const ConductionGraph& graph) { return graph.netlist().points.name(p); }

std::string shifted(const Fault& fault, const ConductionGraph& graph) {
  const PointTable& points = graph.netlist().points;
  const auto part = [&](PointId p) { return std::string(part_of_place(points.place_name(points.place(p)))); };
  if (fault.places == 0) return part(fault.p) + " and " + part(fault.q) + " exchanged";
  return "the wires of " + name(fault.p, graph) + " to " + name(fault.q, graph) + " shifted";
}

std::string all_in_short(const Diagnosis& diagnosis, const ConductionGraph& graph, const Readings& readings) {
  std::vector<std::string> all;
  for (const Fault& fault : diagnosis.faults) all.push_back(in_short(fault, graph, readings));
  return joined(all, " with ");
}

/// `wire 5 open or one of 3 others`
std::string left_in_short(const NextOutcome& outcome, const Cluster& cluster, const ConductionGraph& graph,
                          const Readings& readings) {
  std::vector<std::string> named;
  const std::size_t shown = outcome.left.size() <= 2 ? outcome.left.size() : 1;
  for (std::size_t i = 0; i < shown; ++i)
    named.push_back(all_in_short(cluster.diagnoses[outcome.left[i].diagnosis], graph, readings));
  if (shown < outcome.left.size())
    named.push_back("one of " + std::to_string(outcome.left.size() - shown) + " others");
  return any_of(named) + " (" + per_cent(outcome.probability) + ")";
}

/// A setting taken apart at its last `=`.
struct Wanted {
  std::string_view object, state;
};

std::vector<Wanted> wanted_by(std::string_view condition) {
  std::vector<Wanted> all;
  while (!condition.empty()) {
    const std::size_t end = std::min(condition.find(';'), condition.size());
    std::string_view setting = condition.substr(0, end);
    condition.remove_prefix(std::min(end + 1, condition.size()));
    setting.remove_prefix(std::min(setting.find_first_not_of(' '), setting.size()));
    const std::size_t equals = setting.rfind('=');
    if (equals != std::string_view::npos)
      all.push_back({setting.substr(0, equals), setting.substr(equals + 1)});
  }
  return all;
}

std::string doing(std::string_view state, const std::string& objects) {
  if (state == "lifted") return "lift conductor " + objects;
  if (state == "out") return "take out " + objects;
  if (state == "unplugged") return "unplug " + objects;
  if (state == "off" || state == "on") return "switch " + objects + " " + std::string(state);
  if (state == "open") return "open the link of " + objects;
  if (state == "operated") return "hold " + objects + " operated";
  if (state == "jumpered") return "join " + objects + " by a lead";
  if (state == "connected") return "connect " + objects;
  return "bring " + objects + " to " + std::string(state);
}

std::string at_its_point(std::string_view object) {
  const std::size_t at = object.find('@');
  if (at == std::string_view::npos) return std::string(object);
  return std::string(object.substr(0, at)) + " at " + std::string(object.substr(at + 1));
}

}  // namespace

NextPoints points_of(const NextReading& next, const ConductionGraph& graph, const Readings& readings) {
  if (next.again == ReadingId::none) return {name(next.from, graph), name(next.to, graph)};
  const Reading& row = readings.rows[index(next.again)];
  return {std::string(row.from), std::string(row.to)};
}

std::string in_short(const Fault& fault, const ConductionGraph& graph, const Readings& readings) {
  const auto noun = [&](ElementId e) { return element_noun(e, graph); };
  switch (fault.kind) {
    case FaultKind::open:
      return noun(fault.element) + " open";
    case FaultKind::missing_bridge:
      return noun(fault.element) + " missing";
    case FaultKind::miswire:
      return noun(fault.element) + " on " + name(fault.p, graph);
    case FaultKind::swap:
      return noun(fault.element) + " and " + noun(fault.element2) + " exchanged";
    case FaultKind::shift:
      return shifted(fault, graph);
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      return name(fault.p, graph) + " and " + name(fault.q, graph) + " joined";
    case FaultKind::wrong_contact:
      return noun(fault.element) + " of the other kind";
    case FaultKind::reversed:
      return noun(fault.element) + " reversed";
    case FaultKind::wrong_value:
      return (graph.is_hard(fault.element) ? "a bad joint of " : "another value of ") + noun(fault.element);
    case FaultKind::bad_reading:
      return reading_label(readings, fault.reading) + " misread";
  }
  return {};
}

std::string what_is_read(const NextReading& next, const NextOutcome& outcome) {
  if (!next.in_ohms) return outcome.beeps ? "beep" : "no beep";
  constexpr double k_any_value = 1e300;
  if (outcome.ohms.is_open()) return "OL";
  OhmInterval ohms = outcome.ohms;
  if (ohms.hi.value >= k_any_value) ohms.hi = k_infinite_ohms;
  return range_text(ohms);
}

std::string next_in_short(const NextReading& next, const Cluster& cluster, const ConductionGraph& graph,
                          const Readings& readings) {
  const NextPoints points = points_of(next, graph, readings);
  std::string text = "Next: read " + points.from + " to " + points.to;
  if (next.again != ReadingId::none) text += " again";
  if (next.in_ohms) text += " in ohms";
  if (!next.conditions.empty()) text += ", " + condition_words(next.conditions, Detail::short_lists);
  for (std::size_t i = 0; i < next.outcomes.size(); ++i) {
    const NextOutcome& outcome = next.outcomes[i];
    std::string read = what_is_read(next, outcome);
    if (!next.in_ohms) read = outcome.beeps ? "a beep" : "none";
    text += (i == 0 ? "; " : ", ") + read + (i == 0 ? " means " : ": ") +
            left_in_short(outcome, cluster, graph, readings);
  }
  return text + ".";
}

std::string to_be_done(std::string_view condition, Detail detail) {
  constexpr std::size_t few = 4;
  std::vector<Wanted> all = wanted_by(condition);
  std::string text;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string_view state = all[i].state;
    const auto is_same = [state](const Wanted& one) { return one.state == state; };
    if (std::any_of(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(i), is_same)) continue;
    const auto count = static_cast<std::size_t>(std::count_if(all.begin(), all.end(), is_same));
    const std::size_t shown = detail == Detail::everything || count <= few + 1 ? count : few;
    std::vector<std::string> objects;
    for (const Wanted& one : all)
      if (is_same(one) && objects.size() < shown) objects.push_back(at_its_point(one.object));
    std::string list = joined(objects);
    if (shown < count) list += " and " + std::to_string(count - shown) + " more";
    text += (text.empty() ? "" : "; ") + doing(state, list);
  }
  return text;
}

void write_next_reading(JsonWriter& json, const NextReading* next, const ConductionGraph& graph,
                        const Readings& readings) {
  if (next == nullptr || next->state != NextState::reading) {
    json.null();
    return;
  }
  const NextPoints points = points_of(*next, graph, readings);
  json.begin_object().key("from").text(points.from).key("to").text(points.to);
  json.key("conditions").text(next->conditions);
  json.key("method").text(word(next->in_ohms ? Method::ohms : Method::beep)).end_object();
}

}  // namespace ringtrue::report
