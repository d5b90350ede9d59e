#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "ringtrue/io/analog.hpp"
#include "ringtrue/io/input_test.hpp"
#include "ringtrue/live/live_job.hpp"
#include "ringtrue/logic/outlet.hpp"
#include "ringtrue/model/io_results.hpp"

namespace ringtrue {

/// How one channel is tried with the panel powered.
struct IoTest {
  std::size_t channel = 0;              ///< index into the netlist's channels
  InputTest input;                      ///< says of an AI, AO or DO no more than that it is one
  std::optional<AnalogSheet> analog;    ///< of an AI or AO
  std::optional<logic::Outlet> outlet;  ///< of a DO
};

/// The test of each of the channels, in their order.
/// @param findings  what readings prove; null: there are none.
[[nodiscard]] std::vector<IoTest> io_tests(const ConductionGraph& graph,
                                           std::span<const std::size_t> channels, const Findings* findings);

/// The results of a channel by what they are of: the last one of an analog point, the last one of anything
/// else. Oldest first.
[[nodiscard]] std::vector<const IoResult*> results_of(const IoTest& test, const ConductionGraph& graph,
                                                      const IoResults& results);

/// What these results show of the channel: `not tested`, `pass`, `fail`, `LED only` or `incomplete`, which of
/// an analog channel is also said of less than the five points from 0 to 100 %; `other revision` where it
/// passed under another revision of the drawing, and a revision since touched the channel's row or path.
[[nodiscard]] std::string_view shown_of(const IoTest& test, const ConductionGraph& graph,
                                        const std::vector<const IoResult*>& results);

}  // namespace ringtrue
