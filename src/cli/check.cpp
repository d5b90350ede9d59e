#include "ringtrue/check/check.hpp"

#include <memory>

#include "check_rules.hpp"
#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "panel.hpp"
#include "ringtrue/report/check_report.hpp"
#include "verbs.hpp"
#include "version.hpp"

namespace ringtrue::cli {

namespace {

struct CheckCall : CommonOptions {
  std::optional<std::string> rules;
  bool sarif = false;
};

std::string report_text(const CheckCall& call, const Netlist& netlist, const CheckReport& report) {
  if (call.sarif) return check_sarif(netlist, report, version_number());
  return call.json ? check_json(netlist, report) : check_text(netlist, report, call.detail());
}

ExitStatus run_check(const CheckCall& call) {
  const Result<CheckOptions> options = call.rules ? read_check_rules(*call.rules) : CheckOptions{};
  if (!options) return refuse(options.error());
  const auto panel = panel_of({call.netlist, std::nullopt});
  if (!panel) return refuse(panel.error());
  say_notes(panel->netlist.notes, call.detail());
  const ConductionGraph graph(panel->netlist);
  const CheckReport report = check_drawing(graph, *options);
  const bool is_good = report.count(Severity::error) + report.count(Severity::warning) == 0;
  return write_result(report_text(call, panel->netlist, report),
                      is_good ? ExitStatus::good : ExitStatus::findings);
}

/// A line per rule, for the help: a rules file names them.
std::string listed_rules() {
  constexpr std::size_t k_id_width = 36, k_severity_width = 9;
  const auto padded = [](std::string_view text, std::size_t width) {
    return std::string(text) + std::string(width - text.size(), ' ');
  };
  std::string text = "Rules (a rules file says off, notice, warning or error for each, under [rules]):\n";
  for (const Rule& rule : rules())
    text += "  " + padded(rule.id, k_id_width) + padded(word(rule.severity), k_severity_width) +
            std::string(rule.line) + "\n";
  return text;
}

}  // namespace

Run declare_check(CLI::App& command) {
  const auto call = std::make_shared<CheckCall>();
  add_common_options(command, *call);
  command.add_option("--rules", call->rules, "TOML file that switches rules, severities and limits")
      ->option_text("FILE");
  command.add_flag("--sarif", call->sarif, "Print SARIF 2.1.0 for programs instead of text")
      ->excludes("--json");
  command.footer(listed_rules() + "\n" + command.get_footer());
  return [call] { return run_check(*call); };
}

}  // namespace ringtrue::cli
