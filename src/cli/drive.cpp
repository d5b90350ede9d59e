#include <algorithm>
#include <filesystem>
#include <memory>

#include "judging_options.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/load/files.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct DriveOptions : JudgingOptions {
  std::vector<std::string> outputs;
  std::string logic;
  bool csv = false;
};

constexpr std::uintmax_t k_most_logic_bytes = 16u << 20;

/// The file asked for, else `logic.st` in the folder of the netlist.
Result<std::filesystem::path> logic_path(const DriveOptions& options) {
  if (!options.logic.empty()) return options.logic;
  std::filesystem::path folder(options.netlist);
  if (!files_on_disk().is_folder(folder)) folder = folder.parent_path();
  if (files_on_disk().is_there(folder / "logic.st")) return folder / "logic.st";
  return fail({ErrorCode::bad_call,
               "no logic to drive outputs with",
               {options.netlist, 0, "", ""},
               "no logic.st beside it",
               "--logic FILE.st",
               {}});
}

Error not_driven(const std::string& name, ChannelType type) {
  const bool is_analog_output = type == ChannelType::AO;
  return {ErrorCode::bad_call,
          is_analog_output
              ? "an analog output is not driven through this logic; ringtrue analog has its sheet, "
                "with what to force and what to measure"
              : "only a digital output can be driven",
          {},
          name + " (" + std::string(word(type)) + ")",
          "a DO of the channel list",
          {}};
}

/// The stop circuits, where an output hangs on one.
std::vector<logic::StopCircuit> circuits_for(const std::vector<DrivenOutput>& driven,
                                             const ConductionGraph& graph, const logic::Fittings& fittings) {
  const bool is_any = std::any_of(driven.begin(), driven.end(), [](const DrivenOutput& output) {
    return output.drive.with_box ||
           logic::verdict_of(output.drive, output.outlet) == logic::DriveVerdict::substitute;
  });
  return is_any ? logic::stop_circuits(graph, fittings) : std::vector<logic::StopCircuit>{};
}

/// The outputs asked for as variables of the program, each once and in that order; all of them if none is.
Result<std::vector<std::uint32_t>> chosen_outputs(const Netlist& netlist, const logic::Program& program,
                                                  const std::vector<std::string>& typed) {
  std::vector<std::uint32_t> chosen;
  Errors errors;
  const auto choose = [&](std::size_t channel) {
    for (std::uint32_t i = 0; i < program.variables.size(); ++i)
      if (program.variables[i].channel == channel &&
          std::find(chosen.begin(), chosen.end(), i) == chosen.end())
        chosen.push_back(i);
  };
  for (const std::string& name : typed) {
    const auto found = find_channels(netlist, name);
    if (!found) errors.insert(errors.end(), found.error().begin(), found.error().end());
    for (const std::size_t channel : found.value_or(std::vector<std::size_t>{}))
      if (netlist.channels[channel].type == ChannelType::DO)
        choose(channel);
      else
        errors.push_back(not_driven(name, netlist.channels[channel].type));
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  for (std::size_t channel = 0; typed.empty() && channel < netlist.channels.size(); ++channel)
    if (netlist.channels[channel].type == ChannelType::DO) choose(channel);
  return chosen;
}

ExitStatus run_drive(const DriveOptions& options) {
  const auto made = panel_to_judge(options);
  if (!made) return refuse(made.error());
  const ConductionGraph& graph = (*made)->graph;
  const auto path = logic_path(options);
  if (!path) return refuse(path.error());
  const auto text = files_on_disk().read(*path, k_most_logic_bytes);
  if (!text) return refuse(text.error());
  const auto program = logic::parse_logic(text->view(), path->string(), graph.netlist());
  if (!program) return refuse(program.error());
  const auto outputs = chosen_outputs(graph.netlist(), *program, options.outputs);
  if (!outputs) return refuse(outputs.error());

  const logic::Fittings fittings = logic::fittings_of(graph, findings_of(**made, options), options.judging);
  const std::string name = path->string();
  DriveReport report{graph, name, fittings, options.judging, {}, {}};
  for (const std::uint32_t output : *outputs)
    report.outputs.push_back({logic::drive_output(*program, output, graph, fittings),
                              logic::outlet_of(graph, program->variables[output].channel)});
  report.circuits = circuits_for(report.outputs, graph, fittings);
  return write_result(options.json  ? drive_json(report)
                      : options.csv ? drive_csv(report)
                                    : drive_text(report),
                      ExitStatus::good);
}

}  // namespace

Run declare_drive(CLI::App& command) {
  const auto options = std::make_shared<DriveOptions>();
  add_common_options(command, *options);
  command
      .add_option("OUTPUT", options->outputs,
                  "Point, address or tag of a digital output; all if none is named")
      ->type_name("");
  command
      .add_option("--logic", options->logic,
                  "Structured Text that assigns the outputs; logic.st beside the netlist if it\n"
                  "is not named")
      ->option_text("FILE.st");
  command.add_flag("--csv", options->csv, "Print a sheet to be filled in")
      ->excludes(command.get_option("--json"));
  add_judging_options(command, *options);
  return [options] { return run_drive(*options); };
}

}  // namespace ringtrue::cli
