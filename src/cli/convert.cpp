#include <memory>
#include <string>
#include <string_view>

#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "panel.hpp"
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
  const auto panel = panel_of({options.in, std::nullopt});
  if (!panel) return refuse(panel.error());
  explain_input(panel->netlist, options.explain ? Detail::everything : Detail::short_lists);
  const auto written =
      write_netlist(panel->netlist, options.out, options.force ? Existing::replace : Existing::refuse);
  if (!written) return refuse(written.error());
  return write_result(convert_text(panel->netlist, options.out), ExitStatus::good);
}

constexpr std::string_view k_mapping_help =
    R"(Columns are found by their names or the words of the trade, English and German. Where that fails, a
mapping file says how to read an export; it can stand for the netlist in every verb:

  [[conductors]]                       # or parts, channels, potentials, bridges; one for each file
  file = "wires.csv"                   # beside the mapping file
  header = 4                           # line of the header; without it, it is looked for
  fill_down = ["Cabinet"]              # columns whose empty cells mean the text above
  chain = ","                          # several points in one "to" cell: from the first to the last
  [conductors.columns]                 # field = column; the others are found by name
  from = { join = ["Device", "Pin"], with = ":" }
  kind = { value = "wire" }
  colour = { column = "Farbe", values = { "schwarz" = "BK" } }

  [[conductors]]
  file = "export.xml"
  rows = "//wire"                      # XPath of the rows, and of each field below its row
  [conductors.columns]
  from = "@start"

  [[bridges]]                          # a list with a cell for all terminals of a bridge: 1-5 or 1,3,5
  file = "terminals.csv"               # columns strip and terminals

)";

}  // namespace

Run declare_convert(CLI::App& command) {
  const auto options = std::make_shared<ConvertOptions>();
  command
      .add_option("IN", options->in,
                  "Folder with conductors.csv, an .xml file, a CSV wire list alone, or a .toml mapping file")
      ->required()
      ->type_name("");
  command
      .add_option("OUT", options->out,
                  "What to write: a name that ends in .xml, or else a folder of CSV files")
      ->required()
      ->type_name("");
  command.add_flag("--explain", options->explain, "Say in full how the input was read and what was ignored");
  command.add_flag("--force", options->force, "Replace what stands at OUT");
  command.footer(std::string(k_mapping_help) + command.get_footer());
  return [options] { return run_convert(*options); };
}

}  // namespace ringtrue::cli
