#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "ringtrue/logic/program.hpp"

namespace ringtrue::logic {

/// What a block remembers from scan to scan.
struct BlockState {
  bool q = false;
  bool memory = false;   ///< R_TRIG, F_TRIG, TP: the pin at the scan before
  bool running = false;  ///< of a timer
  std::uint32_t elapsed_ms = 0;
  bool operator==(const BlockState&) const = default;
};

/// Everything that one scan leaves to the next.
struct PlcState {
  std::vector<std::uint8_t> bits;  ///< by variable
  std::vector<BlockState> blocks;
  bool operator==(const PlcState&) const = default;
};

/// Runs a program scan by scan, as a controller does: inputs, one pass over the statements, outputs.
///
/// Starts with every variable at its initial value and every block at rest. An edge block has seen FALSE
/// before, so that F_TRIG gives no pulse at the start. A timer starts in the scan that sees its pin change
/// and has run out in the first scan at or after its preset; a TP that has just run out may start in that
/// scan. The program must outlive it.
class Plc {
 public:
  explicit Plc(const Program& program);

  void set(std::uint32_t variable, bool value) { state_.bits[variable] = value ? 1 : 0; }
  void set(std::uint32_t variable, double value) { analog_[variable] = value; }
  [[nodiscard]] bool value(std::uint32_t variable) const { return state_.bits[variable] != 0; }

  /// One scan, `elapsed_ms` after the one before.
  void scan(std::uint32_t elapsed_ms);
  /// Until the next timer runs out; nothing if none is running.
  [[nodiscard]] std::optional<std::uint32_t> next_timer_ms() const;

  [[nodiscard]] const PlcState& state() const { return state_; }
  void restore(const PlcState& state) { state_ = state; }

 private:
  [[nodiscard]] bool evaluate(const Expression& expression);
  [[nodiscard]] bool evaluate(const Node& node) const;

  const Program* program_;
  PlcState state_;
  std::vector<double> analog_;        ///< by variable
  std::vector<std::uint8_t> values_;  ///< by node
};

}  // namespace ringtrue::logic
