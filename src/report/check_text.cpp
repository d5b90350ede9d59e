#include <algorithm>

#include "ringtrue/report/check_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

constexpr std::size_t k_few_rows = 8;

/// `conductors.csv:12`; the file alone where there is no line.
std::string place_text(const Netlist& netlist, const RowSource& source) {
  const std::string& file = netlist.files[source.file];
  return source.line == 0 ? file : file + ":" + std::to_string(source.line);
}

std::string row_text(const ProblemRow& row) {
  return row.sheet.empty() ? row.what : row.what + ", sheet " + std::string(row.sheet);
}

void append_problem(std::string& out, const Netlist& netlist, const Problem& problem, Detail detail) {
  const ProblemRow& first = problem.rows.front();
  out += place_text(netlist, first.source) + ": " + std::string(word(problem.severity)) + ": " +
         problem.reason + " [" + std::string(rules()[problem.rule].id) + "]\n";
  const std::size_t shown =
      detail == Detail::everything ? problem.rows.size() : std::min(k_few_rows, problem.rows.size());
  for (std::size_t i = 0; i < shown; ++i)
    out += "  " + place_text(netlist, problem.rows[i].source) + ": " + row_text(problem.rows[i]) + '\n';
  if (shown < problem.rows.size())
    out += "  and " + std::to_string(problem.rows.size() - shown) + " more (--all shows them)\n";
}

std::string numbering_text(const NumberingFound& found) {
  const std::string_view meaning = found.numbering == Numbering::per_conductor   ? "one per conductor"
                                   : found.numbering == Numbering::per_potential ? "one per potential"
                                                                                 : "undecided";
  std::string text = "Wire numbers: " + std::string(meaning);
  if (found.is_given) return text + ", as the rules file says.";
  if (found.conductors == 0) return text + ": no two numbered conductors share a net.";
  const auto percent = static_cast<int>(found.confidence * 100);
  return text + " (confidence " + std::to_string(percent) + "%, by " +
         report::counted(found.conductors, "conductor") + " that share" + (found.conductors == 1 ? "s" : "") +
         " a net with another).";
}

}  // namespace

std::string check_text(const Netlist& netlist, const CheckReport& report, Detail detail) {
  using report::counted;
  std::string out;
  report::append_wrapped(out, panel_label(netlist.panel), 0, 2);
  out += '\n';
  for (const Problem& problem : report.problems) append_problem(out, netlist, problem, detail);
  if (!report.problems.empty()) out += '\n';
  report::append_wrapped(out,
                         "Read: " + counted(netlist.conductors.size(), "conductor") + ", " +
                             counted(netlist.parts.size(), "part") + ", " +
                             counted(netlist.channels.size(), "channel") + ", " +
                             counted(netlist.potentials.size(), "potential") + ".",
                         0, 2);
  report::append_wrapped(out, numbering_text(report.numbering), 0, 2);
  out += counted(report.count(Severity::error), "error") + ", " +
         counted(report.count(Severity::warning), "warning") + ", " +
         counted(report.count(Severity::notice), "notice") + ".\n";
  out += "The drawing is checked against itself; this is no safety assessment.\n";
  return out;
}

}  // namespace ringtrue
