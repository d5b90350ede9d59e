#include <algorithm>
#include <set>

#include "ringtrue/model/condition.hpp"
#include "ringtrue/revise/carry_over.hpp"
#include "ringtrue/revise/difference.hpp"
#include "steps.hpp"

namespace ringtrue {

namespace {

/// What a step between two revisions does to what findings speak of.
class TouchedFindings {
 public:
  TouchedFindings(const ConductionGraph& before, const ConductionGraph& after, bool is_as_built)
      : before_(before), is_as_built_(is_as_built), difference_(difference(before, after)) {
    for (const RenamedPart& part : difference_.renamed) names_.insert({part.before, part.after});
    for (const ChangedRow& row : difference_.conductors)
      if (row.change == Change::renumbered)
        numbers_.insert({before.element_name(row.before), after.element_name(row.after)});
  }

  [[nodiscard]] bool touches(const Decision& decision) const {
    const auto is_in_finding = [&](std::string_view name) { return has_name(decision.finding, name); };
    const auto is_number_in_finding = [&](const std::string& number) {
      return decision.finding.find(" " + number + " ") != std::string::npos;
    };
    if (std::any_of(names_.begin(), names_.end(), is_in_finding) ||
        std::any_of(numbers_.begin(), numbers_.end(), is_number_in_finding))
      return true;
    const std::vector<std::string_view> points = listed(decision.points);
    return !is_as_built_ && std::any_of(points.begin(), points.end(), [&](std::string_view point) {
      const auto found = find_point(point, before_.netlist());
      return !found || difference_.touched_before[index(found->point)] != 0;
    });
  }

 private:
  /// As a word, or as the part or strip of a point.
  static bool has_name(std::string_view text, std::string_view name) {
    constexpr std::string_view k_before = " (", k_after = ":. ,)";
    for (std::size_t at = text.find(name); at != std::string_view::npos; at = text.find(name, at + 1)) {
      const std::size_t stop = at + name.size();
      if ((at == 0 || k_before.find(text[at - 1]) != std::string_view::npos) &&
          (stop == text.size() || k_after.find(text[stop]) != std::string_view::npos))
        return true;
    }
    return false;
  }

  const ConductionGraph& before_;
  bool is_as_built_;
  Difference difference_;
  std::set<std::string> names_, numbers_;
};

}  // namespace

void carry_over(const std::vector<EarlierNetlist>& earlier, const ConductionGraph& newest,
                const CopperSettings& copper, Decisions& decisions) {
  if (decisions.rows.empty()) return;
  revise::for_each_step(
      earlier, newest, copper,
      [&](const ConductionGraph& before, const ConductionGraph& after, const EarlierNetlist& from) {
        const TouchedFindings touched(before, after, from.next_is_as_built);
        for (Decision& decision : decisions.rows)
          if (revision_of(decision).value_or(from.number) <= from.number)
            decision.is_outdated |= touched.touches(decision);
      });
}

}  // namespace ringtrue
