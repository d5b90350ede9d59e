#include <algorithm>
#include <filesystem>
#include <memory>

#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "panel.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/load/files.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct DriveOptions : CommonOptions {
  std::vector<std::string> outputs;
  std::string logic;
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
        errors.push_back({ErrorCode::bad_call,
                          "only a digital output can be driven",
                          {},
                          name + " (" + std::string(word(netlist.channels[channel].type)) + ")",
                          "a DO of the channel list",
                          {}});
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  for (std::size_t channel = 0; typed.empty() && channel < netlist.channels.size(); ++channel)
    if (netlist.channels[channel].type == ChannelType::DO) choose(channel);
  return chosen;
}

ExitStatus run_drive(const DriveOptions& options) {
  const auto panel = panel_of({options.netlist, std::nullopt});
  if (!panel) return refuse(panel.error());
  say_notes(panel->netlist.notes, options.detail());
  const auto path = logic_path(options);
  if (!path) return refuse(path.error());
  const auto text = files_on_disk().read(*path, k_most_logic_bytes);
  if (!text) return refuse(text.error());
  const auto program = logic::parse_logic(text->view(), path->string(), panel->netlist);
  if (!program) return refuse(program.error());
  const auto outputs = chosen_outputs(panel->netlist, *program, options.outputs);
  if (!outputs) return refuse(outputs.error());

  const ConductionGraph graph(panel->netlist);
  std::vector<DrivenOutput> driven;
  for (const std::uint32_t output : *outputs)
    driven.push_back({logic::drive_output(*program, output, graph),
                      logic::outlet_of(graph, program->variables[output].channel)});
  return write_result(
      options.json ? drive_json(graph, path->string(), driven) : drive_text(graph, path->string(), driven),
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
  return [options] { return run_drive(*options); };
}

}  // namespace ringtrue::cli
