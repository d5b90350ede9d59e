#include "ringtrue/logic/plc.hpp"

#include <algorithm>

namespace ringtrue::logic {

namespace {

bool compare(double value, const Comparison& comparison) {
  const double constant = comparison.constant;
  switch (comparison.how) {
    case Compare::equal:
      return !(value < constant) && !(value > constant);
    case Compare::differ:
      return value < constant || value > constant;
    case Compare::less:
      return value < constant;
    case Compare::greater:
      return value > constant;
    case Compare::at_most:
      return value <= constant;
    case Compare::at_least:
      return value >= constant;
  }
  return false;
}

void start(BlockState& timer) {
  timer.running = true;
  timer.elapsed_ms = 0;
}

void stop(BlockState& timer) {
  timer.running = false;
  timer.elapsed_ms = 0;
}

void call_on_delay(BlockState& timer, std::uint32_t preset_ms, bool in) {
  if (!in) stop(timer);
  if (in && !timer.running) start(timer);
  timer.q = in && timer.elapsed_ms >= preset_ms;
}

void call_off_delay(BlockState& timer, std::uint32_t preset_ms, bool in) {
  if (in) stop(timer);
  if (!in && timer.q && !timer.running) start(timer);
  timer.q = in || (timer.running && timer.elapsed_ms < preset_ms);
  if (!timer.q) stop(timer);
}

void call_pulse(BlockState& timer, std::uint32_t preset_ms, bool in) {
  if (timer.elapsed_ms >= preset_ms) stop(timer);
  if (in && !timer.memory && !timer.running && preset_ms > 0) start(timer);
  timer.memory = in;
  timer.q = timer.running;
}

/// Source of the tables: IEC 61131-3, standard function blocks (from memory).
void call(const Block& block, BlockState& state, bool pin, bool reset) {
  switch (block.kind) {
    case BlockKind::SR:
      state.q = pin || (!reset && state.q);
      return;
    case BlockKind::RS:
      state.q = !reset && (pin || state.q);
      return;
    case BlockKind::R_TRIG:
      state.q = pin && !state.memory;
      state.memory = pin;
      return;
    case BlockKind::F_TRIG:
      state.q = !pin && state.memory;
      state.memory = pin;
      return;
    case BlockKind::TON:
      call_on_delay(state, block.preset_ms, pin);
      return;
    case BlockKind::TOF:
      call_off_delay(state, block.preset_ms, pin);
      return;
    case BlockKind::TP:
      call_pulse(state, block.preset_ms, pin);
      return;
  }
}

}  // namespace

Plc::Plc(const Program& program)
    : program_(&program), analog_(program.variables.size()), values_(program.nodes.size()) {
  for (const Variable& variable : program.variables) state_.bits.push_back(variable.initial ? 1 : 0);
  state_.blocks.resize(program.blocks.size());
}

bool Plc::evaluate(const Node& node) const {
  switch (node.op) {
    case Op::constant:
      return node.a != 0;
    case Op::variable:
      return value(node.a);
    case Op::block:
      return state_.blocks[node.a].q;
    case Op::comparison: {
      const Comparison& comparison = program_->comparisons[node.a];
      return compare(analog_[comparison.variable], comparison);
    }
    case Op::op_not:
      return values_[node.a] == 0;
    case Op::op_equal:
      return values_[node.a] == values_[node.b];
    case Op::op_differ:
    case Op::op_xor:
      return values_[node.a] != values_[node.b];
    case Op::op_and:
      return values_[node.a] != 0 && values_[node.b] != 0;
    case Op::op_or:
      return values_[node.a] != 0 || values_[node.b] != 0;
  }
  return false;
}

bool Plc::evaluate(const Expression& expression) {
  if (!expression.is_given()) return false;
  for (std::uint32_t node = expression.first; node <= expression.root; ++node)
    values_[node] = evaluate(program_->nodes[node]) ? 1 : 0;
  return values_[expression.root] != 0;
}

void Plc::scan(std::uint32_t elapsed_ms) {
  for (std::size_t i = 0; i < state_.blocks.size(); ++i) {
    BlockState& block = state_.blocks[i];
    const std::uint32_t left = program_->blocks[i].preset_ms - block.elapsed_ms;
    if (block.running) block.elapsed_ms += std::min(elapsed_ms, left);
  }
  for (const Statement& statement : program_->statements) {
    const bool value = evaluate(statement.value);
    if (statement.variable != k_none)
      set(statement.variable, value);
    else
      call(program_->blocks[statement.block], state_.blocks[statement.block], value,
           evaluate(statement.reset));
  }
}

std::optional<std::uint32_t> Plc::next_timer_ms() const {
  std::optional<std::uint32_t> next;
  for (std::size_t i = 0; i < state_.blocks.size(); ++i) {
    const BlockState& block = state_.blocks[i];
    if (!block.running || block.elapsed_ms >= program_->blocks[i].preset_ms) continue;
    const std::uint32_t left = program_->blocks[i].preset_ms - block.elapsed_ms;
    next = std::min(next.value_or(left), left);
  }
  return next;
}

}  // namespace ringtrue::logic
