#include "at_rest.hpp"

#include <algorithm>

#include "loops.hpp"

namespace ringtrue {

namespace {

class AtRest {
 public:
  explicit AtRest(Draft& draft)
      : draft_(draft), graph_(draft.graph), in_loop_(draft.graph.element_count(), 0) {}

  void cover();

 private:
  [[nodiscard]] std::vector<std::vector<ElementId>> loops(const View& view, const Cover& cover) const;
  void part(const std::vector<ElementId>& loop, const Loops::Partings& partings);
  void leave_in_loop(const std::vector<ElementId>& loop);
  [[nodiscard]] std::vector<ElementId> shown_with_lifts(const std::vector<ElementId>& loop);

  Draft& draft_;
  const ConductionGraph& graph_;
  std::vector<std::uint8_t> in_loop_;  ///< by element: wanted and in the loops at hand; else 0
};

void AtRest::cover() {
  const View view(graph_, draft_.plan.conditions.front().made.overlay);
  std::vector<PointId> points(graph_.point_count());
  for (std::uint32_t p = 0; p < points.size(); ++p) points[p] = PointId{p};
  std::vector<std::uint32_t> number_of(graph_.point_count(), Numbering::k_unseen);
  const Cover cover(view, points, draft_.wanted, number_of);
  std::vector<Stretch> beeps = cover.readings();
  draft_.plan.least_at_rest = beeps.size();

  std::vector<std::uint32_t> at_rest(graph_.net_count(), 0);
  for (const Stretch& beep : beeps) ++at_rest[index(graph_.net_at_rest(beep.from))];
  std::vector<bool> is_elsewhere(graph_.net_count(), false);
  const std::vector<std::vector<ElementId>> in_loops = loops(view, cover);
  std::vector<Loops::Partings> partings;
  for (const std::vector<ElementId>& loop : in_loops) {
    const NetId net = graph_.net_at_rest(graph_.end_a(loop.front()));
    partings.push_back(Loops(graph_, loop, draft_.wanted, at_rest[index(net)], draft_.spare_number_of)
                           .part(draft_.options.lifts));
    is_elsewhere[index(net)] = partings.back().first_is_for_whole_net;
  }
  std::erase_if(beeps,
                [&](const Stretch& beep) { return is_elsewhere[index(graph_.net_at_rest(beep.from))]; });
  draft_.add(0, view, cover, beeps);
  for (std::size_t i = 0; i < in_loops.size(); ++i) part(in_loops[i], partings[i]);
}

/// Parallel copper of which something is wanted, by net.
std::vector<std::vector<ElementId>> AtRest::loops(const View& view, const Cover& cover) const {
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
    if (draft_.is_wanted(ElementId{i}) && is_in_loop(ElementId{i})) counts[block_of(ElementId{i})] = true;
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

void AtRest::part(const std::vector<ElementId>& loop, const Loops::Partings& partings) {
  const NetId net = graph_.net_at_rest(graph_.end_a(loop.front()));
  for (const Parting& parting : partings.all) {
    const bool is_for_whole_net = partings.first_is_for_whole_net && &parting == &partings.all.front();
    const std::uint32_t number = draft_.condition(condition_of(parting, graph_));
    const PlanCondition& made = draft_.plan.conditions[number];
    const View view(graph_, made.made.overlay);
    const std::vector<PointId> points = draft_.points_under(made, net);
    draft_.make_room_for(made);
    // What isn't in loops is covered at rest, unless all of the net is to be read here.
    for (const ElementId e : loop) in_loop_[index(e)] = draft_.wanted[index(e)];
    const Cover cover(view, points, is_for_whole_net ? draft_.wanted : in_loop_, draft_.spare_number_of);
    for (const ElementId e : loop) in_loop_[index(e)] = 0;
    draft_.add(number, view, cover, cover.readings());
  }
  leave_in_loop(loop);
}

void AtRest::leave_in_loop(const std::vector<ElementId>& loop) {
  const std::vector<ElementId> lifts_show = shown_with_lifts(loop);
  const View view(graph_, draft_.plan.conditions.front().made.overlay);
  for (const ElementId e : loop) {
    const bool is_for_sure_later =
        std::any_of(draft_.unsure.begin(), draft_.unsure.end(), [e](const Unsure& one) {
          return std::find(one.stretch.across.begin(), one.stretch.across.end(), e) !=
                 one.stretch.across.end();
        });
    if (!draft_.is_wanted(e) || is_for_sure_later) continue;
    const bool needs_lift = std::find(lifts_show.begin(), lifts_show.end(), e) != lifts_show.end();
    draft_.leave(e, needs_lift ? WhyNotCovered::needs_lift : WhyNotCovered::parallel,
                 draft_.way_past(view, e));
  }
}

/// What lifts would show, where they weren't wanted.
std::vector<ElementId> AtRest::shown_with_lifts(const std::vector<ElementId>& loop) {
  std::vector<ElementId> shown;
  if (draft_.options.lifts) return shown;
  for (const Parting& parting :
       Loops(graph_, loop, draft_.wanted, 0, draft_.spare_number_of).part(true).all) {
    const PlanCondition made = condition_of(parting, graph_);
    const View view(graph_, made.made.overlay);
    draft_.make_room_for(made);
    const Cover cover(view, draft_.points_under(made, graph_.net_at_rest(graph_.end_a(loop.front()))),
                      draft_.wanted, draft_.spare_number_of);
    for (const ElementId e : loop)
      if (view.is_on(e) && cover.is_single(e)) shown.push_back(e);
  }
  return shown;
}

}  // namespace

void cover_at_rest(Draft& draft) { AtRest(draft).cover(); }

}  // namespace ringtrue
