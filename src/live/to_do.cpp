#include "live/to_do.hpp"

#include <algorithm>

#include "ringtrue/report/next_report.hpp"

namespace ringtrue::live {

namespace {

/// What the drawing lets one expect of the reading.
void expect(Upcoming& reading, const Known& known, const Overlay& overlay, bool in_ohms) {
  reading.in_ohms = in_ohms;
  const View view(known.graph, overlay);
  Probing probing;
  probing.from = reading.from_point, probing.to = reading.to_point;
  probing.method = in_ohms ? Method::ohms : Method::beep;
  const OhmInterval ohms = expected_resistance(view, probing, in_ohms ? Counting::whole : Counting::limited);
  const Ohms limit = beep_limit(known.meter);
  if (!in_ohms && ohms.hi <= limit) return;
  reading.expected = !in_ohms && ohms.lo > limit ? Expected::open : Expected::ohms;
  reading.ohms = ohms;
}

}  // namespace

std::vector<Upcoming> to_take_again(const Known& known, const std::vector<Standing>& standing,
                                    ReadPairs& pairs) {
  const Readings& readings = known.state.readings();
  const Comparison& comparison = known.state.comparison();
  std::vector<Upcoming> again;
  for (std::size_t i = 0; i < readings.rows.size(); ++i) {
    if (standing[i] != Standing::stale) continue;
    const Reading& row = readings.rows[i];
    const Probing& probing = comparison.probings[i];
    const std::string& condition = readings.conditions[row.condition];
    // A revision may have left no place to take it at.
    const bool has_place = probing.from != PointId::none && (row.to.empty() || probing.to != PointId::none);
    if (!has_place || pairs.holds(probing.from, probing.to, condition)) continue;
    pairs.add(probing.from, probing.to, condition);
    Upcoming reading;
    reading.from = row.from, reading.to = row.to, reading.conditions = condition;
    reading.from_point = probing.from, reading.to_point = probing.to;
    reading.why = Upcoming::Why::again;
    expect(reading, known, comparison.conditions.overlays[row.condition].overlay,
           row.value.kind == ValueKind::ohms);
    again.push_back(std::move(reading));
  }
  return again;
}

std::vector<Upcoming> to_tell_apart(const Known& known, const std::vector<NextReading>& next) {
  std::vector<Upcoming> telling;
  for (std::size_t i = 0; i < next.size(); ++i) {
    if (next[i].state != NextState::reading) continue;
    const NextPoints points = points_of(next[i], known.graph, known.state.readings());
    Upcoming reading;
    reading.from = points.from, reading.to = points.to, reading.conditions = next[i].conditions;
    reading.from_point = next[i].from, reading.to_point = next[i].to;
    if (next[i].again != ReadingId::none) {
      const Probing& probing = known.state.comparison().probings[index(next[i].again)];
      reading.from_point = probing.from, reading.to_point = probing.to;
    }
    reading.why = Upcoming::Why::finding;
    reading.finding = i;
    const auto condition = parse_condition(next[i].conditions, known.graph);
    const Overlay overlay = condition ? overlay_of(*condition, known.graph).overlay : Overlay{};
    expect(reading, known, overlay, next[i].in_ohms);
    telling.push_back(std::move(reading));
  }
  return telling;
}

std::vector<bool> done_of(const Plan& plan, const Known& known, const ReadPairs& pairs) {
  const std::vector<std::uint8_t>& proven = known.state.findings().proven;
  std::vector<bool> done(plan.readings.size());
  for (std::size_t i = 0; i < plan.readings.size(); ++i) {
    const PlannedReading& reading = plan.readings[i];
    const bool is_proven =
        !reading.proves.empty() && std::all_of(reading.proves.begin(), reading.proves.end(),
                                               [&](ElementId e) { return proven[index(e)] != 0; });
    done[i] = is_proven || pairs.holds(reading.from, reading.to, plan.conditions[reading.condition].text);
  }
  return done;
}

Upcoming planned(const Plan& plan, std::size_t number, const ConductionGraph& graph) {
  const PlannedReading& reading = plan.readings[number];
  const PlanCondition& condition = plan.conditions[reading.condition];
  Upcoming upcoming;
  upcoming.from = point_name(reading.from, condition.made, graph);
  upcoming.to = point_name(reading.to, condition.made, graph);
  upcoming.conditions = condition.text;
  upcoming.from_point = reading.from, upcoming.to_point = reading.to;
  upcoming.expected = reading.expected;
  upcoming.ohms = reading.ohms;
  upcoming.in_ohms = reading.expected == Expected::ohms;
  upcoming.proves = reading.proves;
  return upcoming;
}

}  // namespace ringtrue::live
