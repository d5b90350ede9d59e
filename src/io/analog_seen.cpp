#include <algorithm>
#include <cmath>
#include <string>

#include "ne43.hpp"
#include "ringtrue/io/analog.hpp"
#include "ringtrue/model/number.hpp"

namespace ringtrue {

namespace {

using Kind = AnalogPoint::Kind;
using namespace io::ne43;

constexpr double k_no_current = -25, k_most_current = 125;  // 0 and 24 mA, in % of 4-20 mA

tl::unexpected<Errors> cannot_judge(std::string message, std::string found, std::string expected) {
  return fail({ErrorCode::bad_call, std::move(message), {}, std::move(found), std::move(expected), {}});
}

bool is_value(const AnalogPoint& point) {
  return point.kind == Kind::in_range || point.kind == Kind::beside_range;
}

bool has_point(const AnalogSheet& sheet, Kind kind) {
  return std::any_of(sheet.points.begin(), sheet.points.end(),
                     [&](const AnalogPoint& point) { return point.kind == kind; });
}

std::string plain(double number) {
  std::string text = std::to_string(number);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

/// The point at which something was seen.
Result<AnalogPoint> point_of(const AnalogSheet& sheet, const AnalogSeen& seen) {
  if (seen.kind == Kind::open || seen.kind == Kind::shorted) {
    if (has_point(sheet, seen.kind)) return AnalogPoint{seen.kind, 0, {}, {}, {}};
    return cannot_judge("the sheet has no such point", seen.kind == Kind::open ? "open" : "shorted",
                        "one of its points");
  }
  double least = 0, most = 100;
  for (const AnalogPoint& point : sheet.points)
    if (is_value(point)) least = std::min(least, point.percent), most = std::max(most, point.percent);
  const bool has_failures = has_point(sheet, Kind::failure);
  const bool is_failure =
      has_failures && ((seen.percent >= k_no_current && seen.percent <= k_failure_below) ||
                       (seen.percent >= k_failure_above && seen.percent <= k_most_current));
  if (is_failure || (seen.percent >= least && seen.percent <= most))
    return sheet.scale->point_at(seen.percent);
  std::string expected = plain(least) + " to " + plain(most) + " % for a value";
  if (has_failures)
    expected += ", " + plain(k_no_current) + " to " + plain(k_failure_below) + " or " +
                plain(k_failure_above) + " to " + plain(k_most_current) + " % for a failure";
  return cannot_judge("there the sheet asks for nothing", plain(seen.percent) + " %", std::move(expected));
}

/// Percent of span from `50` or `50%` or, with the unit of the sheet's signal, from `12mA`.
std::optional<double> percent_from(std::string_view typed, const AnalogSheet& sheet) {
  if (typed.ends_with('%')) typed.remove_suffix(1);
  if (const auto percent = parse_number(trimmed(typed))) return percent;
  if (!sheet.scale) return std::nullopt;
  const std::string_view unit = unit_of(sheet.scale->signal.kind);
  if (!typed.ends_with(unit)) return std::nullopt;
  const auto fed = parse_number(trimmed(typed.substr(0, typed.size() - unit.size())));
  return fed ? sheet.scale->percent_at(*fed) : std::nullopt;
}

}  // namespace

Result<AnalogSeen> analog_seen_from(const AnalogSheet& sheet, std::string_view at, std::string_view what) {
  AnalogSeen seen;
  const auto percent = percent_from(at, sheet);
  if (at == "open" || at == "shorted")
    seen.kind = at == "open" ? Kind::open : Kind::shorted;
  else if (percent)
    seen.percent = *percent;
  else
    return cannot_judge("not a point of the sheet", std::string(at), "such as 50, 3.6mA or open");
  if (what == "failure") return seen;
  seen.seen = parse_number(what);
  if (!seen.seen) return cannot_judge("not what can be seen", std::string(what), "such as 12.1, or failure");
  return seen;
}

Result<AnalogVerdict> judge_seen(const AnalogSheet& sheet, const AnalogSeen& seen, SeenAs as,
                                 double tolerance_pct) {
  if (!sheet.scale)
    return cannot_judge("what was seen can't be judged, since the channel has no sheet", "",
                        "signal, low, high and unit on the drawing");
  const auto point = point_of(sheet, seen);
  if (!point) return tl::unexpected(point.error());
  AnalogVerdict verdict;
  verdict.point = *point, verdict.seen = seen.seen;
  if (!is_value(*point)) {
    verdict.is_good = !seen.seen;
    return verdict;
  }
  verdict.expected = as == SeenAs::value ? point->value : as == SeenAs::raw ? point->raw : point->signal;
  if (!verdict.expected)
    return cannot_judge("what was seen can't be judged", "",
                        as == SeenAs::raw ? "raw_low and raw_high on the drawing, which differ"
                                          : "low and high on the drawing, which differ");
  if (!seen.seen) return verdict;
  double width = 0;
  if (as == SeenAs::value) width = sheet.scale->value->width();
  if (as == SeenAs::raw) width = sheet.scale->raw->width();
  if (as == SeenAs::signal) width = std::abs(*sheet.scale->signal_at(100) - *sheet.scale->signal_at(0));
  verdict.error_pct = (*seen.seen - *verdict.expected) / width * 100;
  constexpr double k_rounding = 1e-9;  // 4.08 mA is 0.5 % off 4 mA, in decimals if not in doubles
  verdict.is_good = std::abs(verdict.error_pct) <= tolerance_pct + k_rounding;
  return verdict;
}

}  // namespace ringtrue
