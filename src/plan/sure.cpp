#include "sure.hpp"

#include <algorithm>
#include <utility>

#include "ringtrue/expect/currents.hpp"
#include "ringtrue/expect/explain.hpp"
#include "ringtrue/expect/openers.hpp"

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

void MakingSure::run() {
  std::vector<bool> is_replaced(draft_.plan.readings.size(), false);
  for (const Unsure& unsure : std::exchange(draft_.unsure, {})) {
    const std::size_t added_at = draft_.plan.readings.size();
    const bool is_added = make_sure(unsure);
    make_sure_in_pieces(unsure);
    leave_unsure(unsure);
    // The reading that carries the pull may prove all that the one without it does.
    if (!is_added || unsure.reading >= is_replaced.size()) continue;
    const std::vector<ElementId>& before = draft_.plan.readings[unsure.reading].proves;
    const std::vector<ElementId> now = draft_.plan.readings[added_at].proves;
    is_replaced[unsure.reading] = std::all_of(before.begin(), before.end(), [&now](ElementId e) {
      return std::find(now.begin(), now.end(), e) != now.end();
    });
  }
  std::size_t kept = 0;
  for (std::size_t i = 0; i < draft_.plan.readings.size(); ++i)
    if (i >= is_replaced.size() || !is_replaced[i]) {
      if (kept != i) draft_.plan.readings[kept] = std::move(draft_.plan.readings[i]);
      ++kept;
    }
  draft_.plan.readings.resize(kept);
}

/// What the whole way leaves in doubt a reading between the element's own ends may show.
void MakingSure::make_sure_in_pieces(const Unsure& unsure) {
  for (const ElementId e : unsure.stretch.across)
    if (draft_.is_wanted(e) && !add_between_own_ends(e, unsure.condition) && draft_.is_wanted(e)) {
      const View view(graph_, draft_.plan.conditions[unsure.condition].made.overlay);
      (void)make_sure({unsure.condition, Unsure::k_no_reading, {view.end_a(e), view.end_b(e), {e}}});
    }
}

bool MakingSure::add_between_own_ends(ElementId e, std::uint32_t condition) {
  draft_.make_room_for(draft_.plan.conditions[condition]);
  const View view(graph_, draft_.plan.conditions[condition].made.overlay);
  const PointId a = view.end_a(e), b = view.end_b(e);
  const Cover cover(view, std::vector<PointId>{a}, draft_.wanted, draft_.spare_number_of);
  const BreakCheck check(view, cover.numbering(), draft_.options.meter);
  if (!cover.is_single(e) || !check.beeps(a, b)) return false;
  for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)})
    if (check.shows(from, to, e)) {
      draft_.plan.readings.push_back({from, to, condition, Expected::beep, {}, graph_.has_diodes(), {e}});
      draft_.wanted[index(e)] = 0;
      return true;
    }
  return false;
}

bool MakingSure::make_sure(const Unsure& unsure) {
  std::vector<ElementId> asked = unsure.stretch.across;
  if (unsure.reading < draft_.plan.readings.size()) {
    const std::vector<ElementId>& shown = draft_.plan.readings[unsure.reading].proves;
    asked.insert(asked.end(), shown.begin(), shown.end());
  }
  const auto is_left = [this](ElementId e) { return draft_.is_wanted(e); };
  const auto left = std::count_if(asked.begin(), asked.end(), is_left);
  if (left == 0) return false;
  PlannedReading best;
  std::ptrdiff_t most = 0;
  const auto look = [&](const PlanCondition& made) {
    PlannedReading reading = read_under(made, unsure, asked);
    const auto news = std::count_if(reading.proves.begin(), reading.proves.end(), is_left);
    if (news <= most) return false;
    most = news;
    best = std::move(reading);
    return true;
  };
  // What was pulled for others may do. Most of it doesn't even for the first of the elements.
  const std::vector<ElementId> first = {*std::find_if(asked.begin(), asked.end(), is_left)};
  for (const std::uint32_t number : sure_conditions_) {
    const PlanCondition& made = draft_.plan.conditions[number];
    if (most < left && !read_under(made, unsure, first).proves.empty() && look(made)) best.condition = number;
  }
  const auto look_at_new = [&](PlanCondition made) {
    if (made.text.empty() || !look(made)) return;
    best.condition = draft_.condition(std::move(made));
    sure_conditions_.insert(best.condition);
  };
  if (most < left) look_at_new(pulled_for(unsure));
  if (most < left) look_at_new(settled_for(unsure));
  if (most == 0) return false;
  for (const ElementId e : best.proves) draft_.wanted[index(e)] = 0;
  draft_.plan.readings.push_back(std::move(best));
  return true;
}

/// The reading under that condition, with those of the elements that it proves there.
PlannedReading MakingSure::read_under(const PlanCondition& made, const Unsure& unsure,
                                      const std::vector<ElementId>& asked) {
  PlannedReading reading;
  reading.from = same_point(unsure.stretch.from, draft_.plan.conditions[unsure.condition], made);
  reading.to = same_point(unsure.stretch.to, draft_.plan.conditions[unsure.condition], made);
  reading.polarity_matters = graph_.has_diodes();
  const View view(graph_, made.made.overlay);
  draft_.make_room_for(made);
  const Cover cover(view, std::vector<PointId>{reading.from}, draft_.wanted, draft_.spare_number_of);
  const Numbering& numbering = cover.numbering();
  const std::uint32_t from = numbering.number(reading.from), to = numbering.number(reading.to);
  if (to == Numbering::k_unseen) return reading;
  const BreakCheck check(view, numbering, draft_.options.meter);
  if (!check.beeps(reading.from, reading.to)) return reading;
  for (const ElementId e : asked) {
    if (!view.is_on(e) || !cover.is_single(e)) continue;
    const std::uint32_t child = std::max(numbering.number(view.end_a(e)), numbering.number(view.end_b(e)));
    if (numbering.is_behind(from, child) != numbering.is_behind(to, child) &&
        check.shows(reading.from, reading.to, e))
      reading.proves.push_back(e);
  }
  return reading;
}

/// The condition with loads unplugged until no break on the way can be passed by, as far as that can be done;
/// nothing is unplugged that isn't needed.
PlanCondition MakingSure::pulled_for(const Unsure& unsure) {
  const PlanCondition& base = draft_.plan.conditions[unsure.condition];
  std::vector<std::string> settings;
  constexpr std::size_t k_most = 12;
  for (const ElementId e : unsure.stretch.across)
    while (settings.size() < k_most) {
      const std::string setting = setting_against(e, unsure, with(base, settings));
      if (setting.empty()) break;
      settings.push_back(setting);
    }
  for (std::size_t i = settings.size(); i-- > 0;) {
    std::vector<std::string> fewer = settings;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    const PlanCondition all = with(base, settings), less = with(base, fewer);
    const std::vector<ElementId>& asked = unsure.stretch.across;
    if (read_under(less, unsure, asked).proves.size() == read_under(all, unsure, asked).proves.size())
      settings = std::move(fewer);
  }
  return settings.empty() ? PlanCondition{} : with(base, settings);
}

/// The condition with the fewest steps of any kind after which a beep proves the whole way; nothing if there
/// are none, or they take lifts that aren't wanted. Finding them takes long, so only the first few are looked
/// for.
PlanCondition MakingSure::settled_for(const Unsure& unsure) {
  constexpr std::size_t k_most = 24, k_very_large = 4000;
  if (graph_.element_count() > k_very_large || settled_++ >= k_most) return {};
  const PlanCondition& base = draft_.plan.conditions[unsure.condition];
  const auto why =
      explain(graph_, beep_between(unsure.stretch.from, unsure.stretch.to), base.text, draft_.options.meter);
  if (!why || !why->steps || why->steps->settings.empty()) return {};
  for (const std::string& setting : why->steps->settings)
    if (setting.ends_with("=lifted") && !draft_.options.lifts) return {};
  return with(base, why->steps->settings);
}

/// What to unplug of a way past the element's break; empty if there is none, or it can't be unplugged.
std::string MakingSure::setting_against(ElementId e, const Unsure& unsure, const PlanCondition& now) const {
  const View view(graph_, now.made.overlay);
  const PointId from = same_point(unsure.stretch.from, draft_.plan.conditions[unsure.condition], now);
  const PointId to = same_point(unsure.stretch.to, draft_.plan.conditions[unsure.condition], now);
  Overlay broken = view.overlay();
  broken.switch_off(graph_, e);
  const View without(graph_, broken);
  if (!view.is_on(e) || !Judge(without).is_possible(beep_between(from, to), draft_.options.meter)) return {};
  const std::vector<Way> ways = ways_between(without, beep_between(from, to), 1);
  if (ways.empty()) return {};
  for (const ElementId load : loads_of(ways.front(), graph_))
    for (const std::string& setting : settings_that_open(load, graph_, {}))
      if (setting.ends_with("=unplugged")) return setting;
  return {};
}

PlanCondition MakingSure::with(const PlanCondition& base, const std::vector<std::string>& settings) const {
  PlanCondition made;
  made.text = base.text;
  for (const std::string& setting : settings) made.text += (made.text.empty() ? "" : "; ") + setting;
  if (const auto parsed = parse_condition(made.text, graph_)) {
    made.made = overlay_of(*parsed, graph_);
    return made;
  }
  return base;
}

void MakingSure::leave_unsure(const Unsure& unsure) {
  const View view(graph_, draft_.plan.conditions[unsure.condition].made.overlay);
  for (const ElementId e : unsure.stretch.across) {
    if (!draft_.is_wanted(e)) continue;
    Overlay broken = view.overlay();
    broken.switch_off(graph_, e);
    std::vector<ElementId> loads;
    for (const Way& way :
         ways_between(View(graph_, broken), beep_between(unsure.stretch.from, unsure.stretch.to), 1))
      loads = loads_of(way, graph_);
    draft_.leave(e, WhyNotCovered::load_may_beep, std::move(loads));
  }
}

}  // namespace ringtrue
