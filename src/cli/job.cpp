#include "ringtrue/job/job.hpp"

#include <memory>
#include <optional>
#include <string>

#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "ringtrue/report/job_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct JobCall {
  std::string job, netlist, readings, folder;
  std::optional<std::string> readings_option, meters;
  bool all = false;
  ExitStatus (*run)(const JobCall& call) = nullptr;  ///< what the word after `job` asks for
};

Detail detail(const JobCall& call) { return call.all ? Detail::everything : Detail::short_lists; }

ExitStatus write_contents(const Result<Job>& job, const JobCall& call) {
  if (!job) return refuse(job.error());
  const auto contents = job->contents();
  if (!contents) return refuse(contents.error());
  say_notes(contents->panel.netlist.notes, detail(call));
  return write_result(job_text(*contents, call.job), ExitStatus::good);
}

ExitStatus run_new(const JobCall& call) {
  PanelSource source{call.netlist};
  if (call.readings_option) source.readings = *call.readings_option;
  if (call.meters) source.meters = *call.meters;
  return write_contents(create_job(call.job, source), call);
}

ExitStatus run_info(const JobCall& call) { return write_contents(open_job(call.job), call); }

ExitStatus run_import(const JobCall& call) {
  const auto readings = load_readings(call.readings);
  if (!readings) return refuse(readings.error());
  say_notes(readings->notes, detail(call));
  const auto added = open_job(call.job).and_then([&](Job job) { return job.append(*readings); });
  if (!added) return refuse(added.error());
  return write_result(import_text(*added, readings->rows.size(), call.job), ExitStatus::good);
}

ExitStatus run_export(const JobCall& call) {
  const auto written =
      open_job(call.job).and_then([&](const Job& job) { return job.export_to(call.folder); });
  if (!written) return refuse(written.error());
  return write_result(export_text(call.job, call.folder), ExitStatus::good);
}

CLI::App& add_word(CLI::App& command, JobCall& call, const std::string& word, const std::string& line,
                   ExitStatus (*run)(const JobCall&)) {
  CLI::App& added = *command.add_subcommand(word, line);
  added.group("What to do");
  added.add_option("JOB", call.job, "File that ends in .rtj")->required()->type_name("");
  added.callback([&call, run] { call.run = run; });
  return added;
}

void add_all(CLI::App& word, JobCall& call) {
  word.add_flag("--all", call.all, "Print every note on how the files were read");
}

}  // namespace

Run declare_job(CLI::App& command) {
  const auto call = std::make_shared<JobCall>();
  command.require_subcommand(0, 1);
  CLI::App& made = add_word(command, *call, "new", "Make a job of a netlist, readings and meters", run_new);
  made.add_option("NETLIST", call->netlist,
                  "Folder with conductors.csv, an .xml file, a CSV wire list alone, or a .toml mapping file")
      ->required()
      ->type_name("");
  made.add_option("--readings", call->readings_option,
                  "CSV file of readings; events.csv beside it is taken along")
      ->option_text("FILE");
  made.add_option("--meter", call->meters, "CSV file of meters")->option_text("FILE");
  add_all(made, *call);
  CLI::App& info = add_word(command, *call, "info",
                            "Say what a job holds, and which temporary changes are still open", run_info);
  add_all(info, *call);
  CLI::App& out =
      add_word(command, *call, "export", "Write a job as CSV files, with its netlist", run_export);
  out.add_option("FOLDER", call->folder, "New folder to write")->required()->type_name("");
  CLI::App& in = add_word(command, *call, "import", "Add readings whose ids the job lacks", run_import);
  in.add_option("READINGS", call->readings, "CSV file of readings")->required()->type_name("");
  add_all(in, *call);
  command.footer(
      "A job stands in place of NETLIST in every verb, which then takes readings, events and meters\n"
      "from it. Rows are only ever added; a correction supersedes a reading, and both stay.\n\n" +
      command.get_footer());
  return [call] {
    if (call->run != nullptr) return call->run(*call);
    return refuse({{ErrorCode::bad_call,
                    "ringtrue job: it isn't said what to do with a job",
                    {},
                    "",
                    "new, info, export or import; see ringtrue job --help",
                    {}}});
  };
}

}  // namespace ringtrue::cli
