#include "logic/machine.hpp"

#include <algorithm>

namespace ringtrue::logic {

namespace {

/// Variables of a program that are read before the scan has assigned them, inputs left out.
std::vector<bool> read_before_assigned(const Program& program) {
  std::vector<bool> kept(program.variables.size()), assigned(program.variables.size());
  for (const Statement& statement : program.statements) {
    for (const Expression& read : {statement.value, statement.reset})
      for (std::uint32_t i = read.first; read.is_given() && i <= read.root; ++i)
        if (const Node& node = program.nodes[i]; node.op == Op::variable && !assigned[node.a])
          kept[node.a] = true;
    if (statement.variable != k_none) assigned[statement.variable] = true;
  }
  return kept;
}

}  // namespace

Machine::Machine(const Program& slice, const std::vector<Source>& sources, std::uint32_t output)
    : plc_(slice), slice_(&slice), sources_(&sources), output_(output) {
  std::vector<bool> kept = read_before_assigned(slice);
  for (const Source& source : sources)
    if (source.how == How::follow) kept[source.output] = true;
  for (std::uint32_t i = 0; i < kept.size(); ++i) {
    const VariableKind kind = slice.variables[i].kind;
    if (kept[i] && (kind == VariableKind::local || kind == VariableKind::output)) kept_.push_back(i);
  }
  for (const Statement& statement : slice.statements)
    if (statement.block != k_none) blocks_.push_back(statement.block);
}

void Machine::set(const Choice& choice) {
  for (std::size_t i = 0; i < choice.size(); ++i) {
    const Source& source = (*sources_)[i];
    if (source.how == How::follow) continue;
    const std::vector<double>& values = source.options[choice[i]];
    for (std::size_t k = 0; k < values.size(); ++k)
      if (slice_->variables[source.variables[k]].kind == VariableKind::analog)
        plc_.set(source.variables[k], values[k]);
      else
        plc_.set(source.variables[k], values[k] > 0.5);
  }
}

std::vector<std::uint32_t> Machine::settle(std::uint32_t first_ms) {
  constexpr std::size_t k_most_scans = 64;
  std::vector<std::uint32_t> scans_ms;
  while (scans_ms.size() < k_most_scans) {
    before_ = plc_.state();
    for (const Source& source : *sources_)
      if (source.how == How::follow)
        plc_.set(source.variables.front(), plc_.value(source.output) != source.is_inverted);
    scans_ms.push_back(scans_ms.empty() ? first_ms : 0);
    plc_.scan(scans_ms.back());
    ++scans_run_;
    if (plc_.state() == before_) return scans_ms;
  }
  return {};
}

std::string Machine::memory() const {
  std::string key;
  for (const std::uint32_t variable : kept_) key += plc_.value(variable) ? '1' : '0';
  for (const std::uint32_t i : blocks_) {
    const BlockState& block = plc_.state().blocks[i];
    key += static_cast<char>('0' + (block.q ? 1 : 0) + (block.memory ? 2 : 0) + (block.running ? 4 : 0));
    if (block.running) key += std::to_string(block.elapsed_ms) + ';';
  }
  return key;
}

Choice Machine::rest() const {
  Choice rest;
  for (const Source& source : *sources_) rest.push_back(source.rest);
  return rest;
}

namespace {

void run(Machine& machine, const Step& step) {
  machine.set(step.choice);
  machine.settle(step.wait_ms);
}

/// Set one after the other, that source before the others, the inputs lead where they lead together.
bool leads_there(Machine& machine, Choice choice, const Choice& aimed_at, std::size_t first) {
  const PlcState start = machine.state();
  machine.set(aimed_at);
  machine.settle(0);
  const auto memory = machine.memory();
  const bool is_on = machine.is_on();
  machine.restore(start);
  const auto change = [&](std::size_t i) {
    if (choice[i] == aimed_at[i]) return;
    choice[i] = aimed_at[i];
    machine.set(choice);
    machine.settle(0);
  };
  change(first);
  for (std::size_t i = 0; i < choice.size(); ++i) change(i);
  const bool is_same = machine.memory() == memory && machine.is_on() == is_on;
  machine.restore(start);
  return is_same;
}

void find_order(Machine& machine, const Choice& from, Step& step) {
  std::vector<std::uint32_t> changed;
  for (std::uint32_t i = 0; i < from.size(); ++i)
    if (from[i] != step.choice[i]) changed.push_back(i);
  for (const std::uint32_t first : changed) {
    if (!leads_there(machine, from, step.choice, first)) continue;
    step.first = first == changed.front() ? k_none : first;
    return;
  }
  step.is_together = !changed.empty();
}

}  // namespace

void find_orders(Machine& machine, const std::vector<Step>& before, std::vector<Step>& steps) {
  machine.restart();
  for (const Step& step : before) run(machine, step);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    Step& step = steps[i];
    const Choice from = i > 0 ? steps[i - 1].choice : before.empty() ? step.choice : before.back().choice;
    machine.set(from);
    if (step.kind == Step::Kind::change) find_order(machine, from, step);
    run(machine, step);
  }
}

}  // namespace ringtrue::logic
