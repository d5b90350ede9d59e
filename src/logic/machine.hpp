#pragma once
#include <string>
#include <vector>

#include "ringtrue/logic/drive.hpp"
#include "ringtrue/logic/plc.hpp"

namespace ringtrue::logic {

/// A controller with its inputs wired to sources: runs until it comes to rest.
class Machine {
 public:
  Machine(const Program& slice, const std::vector<Source>& sources, std::uint32_t output);

  void restart() { plc_ = Plc(*slice_); }
  void set(const Choice& choice);
  /// Scans until nothing changes: the first one `first_ms` after the last. Empty if it never does.
  std::vector<std::uint32_t> settle(std::uint32_t first_ms);
  [[nodiscard]] std::optional<std::uint32_t> next_timer_ms() const { return plc_.next_timer_ms(); }
  [[nodiscard]] bool is_on() const { return plc_.value(output_); }

  [[nodiscard]] const PlcState& state() const { return plc_.state(); }
  void restore(const PlcState& state) { plc_.restore(state); }
  /// What of the state the next scan can depend on, inputs left out.
  [[nodiscard]] std::string memory() const;
  /// Variables among that, and blocks that are called.
  [[nodiscard]] const std::vector<std::uint32_t>& kept_variables() const { return kept_; }
  [[nodiscard]] const std::vector<std::uint32_t>& kept_blocks() const { return blocks_; }

  [[nodiscard]] const std::vector<Source>& sources() const { return *sources_; }
  [[nodiscard]] Choice rest() const;
  [[nodiscard]] std::size_t scans_run() const { return scans_run_; }

 private:
  Plc plc_;
  PlcState before_;  ///< kept for its memory
  const Program* slice_;
  const std::vector<Source>* sources_;
  std::uint32_t output_;
  std::vector<std::uint32_t> kept_, blocks_;
  std::size_t scans_run_ = 0;
};

/// Runs the steps from rest and says of each in which order its changes may be made, if in any.
/// @param before  steps that lead to the first of `steps`; empty if these begin at rest.
void find_orders(Machine& machine, const std::vector<Step>& before, std::vector<Step>& steps);

}  // namespace ringtrue::logic
