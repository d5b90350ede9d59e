// Readings that a load beside the copper could make beep although the copper is broken: with what is to be
// unplugged before them, or, where nothing helps, the elements that they leave unproven.
#include <algorithm>

#include "planner.hpp"
#include "ringtrue/expect/currents.hpp"
#include "ringtrue/expect/explain.hpp"

namespace ringtrue {

namespace {

Probing beep_between(PointId from, PointId to) {
  Probing probing;
  probing.from = from, probing.to = to;
  probing.method = Method::beep;
  return probing;
}

/// The same clamp, or the same lifted end, under another condition.
PointId same_point(PointId p, const PlanCondition& under, const PlanCondition& now) {
  for (const auto& one : under.made.lifted)
    if (one.loose == p)
      for (const auto& other : now.made.lifted)
        if (one.conductor == other.conductor && one.end == other.end) return other.loose;
  return p;
}

}  // namespace

void Planner::make_sure() {
  std::vector<bool> is_replaced(plan_.readings.size(), false);
  for (const Unsure& unsure : unsure_) {
    const std::size_t added_at = plan_.readings.size();
    const bool is_added = make_sure(unsure);
    make_sure_in_pieces(unsure);
    leave_unsure(unsure);
    // The reading that carries the pull may prove all that the one without it does.
    if (!is_added || unsure.reading >= is_replaced.size()) continue;
    const std::vector<ElementId>& before = plan_.readings[unsure.reading].proves;
    const std::vector<ElementId> now = plan_.readings[added_at].proves;
    is_replaced[unsure.reading] = std::all_of(before.begin(), before.end(), [&now](ElementId e) {
      return std::find(now.begin(), now.end(), e) != now.end();
    });
  }
  unsure_.clear();
  std::size_t kept = 0;
  for (std::size_t i = 0; i < plan_.readings.size(); ++i)
    if (i >= is_replaced.size() || !is_replaced[i]) {
      if (kept != i) plan_.readings[kept] = std::move(plan_.readings[i]);
      ++kept;
    }
  plan_.readings.resize(kept);
}

/// What the whole way leaves in doubt a reading between the element's own ends may show.
void Planner::make_sure_in_pieces(const Unsure& unsure) {
  for (const ElementId e : unsure.stretch.across)
    if (is_wanted(e) && !add_between_own_ends(e, unsure.condition) && is_wanted(e)) {
      const View view(graph_, plan_.conditions[unsure.condition].made.overlay);
      (void)make_sure({unsure.condition, k_no_reading, {view.end_a(e), view.end_b(e), {e}}});
    }
}

bool Planner::add_between_own_ends(ElementId e, std::uint32_t condition) {
  make_room_for(plan_.conditions[condition]);
  const View view(graph_, plan_.conditions[condition].made.overlay);
  const PointId a = view.end_a(e), b = view.end_b(e);
  const Cover cover(view, std::vector<PointId>{a}, wanted_, spare_number_of_);
  const BreakCheck check(view, cover.numbering(), options_.meter);
  if (!cover.is_single(e) || !check.beeps(a, b)) return false;
  for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)})
    if (check.shows(from, to, e)) {
      plan_.readings.push_back({from, to, condition, Expected::beep, {}, graph_.has_diodes(), {e}});
      wanted_[index(e)] = 0;
      return true;
    }
  return false;
}

bool Planner::make_sure(const Unsure& unsure) {
  const std::string before = plan_.conditions[unsure.condition].text;
  const Stretch& stretch = unsure.stretch;
  const auto why = explain(graph_, beep_between(stretch.from, stretch.to), before, options_.meter);
  if (!why || !why->steps || why->steps->settings.empty()) return false;
  std::string text = before;
  bool lifts = false;
  for (const std::string& setting : why->steps->settings) {
    text += (text.empty() ? "" : "; ") + setting;
    lifts = lifts || setting.ends_with("=lifted");
  }
  if (lifts && !options_.lifts) return false;
  const auto parsed = parse_condition(text, graph_.netlist());
  if (!parsed) return false;
  const std::uint32_t number = condition({text, overlay_of(*parsed, graph_)});
  const PlanCondition& now = plan_.conditions[number];
  const PointId from = same_point(stretch.from, plan_.conditions[unsure.condition], now);
  const PointId to = same_point(stretch.to, plan_.conditions[unsure.condition], now);

  const View view(graph_, now.made.overlay);
  make_room_for(now);
  const Cover cover(view, std::vector<PointId>{from}, std::vector<std::uint8_t>(wanted_.size(), 0),
                    spare_number_of_);
  const Numbering& numbering = cover.numbering();
  if (numbering.number(to) == Numbering::k_unseen) return false;
  const BreakCheck check(view, numbering, options_.meter);
  PlannedReading reading;
  reading.from = from, reading.to = to, reading.condition = number;
  const auto is_crossed = [&](ElementId e) {
    if (!view.is_on(e) || !cover.is_single(e)) return false;
    const std::uint32_t child = std::max(numbering.number(view.end_a(e)), numbering.number(view.end_b(e)));
    return numbering.is_behind(numbering.number(from), child) !=
           numbering.is_behind(numbering.number(to), child);
  };
  std::vector<ElementId> asked = stretch.across;
  if (unsure.reading < plan_.readings.size()) {
    const std::vector<ElementId>& shown = plan_.readings[unsure.reading].proves;
    asked.insert(asked.end(), shown.begin(), shown.end());
  }
  for (const ElementId e : asked)
    if (is_crossed(e) && check.shows(from, to, e)) reading.proves.push_back(e);
  const bool proves_more =
      std::any_of(reading.proves.begin(), reading.proves.end(), [this](ElementId e) { return is_wanted(e); });
  if (!proves_more || !check.beeps(from, to)) return false;
  reading.polarity_matters = graph_.has_diodes();
  for (const ElementId e : reading.proves) wanted_[index(e)] = 0;
  plan_.readings.push_back(std::move(reading));
  return true;
}

void Planner::leave_unsure(const Unsure& unsure) {
  const View view(graph_, plan_.conditions[unsure.condition].made.overlay);
  for (const ElementId e : unsure.stretch.across) {
    if (!is_wanted(e)) continue;
    Overlay broken = view.overlay();
    broken.switch_off(graph_, e);
    std::vector<ElementId> loads;
    for (const Way& way :
         ways_between(View(graph_, broken), beep_between(unsure.stretch.from, unsure.stretch.to), 1))
      loads = loads_of(way, graph_);
    leave(e, WhyNotCovered::load_may_beep, std::move(loads));
  }
}

}  // namespace ringtrue
