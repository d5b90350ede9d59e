#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/logic/drive.hpp"
#include "ringtrue/logic/outlet.hpp"

namespace ringtrue {

/// An output with what drives it and what hangs on it.
struct DrivenOutput {
  logic::Drive drive;
  logic::Outlet outlet;
};

/// The sheet for whoever stands at the panel: what to join, operate or turn, how long to wait, what responds,
/// where to measure; for each input how to see that it alone decides; what is not testable this way and why.
/// @param logic  the file that the program was read from, as it was named.
[[nodiscard]] std::string drive_text(const ConductionGraph& graph, std::string_view logic,
                                     std::span<const DrivenOutput> outputs);

/// The same for programs, as netlists/schema/drive.schema.json describes it.
[[nodiscard]] std::string drive_json(const ConductionGraph& graph, std::string_view logic,
                                     std::span<const DrivenOutput> outputs);

}  // namespace ringtrue
