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

/// The netlist of a file beside all else that a job holds.
Result<Panel> panel_with_rows_of_job(const PanelSource& source) {
  auto panel = panel_of_job({*source.readings, std::nullopt, source.meters});
  auto netlist = load_netlist(source.netlist);
  if (!panel) return panel;
  if (!netlist) return tl::unexpected(std::move(netlist.error()));
  if (!panel->earlier.empty()) {
    // What the job's own revisions have made stale stays so, whatever drawing it is compared with.
    const std::uint32_t newest = panel->earlier.back().number + 1;
    panel->earlier.push_back({newest, std::move(panel->netlist), true});
  }
  panel->netlist = std::move(*netlist);
  return panel;
}

}  // namespace

Result<Panel> panel_of(const PanelSource& source, Threads threads) {
  if (is_job_name(source.netlist)) return panel_of_job(source);
  if (source.readings && is_job_name(*source.readings)) return panel_with_rows_of_job(source);
  return load_panel(source, {.threads = threads});
}

}  // namespace ringtrue::cli
