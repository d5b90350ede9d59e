#include "break_check.hpp"

#include <algorithm>

#include "ringtrue/expect/judge.hpp"

namespace ringtrue {

namespace {

Probing buzzing(PointId from, PointId to, ValueKind shown) {
  Probing probing;
  probing.from = from, probing.to = to;
  probing.method = Method::beep;
  probing.value = {shown, 0};
  return probing;
}

}  // namespace

bool BreakCheck::is_cut_off(ElementId e) const {
  if (!cuts_.has_loads()) return true;
  const std::uint32_t child = std::max(numbering_.number(view_.end_a(e)), numbering_.number(view_.end_b(e)));
  const Ohms limit = beep_limit(meter_);
  return cuts_.behind(child).is_more_than(limit) || cuts_.but_behind(child).is_more_than(limit);
}

bool BreakCheck::is_cut_off_from_both(ElementId e) const {
  if (!cuts_.has_loads()) return true;
  const std::uint32_t child = std::max(numbering_.number(view_.end_a(e)), numbering_.number(view_.end_b(e)));
  constexpr LoadCuts::Counted k_all = LoadCuts::Counted::all;
  return cuts_.behind(child, k_all).is_more_than(beep_limit(meter_)) &&
         cuts_.but_behind(child, k_all).is_more_than(beep_limit(meter_));
}

bool BreakCheck::shows(PointId from, PointId to, ElementId e) const {
  if (is_cut_off(e)) return true;
  Overlay broken = view_.overlay();
  broken.switch_off(view_.graph(), e);
  const View without(view_.graph(), broken);
  return !Judge(without).is_possible(buzzing(from, to, ValueKind::beep), meter_);
}

bool BreakCheck::beeps(PointId from, PointId to) const {
  const Ohms stated = view_.stated_ohms_of_net(view_.net(from));
  if (stated.value + k_default_path_ohms <= beep_limit(meter_).value) return true;
  return judge(view_, buzzing(from, to, ValueKind::beep), meter_) == Verdict::agrees;
}

}  // namespace ringtrue
