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

BreakCheck::BreakCheck(const View& view, const Numbering& numbering, const MeterSettings& meter)
    : view_(view), numbering_(numbering), meter_(meter) {
  const auto& points = numbering.points();
  before_.resize(points.size() + 1);
  root_.resize(points.size());
  for (std::uint32_t number = 0; number < points.size(); ++number) {
    root_[number] = points[number].parent == number ? number : root_[points[number].parent];
    Conductance& sum = before_[number + 1] = before_[number];
    view.for_each_load(points[number].point, [&](const View::Edge& edge) {
      has_loads_ = true;
      const double lowest = view.interval(edge).lo.value;
      if (lowest > 0)
        sum.siemens += 1 / lowest;
      else
        ++sum.unlimited;
    });
  }
}

bool BreakCheck::is_below(const Conductance& at) const {
  // Sums and their differences are off by a little.
  constexpr double k_rounding = 1e-6;
  return at.unlimited == 0 && at.siemens * beep_limit(meter_).value < 1 - k_rounding;
}

bool BreakCheck::is_cut_off(ElementId e) const {
  const std::uint32_t child = std::max(numbering_.number(view_.end_a(e)), numbering_.number(view_.end_b(e)));
  const auto between = [this](std::uint32_t first, std::uint32_t end) {
    return Conductance{std::max(0.0, before_[end].siemens - before_[first].siemens),
                       before_[end].unlimited - before_[first].unlimited};
  };
  const std::uint32_t root = root_[child], end = numbering_.points()[child].last + 1;
  const Conductance behind = between(child, end);
  const Conductance whole = between(root, numbering_.points()[root].last + 1);
  return is_below(behind) || is_below({whole.siemens - behind.siemens, whole.unlimited - behind.unlimited});
}

bool BreakCheck::shows(PointId from, PointId to, ElementId e) const {
  if (!has_loads_ || is_cut_off(e)) return true;
  Overlay broken = view_.overlay();
  broken.switch_off(view_.graph(), e);
  return judge(View(view_.graph(), broken), buzzing(from, to, ValueKind::beep), meter_) == Verdict::disagrees;
}

bool BreakCheck::beeps(PointId from, PointId to) const {
  const Ohms stated = view_.stated_ohms_of_net(view_.net(from));
  if (stated.value + k_default_path_ohms <= beep_limit(meter_).value) return true;
  return judge(view_, buzzing(from, to, ValueKind::beep), meter_) == Verdict::agrees;
}

}  // namespace ringtrue
