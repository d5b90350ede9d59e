#pragma once
#include <memory>
#include <optional>
#include <string>

#include "exit_status.hpp"
#include "options.hpp"
#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/load/load.hpp"
#include "settings.hpp"

// What the verbs have in common that explain readings: the call, and the work up to the findings.

namespace ringtrue::cli {

/// How readings are explained.
struct ExplainingOptions {
  std::string settings, priors;
  bool joint = false;
  std::optional<std::size_t> max_faults;

  /// @errors those of `read_settings` and `read_priors`.
  [[nodiscard]] Result<Settings> read() const;
};

/// By which drawing a job's readings are taken to be.
enum class RowsOf : std::uint8_t {
  this_job,  ///< each by the revision that it was added under
  netlist,   ///< all by the netlist that is named beside the job
};

struct DiagnosingOptions : CommonOptions {
  std::string readings;  ///< empty: none, where the verb can do without, or those of a job
  RowsOf rows = RowsOf::this_job;
  ExplainingOptions explaining;
  MeterOptions meter;

  /// Named, or in the job that stands in place of the netlist.
  [[nodiscard]] bool has_readings() const;
};

/// --max-faults, --joint, --settings and --priors. `options` must outlive the parsing.
void add_explaining_options(CLI::App& command, ExplainingOptions& options);

/// NETLIST, READINGS and the options. `options` must outlive the parsing.
void add_diagnosing_options(CLI::App& command, DiagnosingOptions& options);

/// A panel with its readings judged and explained. Stays where it is: the members refer to each other.
struct Diagnosed {
  Diagnosed(Panel loaded, const Settings& wanted, Threads threads)
      : settings(wanted), panel(std::move(loaded)), graph(panel.netlist, settings.copper, threads) {}
  Diagnosed(const Diagnosed&) = delete;
  Diagnosed& operator=(const Diagnosed&) = delete;

  Settings settings;
  Panel panel;
  ConductionGraph graph;
  Comparison comparison;
  Findings findings;

  /// Readings and events of a job's earlier revisions, brought to the newest.
  [[nodiscard]] Result<void> carry_over(const MeterSettings& unnamed);
  /// Good if no reading contradicts the drawing, or another, or lies at a point that the drawing lacks.
  [[nodiscard]] ExitStatus status() const;
};

/// Loads and compares; says on stderr what the loader noted. The findings are left empty.
/// @errors whatever is wrong with the settings, the files or the readings.
[[nodiscard]] Result<std::unique_ptr<Diagnosed>> compare_readings(const DiagnosingOptions& options);
/// The same with the findings.
[[nodiscard]] Result<std::unique_ptr<Diagnosed>> diagnose_readings(const DiagnosingOptions& options);
/// The same of a panel that is loaded already, whatever the options name.
[[nodiscard]] Result<std::unique_ptr<Diagnosed>> diagnose_readings(const DiagnosingOptions& options,
                                                                   Panel panel);

}  // namespace ringtrue::cli
