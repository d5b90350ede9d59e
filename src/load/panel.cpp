#include <algorithm>
#include <iterator>
#include <system_error>

#include "ringtrue/load/load.hpp"

namespace ringtrue {

namespace {

namespace fs = std::filesystem;

/// Moves the value to its place, or what was wrong with it to the other errors.
template <class T>
void take(Result<T> loaded, T& target, Errors& errors) {
  if (loaded) {
    target = std::move(*loaded);
    return;
  }
  std::move(loaded.error().begin(), loaded.error().end(), std::back_inserter(errors));
}

bool is_there(const fs::path& path) {
  std::error_code ignored;
  return fs::exists(path, ignored);
}

}  // namespace

Result<Panel> load_panel(const PanelSource& source, const LoadLimits& limits, const Files& netlist_files) {
  Panel panel;
  Errors errors;
  take(load_netlist(source.netlist, limits, netlist_files), panel.netlist, errors);
  if (source.readings) {
    take(load_readings(*source.readings, limits), panel.readings, errors);
    const fs::path events = source.readings->parent_path() / "events.csv";
    if (is_there(events)) take(load_events(events, limits), panel.events, errors);
  }
  if (source.meters) take(load_meters(*source.meters, limits), panel.meters, errors);
  if (source.io_results) take(load_io_results(*source.io_results, limits), panel.io_results, errors);
  if (errors.empty()) return panel;
  errors.resize(std::min(errors.size(), k_max_errors));
  return tl::unexpected(std::move(errors));
}

}  // namespace ringtrue
