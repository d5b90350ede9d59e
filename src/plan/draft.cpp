#include "draft.hpp"

#include <algorithm>
#include <charconv>

#include "ringtrue/expect/hard_path.hpp"
#include "walk.hpp"

namespace ringtrue {

Draft::Draft(const ConductionGraph& of, const PlanOptions& wanted_options, const Done& before)
    : graph(of),
      options(wanted_options),
      done(before),
      wanted(graph.element_count(), 0),
      spare_number_of(graph.point_count(), Numbering::k_unseen) {
  condition({});
  for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
    const ElementId e{i};
    const bool is_counted = options.bodies || graph.kind(e) != ElementKind::body;
    if (graph.is_hard(e) && graph.is_on_at_rest(e) && is_counted) want(e);
  }
}

void Draft::want(ElementId e) {
  ++plan.targets;
  if (done.proven != nullptr && (*done.proven)[index(e)] != 0)
    ++plan.proven_before;
  else
    wanted[index(e)] = 1;
}

std::uint32_t Draft::condition(PlanCondition made) {
  const auto [at, is_new] =
      condition_of_text.try_emplace(made.text, static_cast<std::uint32_t>(plan.conditions.size()));
  if (is_new) plan.conditions.push_back(std::move(made));
  return at->second;
}

std::vector<PointId> Draft::points_under(const PlanCondition& condition, NetId net) const {
  const auto at_rest = graph.points_of_net(net);
  std::vector<PointId> points(at_rest.begin(), at_rest.end());
  for (const auto& lifted : condition.made.lifted) points.push_back(lifted.loose);
  return points;
}

void Draft::add(std::uint32_t condition, const View& view, const Cover& cover,
                const std::vector<Stretch>& beeps) {
  const BreakCheck check(view, cover.numbering(), options.meter);
  for (const Stretch& beep : beeps)
    if (check.beeps(beep.from, beep.to))
      add_one(condition, check, beep);
    else
      add_in_pieces(condition, view, check, beep);
}

void Draft::add_one(std::uint32_t condition, const BreakCheck& check, const Stretch& beep) {
  const auto shown = [&](PointId from, PointId to) {
    std::vector<ElementId> elements;
    for (const ElementId e : beep.across)
      if (check.shows(from, to, e)) elements.push_back(e);
    return elements;
  };
  PlannedReading reading;
  reading.from = beep.from, reading.to = beep.to, reading.condition = condition;
  reading.proves = shown(beep.from, beep.to);
  const auto either_way = [&](ElementId e) {
    return options.goal == Goal::identify ? check.is_cut_off_from_both(e) : check.is_cut_off(e);
  };
  reading.polarity_matters =
      graph.has_diodes() && !std::all_of(beep.across.begin(), beep.across.end(), either_way);
  if (reading.polarity_matters && reading.proves.size() < beep.across.size()) {
    std::vector<ElementId> turned = shown(beep.to, beep.from);
    if (turned.size() > reading.proves.size()) {
      std::swap(reading.from, reading.to);
      reading.proves = std::move(turned);
    }
  }
  for (const ElementId e : reading.proves) wanted[index(e)] = 0;
  Unsure one{condition, Unsure::k_no_reading, {reading.from, reading.to, {}}};
  for (const ElementId e : beep.across)
    if (is_wanted(e)) one.stretch.across.push_back(e);
  if (!reading.proves.empty()) {
    one.reading = plan.readings.size();
    plan.readings.push_back(std::move(reading));
  }
  if (!one.stretch.across.empty()) unsure.push_back(std::move(one));
}

/// A way whose copper may have more ohms than beep is read element by element.
void Draft::add_in_pieces(std::uint32_t condition, const View& view, const BreakCheck& check,
                          const Stretch& beep) {
  for (const ElementId e : beep.across) {
    const Stretch piece{view.end_a(e), view.end_b(e), {e}};
    if (check.beeps(piece.from, piece.to))
      add_one(condition, check, piece);
    else
      leave(e, WhyNotCovered::copper_too_long, {});
  }
}

void Draft::leave(ElementId e, WhyNotCovered why, std::vector<ElementId> witness) {
  wanted[index(e)] = 0;
  plan.not_covered.push_back({e, why, std::move(witness)});
}

std::vector<ElementId> Draft::way_past(const View& view, ElementId e) const {
  Overlay without = view.overlay();
  without.switch_off(graph, e);
  Probing probing;
  probing.from = view.end_a(e), probing.to = view.end_b(e);
  std::vector<ElementId> way;
  if (const auto path = hard_path(View(graph, without), probing))
    for (const View::Edge& edge : path->edges) way.push_back(edge.element);
  return way;
}

/// Loose ends are points as well.
void Draft::make_room_for(const PlanCondition& condition) {
  const std::size_t points = graph.point_count() + condition.made.lifted.size();
  if (spare_number_of.size() < points) spare_number_of.resize(points, Numbering::k_unseen);
}

namespace {

/// One more than the greatest number of an id `P1`, `P2`... of the readings taken before.
std::size_t first_id_after(const Done& done) {
  std::size_t last = 0;
  for (std::size_t i = 0; done.readings != nullptr && i < done.readings->rows.size(); ++i) {
    const std::string_view id = done.readings->text.get(ReadingText::id, i);
    std::size_t number = 0;
    if (!id.starts_with('P')) continue;
    const auto read = std::from_chars(id.data() + 1, id.data() + id.size(), number);
    if (read.ec == std::errc{} && read.ptr == id.data() + id.size()) last = std::max(last, number);
  }
  return last + 1;
}

}  // namespace

Plan Draft::finish() {
  plan.first_id = first_id_after(done);
  drop_unused_conditions();
  count_lifts();
  drop_what_is_proven_after_all();
  std::sort(plan.not_covered.begin(), plan.not_covered.end(),
            [](const NotCovered& x, const NotCovered& y) { return x.element < y.element; });
  for (const PlannedReading& reading : plan.readings) plan.at_rest += reading.condition == 0 ? 1u : 0u;
  put_in_walking_order(graph, plan.conditions, options.efforts, plan.readings);
  list_proofs_once();
  plan.walk = figures_of(graph, plan.conditions, plan.readings, options.efforts);
  plan.wire_by_wire = wire_by_wire(graph, options.efforts);
  return std::move(plan);
}

/// A reading that was made sure of for one element may prove another that was given up before.
void Draft::drop_what_is_proven_after_all() {
  std::vector<bool> is_proven(graph.element_count(), false);
  for (const PlannedReading& reading : plan.readings)
    for (const ElementId e : reading.proves) is_proven[index(e)] = true;
  std::erase_if(plan.not_covered, [&](const NotCovered& one) { return is_proven[index(one.element)]; });
}

/// At rest stays, and what only a reading that another one replaced needed goes.
void Draft::drop_unused_conditions() {
  std::vector<bool> is_used(plan.conditions.size(), false);
  is_used[0] = true;
  for (const PlannedReading& reading : plan.readings) is_used[reading.condition] = true;
  for (const GroupTests& tests : plan.group_tests) is_used[tests.condition] = true;
  std::vector<std::uint32_t> number(plan.conditions.size(), 0);
  std::vector<PlanCondition> kept;
  for (std::size_t i = 0; i < plan.conditions.size(); ++i) {
    number[i] = static_cast<std::uint32_t>(kept.size());
    if (is_used[i]) kept.push_back(std::move(plan.conditions[i]));
  }
  plan.conditions = std::move(kept);
  for (PlannedReading& reading : plan.readings) reading.condition = number[reading.condition];
  for (GroupTests& tests : plan.group_tests) tests.condition = number[tests.condition];
}

/// An end that is lifted for several conditions stays lifted from one to the next.
void Draft::count_lifts() {
  std::vector<std::pair<ElementId, End>> lifted;
  for (PlanCondition& condition : plan.conditions) {
    condition.lifts = 0;
    for (const auto& one : condition.made.lifted) {
      const std::pair end(one.conductor, one.end);
      if (std::find(lifted.begin(), lifted.end(), end) != lifted.end()) continue;
      lifted.push_back(end);
      ++condition.lifts;
    }
    plan.lifts += condition.lifts;
  }
}

/// Of the readings that prove an element the first in walking order lists it.
void Draft::list_proofs_once() {
  std::vector<bool> is_listed(graph.element_count(), false);
  for (PlannedReading& reading : plan.readings) {
    std::erase_if(reading.proves, [&](ElementId e) { return is_listed[index(e)]; });
    for (const ElementId e : reading.proves) is_listed[index(e)] = true;
  }
}

}  // namespace ringtrue
