#include "ringtrue/check/check.hpp"

#include <algorithm>
#include <tuple>

#include "rules.hpp"

namespace ringtrue {

std::string_view word(Severity severity) {
  constexpr std::string_view words[] = {"notice", "warning", "error"};
  return words[static_cast<std::size_t>(severity)];
}

std::string_view word(Numbering numbering) {
  constexpr std::string_view words[] = {"undecided", "per-conductor", "per-potential"};
  return words[static_cast<std::size_t>(numbering)];
}

std::string_view word(ColourProfile profile) {
  constexpr std::string_view words[] = {"IEC 60204-1", "NFPA 79"};
  return words[static_cast<std::size_t>(profile)];
}

std::size_t CheckReport::count(Severity severity) const {
  return static_cast<std::size_t>(std::count_if(problems.begin(), problems.end(),
                                                [&](const Problem& p) { return p.severity == severity; }));
}

CheckReport check_drawing(const ConductionGraph& graph, const CheckOptions& options) {
  check::Drawing drawing(graph, options);
  drawing.numbering = check::find_numbering(drawing);
  CheckReport report;
  report.numbering = drawing.numbering;
  check::run_rules(drawing, report.problems);
  const std::vector<std::string>& files = graph.netlist().files;
  const auto place = [&](const Problem& p) {
    const RowSource& source = p.rows.front().source;
    return std::tuple(-static_cast<int>(p.severity), std::string_view(files[source.file]), source.line);
  };
  std::stable_sort(report.problems.begin(), report.problems.end(),
                   [&](const Problem& a, const Problem& b) { return place(a) < place(b); });
  return report;
}

}  // namespace ringtrue
