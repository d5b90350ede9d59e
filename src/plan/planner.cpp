#include "planner.hpp"

#include <algorithm>
#include <charconv>

#include "ringtrue/expect/hard_path.hpp"
#include "walk.hpp"

namespace ringtrue {

Planner::Planner(const ConductionGraph& graph, const PlanOptions& options, const Done& done)
    : graph_(graph),
      options_(options),
      done_(done),
      wanted_(graph.element_count(), 0),
      in_loop_(graph.element_count(), 0),
      number_of_(graph.point_count(), Numbering::k_unseen),
      spare_number_of_(graph.point_count(), Numbering::k_unseen) {
  condition({});
  set_targets();
}

void Planner::want(ElementId e) {
  ++plan_.targets;
  if (done_.proven != nullptr && (*done_.proven)[index(e)] != 0)
    ++plan_.proven_before;
  else
    wanted_[index(e)] = 1;
}

void Planner::set_targets() {
  for (std::uint32_t i = 0; i < graph_.element_count(); ++i) {
    const ElementId e{i};
    const bool is_counted = options_.bodies || graph_.kind(e) != ElementKind::body;
    if (graph_.is_hard(e) && graph_.is_on_at_rest(e) && is_counted) want(e);
  }
}

std::uint32_t Planner::condition(PlanCondition made) {
  const auto [at, is_new] =
      condition_of_text_.try_emplace(made.text, static_cast<std::uint32_t>(plan_.conditions.size()));
  if (is_new) plan_.conditions.push_back(std::move(made));
  return at->second;
}

void Planner::cover_at_rest() {
  const View view(graph_, plan_.conditions.front().made.overlay);
  std::vector<PointId> points(graph_.point_count());
  for (std::uint32_t p = 0; p < points.size(); ++p) points[p] = PointId{p};
  const Cover cover(view, points, wanted_, number_of_);
  std::vector<Stretch> beeps = cover.readings();
  plan_.least_at_rest = beeps.size();

  std::vector<std::uint32_t> at_rest(graph_.net_count(), 0);
  for (const Stretch& beep : beeps) ++at_rest[index(graph_.net_at_rest(beep.from))];
  std::vector<bool> is_elsewhere(graph_.net_count(), false);
  const std::vector<std::vector<ElementId>> in_loops = loops(view, cover);
  std::vector<Loops::Partings> partings;
  for (const std::vector<ElementId>& loop : in_loops) {
    const NetId net = graph_.net_at_rest(graph_.end_a(loop.front()));
    partings.push_back(
        Loops(graph_, loop, wanted_, at_rest[index(net)], spare_number_of_).part(options_.lifts));
    is_elsewhere[index(net)] = partings.back().first_is_for_whole_net;
  }
  std::erase_if(beeps,
                [&](const Stretch& beep) { return is_elsewhere[index(graph_.net_at_rest(beep.from))]; });
  add(0, view, cover, beeps);
  for (std::size_t i = 0; i < in_loops.size(); ++i) part(in_loops[i], partings[i]);
  make_sure();
}

/// Parallel copper of which something is wanted, by net.
std::vector<std::vector<ElementId>> Planner::loops(const View& view, const Cover& cover) const {
  const Numbering& numbering = cover.numbering();
  std::vector<std::uint32_t> block(numbering.points().size());
  for (std::uint32_t number = 0; number < block.size(); ++number) {
    const std::uint32_t parent = numbering.points()[number].parent;
    block[number] = parent == number || numbering.is_single(number) ? number : block[parent];
  }
  const auto block_of = [&](ElementId e) { return block[numbering.number(graph_.end_a(e))]; };
  const auto is_in_loop = [&](ElementId e) {
    return graph_.is_hard(e) && view.is_on(e) && !cover.is_single(e);
  };
  std::vector<bool> counts(block.size(), false);
  for (std::uint32_t i = 0; i < graph_.element_count(); ++i)
    if (is_wanted(ElementId{i}) && is_in_loop(ElementId{i})) counts[block_of(ElementId{i})] = true;
  std::vector<std::vector<ElementId>> by_net;
  std::unordered_map<NetId, std::size_t> place;
  for (std::uint32_t i = 0; i < graph_.element_count(); ++i) {
    const ElementId e{i};
    if (!is_in_loop(e) || !counts[block_of(e)]) continue;
    const auto [at, is_new] = place.try_emplace(graph_.net_at_rest(graph_.end_a(e)), by_net.size());
    if (is_new) by_net.emplace_back();
    by_net[at->second].push_back(e);
  }
  return by_net;
}

std::vector<PointId> Planner::points_under(const PlanCondition& condition, NetId net) const {
  const auto at_rest = graph_.points_of_net(net);
  std::vector<PointId> points(at_rest.begin(), at_rest.end());
  for (const auto& lifted : condition.made.lifted) points.push_back(lifted.loose);
  return points;
}

void Planner::part(const std::vector<ElementId>& loop, const Loops::Partings& partings) {
  const NetId net = graph_.net_at_rest(graph_.end_a(loop.front()));
  for (const Parting& parting : partings.all) {
    const bool is_for_whole_net = partings.first_is_for_whole_net && &parting == &partings.all.front();
    const std::uint32_t number = condition(condition_of(parting, graph_));
    const PlanCondition& made = plan_.conditions[number];
    const View view(graph_, made.made.overlay);
    const std::vector<PointId> points = points_under(made, net);
    make_room_for(made);
    // What isn't in loops is covered at rest, unless all of the net is to be read here.
    for (const ElementId e : loop) in_loop_[index(e)] = wanted_[index(e)];
    const Cover cover(view, points, is_for_whole_net ? wanted_ : in_loop_, spare_number_of_);
    for (const ElementId e : loop) in_loop_[index(e)] = 0;
    add(number, view, cover, cover.readings());
  }
  leave_in_loop(loop);
}

void Planner::add(std::uint32_t condition, const View& view, const Cover& cover,
                  const std::vector<Stretch>& beeps) {
  const BreakCheck check(view, cover.numbering(), options_.meter);
  for (const Stretch& beep : beeps)
    if (check.beeps(beep.from, beep.to))
      add_one(condition, check, beep);
    else
      add_in_pieces(condition, view, check, beep);
}

void Planner::add_one(std::uint32_t condition, const BreakCheck& check, const Stretch& beep) {
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
    return options_.goal == Goal::identify ? check.is_cut_off_from_both(e) : check.is_cut_off(e);
  };
  reading.polarity_matters =
      graph_.has_diodes() && !std::all_of(beep.across.begin(), beep.across.end(), either_way);
  if (reading.polarity_matters && reading.proves.size() < beep.across.size()) {
    std::vector<ElementId> turned = shown(beep.to, beep.from);
    if (turned.size() > reading.proves.size()) {
      std::swap(reading.from, reading.to);
      reading.proves = std::move(turned);
    }
  }
  for (const ElementId e : reading.proves) wanted_[index(e)] = 0;
  Unsure unsure{condition, k_no_reading, {reading.from, reading.to, {}}};
  for (const ElementId e : beep.across)
    if (is_wanted(e)) unsure.stretch.across.push_back(e);
  if (!reading.proves.empty()) {
    unsure.reading = plan_.readings.size();
    plan_.readings.push_back(std::move(reading));
  }
  if (!unsure.stretch.across.empty()) unsure_.push_back(std::move(unsure));
}

/// A way whose copper may have more ohms than beep is read element by element.
void Planner::add_in_pieces(std::uint32_t condition, const View& view, const BreakCheck& check,
                            const Stretch& beep) {
  for (const ElementId e : beep.across) {
    const Stretch piece{view.end_a(e), view.end_b(e), {e}};
    if (check.beeps(piece.from, piece.to))
      add_one(condition, check, piece);
    else
      leave(e, WhyNotCovered::copper_too_long, {});
  }
}

void Planner::leave(ElementId e, WhyNotCovered why, std::vector<ElementId> witness) {
  wanted_[index(e)] = 0;
  plan_.not_covered.push_back({e, why, std::move(witness)});
}

std::vector<ElementId> Planner::way_past(const View& view, ElementId e) const {
  Overlay without = view.overlay();
  without.switch_off(graph_, e);
  Probing probing;
  probing.from = view.end_a(e), probing.to = view.end_b(e);
  std::vector<ElementId> way;
  if (const auto path = hard_path(View(graph_, without), probing))
    for (const View::Edge& edge : path->edges) way.push_back(edge.element);
  return way;
}

void Planner::leave_in_loop(const std::vector<ElementId>& loop) {
  const std::vector<ElementId> lifts_show = shown_with_lifts(loop);
  const View view(graph_, plan_.conditions.front().made.overlay);
  for (const ElementId e : loop) {
    const bool is_for_sure_later = std::any_of(unsure_.begin(), unsure_.end(), [e](const Unsure& unsure) {
      return std::find(unsure.stretch.across.begin(), unsure.stretch.across.end(), e) !=
             unsure.stretch.across.end();
    });
    if (!is_wanted(e) || is_for_sure_later) continue;
    const bool needs_lift = std::find(lifts_show.begin(), lifts_show.end(), e) != lifts_show.end();
    leave(e, needs_lift ? WhyNotCovered::needs_lift : WhyNotCovered::parallel, way_past(view, e));
  }
}

/// What lifts would show, where they weren't wanted.
std::vector<ElementId> Planner::shown_with_lifts(const std::vector<ElementId>& loop) {
  std::vector<ElementId> shown;
  if (options_.lifts) return shown;
  for (const Parting& parting : Loops(graph_, loop, wanted_, 0, spare_number_of_).part(true).all) {
    const PlanCondition made = condition_of(parting, graph_);
    const View view(graph_, made.made.overlay);
    make_room_for(made);
    const Cover cover(view, points_under(made, graph_.net_at_rest(graph_.end_a(loop.front()))), wanted_,
                      spare_number_of_);
    for (const ElementId e : loop)
      if (view.is_on(e) && cover.is_single(e)) shown.push_back(e);
  }
  return shown;
}

/// Loose ends are points as well.
void Planner::make_room_for(const PlanCondition& condition) {
  const std::size_t points = graph_.point_count() + condition.made.lifted.size();
  if (spare_number_of_.size() < points) spare_number_of_.resize(points, Numbering::k_unseen);
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

Plan Planner::finish() {
  plan_.first_id = first_id_after(done_);
  drop_unused_conditions();
  count_lifts();
  drop_what_is_proven_after_all();
  std::sort(plan_.not_covered.begin(), plan_.not_covered.end(),
            [](const NotCovered& x, const NotCovered& y) { return x.element < y.element; });
  for (const PlannedReading& reading : plan_.readings) plan_.at_rest += reading.condition == 0 ? 1u : 0u;
  put_in_walking_order(graph_, plan_.conditions, options_.efforts, plan_.readings);
  list_proofs_once();
  plan_.walk = figures_of(graph_, plan_.conditions, plan_.readings, options_.efforts);
  plan_.wire_by_wire = wire_by_wire(graph_, options_.efforts);
  return std::move(plan_);
}

/// A reading that was made sure of for one element may prove another that was given up before.
void Planner::drop_what_is_proven_after_all() {
  std::vector<bool> is_proven(graph_.element_count(), false);
  for (const PlannedReading& reading : plan_.readings)
    for (const ElementId e : reading.proves) is_proven[index(e)] = true;
  std::erase_if(plan_.not_covered, [&](const NotCovered& one) { return is_proven[index(one.element)]; });
}

/// At rest stays, and what only a reading that another one replaced needed goes.
void Planner::drop_unused_conditions() {
  std::vector<bool> is_used(plan_.conditions.size(), false);
  is_used[0] = true;
  for (const PlannedReading& reading : plan_.readings) is_used[reading.condition] = true;
  for (const GroupTests& tests : plan_.group_tests) is_used[tests.condition] = true;
  std::vector<std::uint32_t> number(plan_.conditions.size(), 0);
  std::vector<PlanCondition> kept;
  for (std::size_t i = 0; i < plan_.conditions.size(); ++i) {
    number[i] = static_cast<std::uint32_t>(kept.size());
    if (is_used[i]) kept.push_back(std::move(plan_.conditions[i]));
  }
  plan_.conditions = std::move(kept);
  for (PlannedReading& reading : plan_.readings) reading.condition = number[reading.condition];
  for (GroupTests& tests : plan_.group_tests) tests.condition = number[tests.condition];
}

/// An end that is lifted for several conditions stays lifted from one to the next.
void Planner::count_lifts() {
  std::vector<std::pair<ElementId, End>> lifted;
  for (PlanCondition& condition : plan_.conditions) {
    condition.lifts = 0;
    for (const auto& one : condition.made.lifted) {
      const std::pair end(one.conductor, one.end);
      if (std::find(lifted.begin(), lifted.end(), end) != lifted.end()) continue;
      lifted.push_back(end);
      ++condition.lifts;
    }
    plan_.lifts += condition.lifts;
  }
}

/// Of the readings that prove an element the first in walking order lists it.
void Planner::list_proofs_once() {
  std::vector<bool> is_listed(graph_.element_count(), false);
  for (PlannedReading& reading : plan_.readings) {
    std::erase_if(reading.proves, [&](ElementId e) { return is_listed[index(e)]; });
    for (const ElementId e : reading.proves) is_listed[index(e)] = true;
  }
}

}  // namespace ringtrue
