#pragma once
#include <filesystem>
#include <optional>
#include <vector>

#include "ringtrue/base/threads.hpp"
#include "ringtrue/load/files.hpp"
#include "ringtrue/model/decisions.hpp"
#include "ringtrue/model/earlier_netlist.hpp"
#include "ringtrue/model/io_results.hpp"
#include "ringtrue/model/meter.hpp"
#include "ringtrue/model/netlist.hpp"
#include "ringtrue/model/readings.hpp"
#include "ringtrue/model/signatures.hpp"

namespace ringtrue {

/// What loading may take of the machine.
struct LoadLimits {
  /// Files above this size are refused: 4 GiB, since places in them are 32-bit.
  std::uintmax_t max_file_bytes = 0xFFFFFFFFu;
  Threads threads = {};  ///< the files of a panel are read side by side; `Files` then serve several threads
};

/// Reads a netlist: a folder with `conductors.csv` (and parts, channels, potentials, panel), an `.xml` file,
/// a `.toml` mapping file that says how to read an export, or a single CSV wire list. A folder that holds
/// both CSV and XML is read as CSV.
/// @param files  where all of them are looked for.
/// @errors all of ErrorCode that can stand in a file, each with its place; up to `k_max_errors`, then none of
/// it is loaded.
[[nodiscard]] Result<Netlist> load_netlist(const std::filesystem::path& path, const LoadLimits& limits = {},
                                           const Files& files = files_on_disk());

/// Reads a CSV file of readings. Rows without a value are no readings yet, as in a sheet that is still being
/// filled in: they are passed over, and one note counts them. The same for rows as an exported job has them:
/// those that name another in `superseded_by`, and withdrawals, without a value but with `supersedes`.
[[nodiscard]] Result<Readings> load_readings(const std::filesystem::path& path,
                                             const LoadLimits& limits = {});

/// Reads a CSV file of events.
[[nodiscard]] Result<Events> load_events(const std::filesystem::path& path, const LoadLimits& limits = {});

/// Reads a CSV file of meters.
[[nodiscard]] Result<Meters> load_meters(const std::filesystem::path& path, const LoadLimits& limits = {});

/// Reads a CSV file of the results of an I/O test.
[[nodiscard]] Result<IoResults> load_io_results(const std::filesystem::path& path,
                                                const LoadLimits& limits = {});

/// Reads a CSV file of decisions about findings, as an exported job has it.
[[nodiscard]] Result<Decisions> load_decisions(const std::filesystem::path& path,
                                               const LoadLimits& limits = {});

/// Reads a CSV file of signatures, likewise.
[[nodiscard]] Result<Signatures> load_signatures(const std::filesystem::path& path,
                                                 const LoadLimits& limits = {});

/// Everything known about a panel, whatever it is read from: files here, or a job (ringtrue/job/job.hpp).
struct Panel {
  Netlist netlist;
  Readings readings;  ///< empty where none were given
  Events events;
  Meters meters;  ///< likewise
  IoResults io_results;
  Decisions decisions;  ///< only a job has them
  /// Of a job: the revisions before that rows were added under, oldest first, without a gap.
  std::vector<EarlierNetlist> earlier;
};

/// The files that a panel's data comes from.
struct PanelSource {
  std::filesystem::path netlist;
  std::optional<std::filesystem::path> readings = {};  ///< `events.csv` beside it is taken along
  std::optional<std::filesystem::path> meters = {};
  std::optional<std::filesystem::path> io_results = {};
};

/// @param netlist_files  where the files of the netlist are looked for; the others lie on the disk.
/// @errors those of all files together.
[[nodiscard]] Result<Panel> load_panel(const PanelSource& source, const LoadLimits& limits = {},
                                       const Files& netlist_files = files_on_disk());

}  // namespace ringtrue
