#include "job_record.hpp"

#include "messages.hpp"
#include "ringtrue/revise/carry_over.hpp"
#include "version.hpp"

namespace ringtrue::cli {

void add_recorded_job(CLI::App& command, RecordingOptions& options) {
  command.add_option("JOB", options.job, "File that ends in .rtj")->required()->type_name("");
}

void add_recording_options(CLI::App& command, RecordingOptions& options) {
  command.add_flag("--all", options.all, "Print every note on how the files were read");
  add_explaining_options(command, options.explaining);
  add_threshold_option(command, options.meter);
}

Result<JobRecord> record_of(const Job& job, const RecordingOptions& options) {
  const auto settings = options.explaining.read();
  if (!settings) return tl::unexpected(settings.error());
  auto contents = job.contents();
  if (!contents) return tl::unexpected(std::move(contents.error()));
  Panel& panel = contents->panel;
  const Detail detail = options.all ? Detail::everything : Detail::short_lists;
  say_notes(panel.netlist.notes, detail);
  Record record;
  {
    const ConductionGraph graph(panel.netlist, settings->copper);
    const auto carried = carry_over(panel.earlier, graph, settings->copper, panel.readings, panel.events,
                                    panel.meters, options.meter.unnamed());
    if (!carried) return tl::unexpected(carried.error());
    carry_over(panel.earlier, graph, settings->copper, panel.io_results);
    carry_over(panel.earlier, graph, settings->copper, panel.decisions);
    const auto comparison =
        compare(graph, panel.readings, panel.events, panel.meters, options.meter.unnamed());
    if (!comparison) return tl::unexpected(comparison.error());
    say_warnings(comparison->unknown_points, detail);
    say_warnings(comparison->unknown_clamps, detail);
    const Findings findings = diagnose(graph, panel.readings, *comparison, settings->diagnose);
    record = make_record({*contents, graph, *comparison, findings, version_number()});
  }
  return JobRecord{std::move(*contents), std::move(record)};
}

}  // namespace ringtrue::cli
