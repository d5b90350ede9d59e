#include "panel.hpp"

#include "ringtrue/job/job.hpp"

namespace ringtrue::cli {

namespace {

Result<Panel> panel_of_job(const PanelSource& source) {
  if (source.readings)
    return fail({ErrorCode::bad_call,
                 "a job holds its own readings, so none are given beside it",
                 {source.netlist.string(), 0, "", ""},
                 source.readings->string(),
                 "the job alone; ringtrue job import adds readings to it",
                 {}});
  auto panel = open_job(source.netlist).and_then([](const Job& job) { return job.panel(); });
  if (!panel || !source.meters) return panel;
  auto meters = load_meters(*source.meters);
  if (!meters) return tl::unexpected(std::move(meters.error()));
  panel->meters = std::move(*meters);
  return panel;
}

}  // namespace

Result<Panel> panel_of(const PanelSource& source) {
  return is_job_name(source.netlist) ? panel_of_job(source) : load_panel(source);
}

}  // namespace ringtrue::cli
