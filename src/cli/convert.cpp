#include <memory>

#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/report/convert_report.hpp"
#include "ringtrue/write/write.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct ConvertOptions {
  std::string in, out;
  bool explain = false;
  bool force = false;
};

/// How the input was understood.
void explain_input(const Netlist& netlist, Detail detail) { say_notes(netlist.notes, detail, "--explain"); }

ExitStatus run_convert(const ConvertOptions& options) {
  const auto panel = load_panel({options.in, std::nullopt});
  if (!panel) return refuse(panel.error());
  explain_input(panel->netlist, options.explain ? Detail::everything : Detail::short_lists);
  const auto written =
      write_netlist(panel->netlist, options.out, options.force ? Existing::replace : Existing::refuse);
  if (!written) return refuse(written.error());
  return write_result(convert_text(panel->netlist, options.out), ExitStatus::good);
}

}  // namespace

Run declare_convert(CLI::App& command) {
  const auto options = std::make_shared<ConvertOptions>();
  command.add_option("IN", options->in, "Folder with conductors.csv, an .xml file, or a CSV wire list alone")
      ->required()
      ->type_name("");
  command
      .add_option("OUT", options->out,
                  "What to write: a name that ends in .xml, or else a folder of CSV files")
      ->required()
      ->type_name("");
  command.add_flag("--explain", options->explain, "Say in full how the input was read and what was ignored");
  command.add_flag("--force", options->force, "Replace what stands at OUT");
  return [options] { return run_convert(*options); };
}

}  // namespace ringtrue::cli
