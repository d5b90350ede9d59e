#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/logic/drive.hpp"
#include "ringtrue/logic/outlet.hpp"
#include "ringtrue/logic/stop_circuit.hpp"

namespace ringtrue {

/// An output with what drives it and what hangs on it.
struct DrivenOutput {
  logic::Drive drive;
  logic::Outlet outlet;
};

/// All that the sheet is made of; what it refers to must outlive it.
struct DriveReport {
  const ConductionGraph& graph;
  std::string_view logic;  ///< the file that the program was read from, as it was named
  const logic::Fittings& fittings;
  const JumperOptions& options;  ///< those of the fittings
  std::vector<DrivenOutput> outputs;
  std::vector<logic::StopCircuit> circuits;  ///< those that outputs hang on
};

/// The sheet for whoever stands at the panel: what may be fitted at which terminals; the stop circuit and how
/// it is tested; for each output what to fit, operate or turn, how long to wait, what responds, where to
/// measure, and how to see of each input that it alone decides; what is not testable this way and why.
[[nodiscard]] std::string drive_text(const DriveReport& report);

/// The same for programs, as netlists/schema/drive.schema.json describes it.
[[nodiscard]] std::string drive_json(const DriveReport& report);

/// The steps as a sheet to be filled in, a row each.
/// Source of the form: RFC 4180.
[[nodiscard]] std::string drive_csv(const DriveReport& report);

}  // namespace ringtrue
