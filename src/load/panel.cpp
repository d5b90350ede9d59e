#include <algorithm>
#include <array>
#include <functional>
#include <iterator>
#include <system_error>

#include "ringtrue/load/load.hpp"

namespace ringtrue {

namespace {

namespace fs = std::filesystem;

/// Moves the value to its place, or gives what was wrong with it.
template <class T>
Errors take(Result<T> loaded, T& target) {
  if (!loaded) return std::move(loaded.error());
  target = std::move(*loaded);
  return {};
}

std::optional<fs::path> events_beside(const std::optional<fs::path>& readings) {
  if (!readings) return std::nullopt;
  const fs::path events = readings->parent_path() / "events.csv";
  std::error_code ignored;
  return fs::exists(events, ignored) ? std::optional(events) : std::nullopt;
}

}  // namespace

Result<Panel> load_panel(const PanelSource& source, const LoadLimits& limits, const Files& netlist_files) {
  Panel panel;
  const auto load = [&](const std::optional<fs::path>& path, auto loader, auto& target) {
    return path ? take(loader(*path, limits), target) : Errors{};
  };
  const std::function<Errors()> loads[] = {
      [&] { return take(load_netlist(source.netlist, limits, netlist_files), panel.netlist); },
      [&] { return load(source.readings, load_readings, panel.readings); },
      [&] { return load(events_beside(source.readings), load_events, panel.events); },
      [&] { return load(source.meters, load_meters, panel.meters); },
      [&] { return load(source.io_results, load_io_results, panel.io_results); }};
  std::array<Errors, std::size(loads)> wrong;
  for_each_index(limits.threads, wrong.size(), [&](std::size_t i) { wrong[i] = loads[i](); });
  Errors errors;
  for (Errors& some : wrong) std::move(some.begin(), some.end(), std::back_inserter(errors));
  if (errors.empty()) return panel;
  errors.resize(std::min(errors.size(), k_max_errors));
  return tl::unexpected(std::move(errors));
}

}  // namespace ringtrue
