#include "ringtrue/job/job.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "job_decisions.hpp"
#include "job_signatures.hpp"
#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "ringtrue/report/job_report.hpp"
#include "ringtrue/report/stale_words.hpp"
#include "ringtrue/revise/carry_over.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct JobCall {
  std::string job, netlist, folder;
  std::optional<std::string> readings, events, meters, results, decisions, signatures;
  bool all = false, json = false, as_built = false;
  ExitStatus (*run)(const JobCall& call) = nullptr;  ///< what the word after `job` asks for
};

Detail detail(const JobCall& call) { return call.all ? Detail::everything : Detail::short_lists; }

ExitStatus write_contents(const Result<Job>& job, const JobCall& call) {
  if (!job) return refuse(job.error());
  const auto contents = job->contents();
  if (!contents) return refuse(contents.error());
  say_notes(contents->panel.netlist.notes, detail(call));
  return write_result(call.json ? job_json(*contents) : job_text(*contents, call.job), ExitStatus::good);
}

ExitStatus run_new(const JobCall& call) {
  PanelSource source{call.netlist};
  if (call.readings) source.readings = *call.readings;
  if (call.meters) source.meters = *call.meters;
  if (call.results) source.io_results = *call.results;
  return write_contents(create_job(call.job, source), call);
}

ExitStatus run_info(const JobCall& call) { return write_contents(open_job(call.job), call); }

/// What is wrong with any of the files; with none of them wrong, `rows` holds what was asked for.
Errors load_rows(const JobCall& call, JobRows& rows) {
  Errors errors;
  const auto load = [&](const std::optional<std::string>& path, auto loader, auto& target) {
    if (!path) return;
    auto loaded = loader(*path, LoadLimits{});
    if (!loaded) return void(errors.insert(errors.end(), loaded.error().begin(), loaded.error().end()));
    say_notes(loaded->notes, detail(call));
    target = std::move(*loaded);
  };
  load(call.readings, load_readings, rows.readings);
  load(call.events, load_events, rows.events);
  load(call.meters, load_meters, rows.meters);
  load(call.results, load_io_results, rows.io_results);
  load(call.decisions, load_decisions, rows.decisions);
  load(call.signatures, load_signatures, rows.signatures);
  return errors;
}

ExitStatus run_import(const JobCall& call) {
  if (!call.readings && !call.events && !call.meters && !call.results && !call.decisions && !call.signatures)
    return refuse({{ErrorCode::bad_call,
                    "ringtrue job import: it isn't said what to add",
                    {},
                    "",
                    "READINGS, --events, --meter, --results, --decisions or --signatures",
                    {}}});
  JobRows rows;
  if (const Errors errors = load_rows(call, rows); !errors.empty()) return refuse(errors);
  const auto added = open_job(call.job).and_then([&](Job job) { return job.append(rows); });
  if (!added) return refuse(added.error());
  return write_result(import_text(*added, rows, call.job), ExitStatus::good);
}

/// The stale readings that compare lists and that the newest revision has a place for.
Result<std::size_t> readings_to_take_again(Panel panel) {
  const ConductionGraph newest(panel.netlist);
  return carry_over(panel.earlier, newest, {}, panel.readings, panel.events, panel.meters)
      .and_then([&] { return compare(newest, panel.readings, panel.events, panel.meters); })
      .map([&](const Comparison& comparison) {
        std::size_t count = 0;
        for (const StaleReadings& group : stale_readings(panel.readings, comparison))
          for (const ReadingId reading : group.readings) count += has_place(comparison, reading) ? 1 : 0;
        return count;
      });
}

ExitStatus run_revise(const JobCall& call) {
  auto job = open_job(call.job);
  if (!job) return refuse(job.error());
  const auto appended = job->append_netlist(call.netlist, call.as_built ? Rewired::as_built : Rewired::yes);
  if (!appended) return refuse(appended.error());
  const auto contents = job->contents();
  if (!contents) return refuse(contents.error());
  say_notes(contents->panel.netlist.notes, detail(call));
  const auto again = job->panel().and_then(readings_to_take_again);
  if (!again) return refuse(again.error());
  return write_result(revise_text(*appended, *contents, *again, call.job), ExitStatus::good);
}

/// Of a damaged job what can be read is worth having, but it never passes for the whole.
ExitStatus export_damaged(const JobCall& call, const Error& reason) {
  const auto salvage = salvage_job(call.job, call.folder);
  if (!salvage) return refuse(salvage.error());
  for (const std::string& line : salvage_text(*salvage, reason, call.folder)) say(line);
  return ExitStatus::bad_input;
}

ExitStatus run_export(const JobCall& call) {
  const auto written =
      open_job(call.job).and_then([&](const Job& job) { return job.export_to(call.folder); });
  if (written) return write_result(export_text(call.job, call.folder), ExitStatus::good);
  const Error& reason = written.error().front();
  return reason.code == ErrorCode::damaged_job ? export_damaged(call, reason) : refuse(written.error());
}

/// @param arguments  of its example
CLI::App& add_word(CLI::App& command, JobCall& call, const std::string& word, const std::string& line,
                   const std::string& arguments, ExitStatus (*run)(const JobCall&)) {
  CLI::App& added = *command.add_subcommand(word, line);
  added.group("What to do");
  added.footer("Example:\n  ringtrue job " + word + " quickstart.rtj" + arguments);
  added.add_option("JOB", call.job, "File that ends in .rtj")->required()->type_name("");
  added.callback([&call, run] { call.run = run; });
  return added;
}

void add_all(CLI::App& word, JobCall& call) {
  word.add_flag("--all", call.all, "Print every note on how the files were read");
}

void add_netlist(CLI::App& word, JobCall& call) {
  word.add_option("NETLIST", call.netlist,
                  "Folder with conductors.csv, an .xml file, a CSV wire list alone, or a .toml mapping file")
      ->required()
      ->type_name("");
}

void add_file(CLI::App& word, const std::string& option, std::optional<std::string>& file,
              const std::string& line) {
  word.add_option(option, file, line)->option_text("FILE");
}

/// The verb's own help: one of its words has to follow.
class JobFormatter : public CLI::Formatter {
 public:
  explicit JobFormatter(const CLI::Formatter& like) : CLI::Formatter(like) {}
  std::string make_usage(const CLI::App* command, std::string name) const override {
    std::string words;
    for (const CLI::App* word : command->get_subcommands({}))
      words += (words.empty() ? "" : "|") + word->get_name();
    return "Usage: " + name + " " + words + " JOB ...\n";
  }
};

}  // namespace

Run declare_job(CLI::App& command) {
  const auto call = std::make_shared<JobCall>();
  const auto run_word = std::make_shared<std::function<ExitStatus()>>();
  command.require_subcommand(0, 1);
  CLI::App& made =
      add_word(command, *call, "new", "Make a job of a netlist, readings, meters and I/O results",
               " netlists/quickstart --readings netlists/quickstart/readings.csv", run_new);
  add_netlist(made, *call);
  add_file(made, "--readings", call->readings, "CSV file of readings; events.csv beside it is taken along");
  add_file(made, "--meter", call->meters, "CSV file of meters");
  add_file(made, "--results", call->results, "CSV file of results of an I/O test");
  add_all(made, *call);
  CLI::App& info = add_word(command, *call, "info",
                            "Say what a job holds, and which temporary changes are still open", "", run_info);
  info.add_flag("--json", call->json, "Print JSON for programs instead of text");
  add_all(info, *call);
  CLI::App& in = add_word(command, *call, "import", "Add rows of files that the job lacks, all or none",
                          " netlists/quickstart/readings-good.csv", run_import);
  in.add_option("READINGS", call->readings, "CSV file of readings")->type_name("");
  add_file(in, "--events", call->events, "CSV file of events");
  add_file(in, "--meter", call->meters, "CSV file of meters");
  add_file(in, "--results", call->results, "CSV file of results of an I/O test");
  add_file(in, "--decisions", call->decisions, "CSV file of decisions about findings");
  add_file(in, "--signatures", call->signatures, "CSV file of signatures");
  add_all(in, *call);
  CLI::App& revised = add_word(command, *call, "revise", "Add a revision of the netlist, which then counts",
                               " netlists/quickstart-b", run_revise);
  add_netlist(revised, *call);
  revised.add_flag(
      "--as-built", call->as_built,
      "The drawing was changed to what is there and no clamp was opened:\nall readings count on");
  add_all(revised, *call);
  revised.footer(
      "Without --as-built the panel is rewired to the revision: readings over clamps that it touches are\n"
      "stale until they are taken again. ringtrue retest JOB NETLIST says beforehand which.\n\n" +
      revised.get_footer());
  CLI::App& out = add_word(command, *call, "export", "Write a job as CSV files, with its netlist",
                           " quickstart-files", run_export);
  out.add_option("FOLDER", call->folder, "New folder to write")->required()->type_name("");
  out.footer("Of a damaged job it writes what can be read, says what is lost, and ends with status 2.\n\n" +
             out.get_footer());
  add_decisions(command, *run_word);
  add_signing(command, *run_word);
  command.formatter(
      std::make_shared<JobFormatter>(dynamic_cast<const CLI::Formatter&>(*command.get_formatter())));
  command.footer(
      "A job stands in place of NETLIST in every verb, which then takes readings, events and meters\n"
      "from it. Rows are only ever added; a correction or withdrawal supersedes a reading, and both "
      "stay.\n\n" +
      command.get_footer());
  return [call, run_word] {
    if (*run_word) return (*run_word)();
    if (call->run != nullptr) return call->run(*call);
    return refuse({{ErrorCode::bad_call,
                    "ringtrue job: it isn't said what to do with a job",
                    {},
                    "",
                    "new, info, import, revise, export, decide, as-built or sign; see ringtrue job --help",
                    {}}});
  };
}

}  // namespace ringtrue::cli
