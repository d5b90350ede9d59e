#include "ringtrue/record/record.hpp"

#include <memory>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/revise/carry_over.hpp"
#include "verbs.hpp"
#include "version.hpp"

namespace ringtrue::cli {

namespace {

struct RecordCall {
  std::string job, folder;
  bool all = false;
  ExplainingOptions explaining;
  MeterOptions meter;
};

std::string written_text(const Record& record, const std::string& folder) {
  std::string text = folder + ": record.html, record.xlsx, record.json and punch.csv written\n";
  if (record.is_ready_to_sign()) return text + "  ready to sign\n";
  text += "  not ready to sign\n";
  for (const std::string& hold : record.holds) text += "    " + hold + "\n";
  return text;
}

ExitStatus run_record(const RecordCall& call) {
  const auto settings = call.explaining.read();
  if (!settings) return refuse(settings.error());
  auto contents = open_job(call.job).and_then([](const Job& job) { return job.contents(); });
  if (!contents) return refuse(contents.error());
  Panel& panel = contents->panel;
  const Detail detail = call.all ? Detail::everything : Detail::short_lists;
  say_notes(panel.netlist.notes, detail);
  const ConductionGraph graph(panel.netlist, settings->copper);
  const auto carried = carry_over(panel.earlier, graph, settings->copper, panel.readings, panel.events,
                                  panel.meters, call.meter.unnamed());
  if (!carried) return refuse(carried.error());
  carry_over(panel.earlier, graph, settings->copper, panel.io_results);
  carry_over(panel.earlier, graph, settings->copper, panel.decisions);
  const auto comparison = compare(graph, panel.readings, panel.events, panel.meters, call.meter.unnamed());
  if (!comparison) return refuse(comparison.error());
  say_warnings(comparison->unknown_points, detail);
  say_warnings(comparison->unknown_clamps, detail);
  const Findings findings = diagnose(graph, panel.readings, *comparison, settings->diagnose);
  const Record record = make_record({*contents, graph, *comparison, findings, version_number()});
  if (const auto written = write_record(record, call.folder); !written) return refuse(written.error());
  return write_result(written_text(record, call.folder),
                      record.is_ready_to_sign() ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_record(CLI::App& command) {
  const auto call = std::make_shared<RecordCall>();
  command.add_option("JOB", call->job, "File that ends in .rtj")->required()->type_name("");
  command.add_option("OUTDIR", call->folder, "New folder to write")->required()->type_name("");
  command.add_flag("--all", call->all, "Print every note on how the files were read");
  add_explaining_options(command, call->explaining);
  add_threshold_option(command, call->meter);
  command.footer(
      "Writes record.html, record.xlsx, record.json and punch.csv. Status 1 says that it isn't ready to\n"
      "sign. The same job gives the same bytes.\n\n" +
      command.get_footer());
  return [call] { return run_record(*call); };
}

}  // namespace ringtrue::cli
