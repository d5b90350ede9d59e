#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <set>
#include <utility>

#include "ringtrue/logic/stimuli.hpp"

namespace ringtrue::logic {

namespace {

class SourceFinder {
 public:
  SourceFinder(const Program& program, const ConductionGraph& graph, const Fittings& fittings)
      : program_(program), graph_(graph), netlist_(graph.netlist()), fittings_(fittings) {}

  std::vector<Source> find() {
    const std::vector<bool> read = variables_read(program_, program_.statements);
    for (std::uint32_t variable = 0; variable < read.size(); ++variable) {
      const VariableKind kind = program_.variables[variable].kind;
      if (read[variable] && kind == VariableKind::input) add_input(variable);
      if (read[variable] && kind == VariableKind::analog) add_analog(variable);
    }
    for (const auto& [device, variables] : selectors_) add_selector(device, variables);
    std::sort(sources_.begin(), sources_.end(), [](const Source& left, const Source& right) {
      return left.variables.front() < right.variables.front();
    });
    return std::move(sources_);
  }

 private:
  [[nodiscard]] const Channel& channel_of(std::uint32_t variable) const {
    return netlist_.channels[program_.variables[variable].channel];
  }

  [[nodiscard]] const InputTest& test_of(std::uint32_t variable) const {
    return fittings_.tests[program_.variables[variable].channel];
  }

  /// The contact wired in panel or door; null where the drawing has none.
  [[nodiscard]] const Part* contact_of(std::uint32_t variable) const {
    const ElementId contact = test_of(variable).contact;
    return contact == ElementId::none ? nullptr : &netlist_.parts[graph_.origin(contact).row];
  }

  void add_input(std::uint32_t variable) {
    const Channel& channel = channel_of(variable);
    const InputTest& test = test_of(variable);
    const Part* const contact = contact_of(variable);
    Source source{How::jumper, {variable}, {{0}, {1}}, 0, "", {}, k_none, false, false, channel.role};
    source.rest = test.lit_at_rest ? 1 : 0;
    if (contact == nullptr) {
      if (test.kind == InputTestKind::sensor || test.kind == InputTestKind::namur) source.how = How::simulate;
      if (test.kind == InputTestKind::actuate) source.how = How::operate;
      source.device = std::string(channel.device);
      source.is_refused = channel.role == Role::none && !test.is_there();
    } else if (!contact->closed_in.empty() && test.kind == InputTestKind::operate) {
      selectors_[std::string(contact->actuated_by)].push_back(variable);
      return;
    } else {
      set_contact(source, *contact);
    }
    if (source.role != Role::none || source.is_refused) source.how = How::hold;
    if (source.how == How::follow) source.options = {{0}}, source.rest = 0;
    if (source.how == How::hold) source.options = {{source.rest == 0 ? 0.0 : 1.0}}, source.rest = 0;
    const auto same = std::find_if(sources_.begin(), sources_.end(),
                                   [&](const Source& one) { return is_moved_with(one, source); });
    if (same == sources_.end()) return sources_.push_back(source);
    same->variables.push_back(variable);
    same->options[same->rest].push_back(source.rest);
    same->options[1u - same->rest].push_back(1.0 - source.rest);
  }

  /// One device, or one terminal for the lead or sensor: what sets the one input sets the other.
  [[nodiscard]] bool is_moved_with(const Source& one, const Source& other) const {
    const std::uint32_t first = one.variables.front(), second = other.variables.front();
    if (one.how != other.how || program_.variables[first].kind != VariableKind::input) return false;
    if (one.how == How::operate) return one.device == other.device;
    return (one.how == How::jumper || one.how == How::simulate) &&
           graph_.net_at_rest(channel_of(first).field) == graph_.net_at_rest(channel_of(second).field);
  }

  void set_contact(Source& source, const Part& contact) {
    source.how = How::operate;
    source.device = std::string(contact.actuated_by);
    if (contact.role != Role::none) source.role = contact.role;
    bool has_coil = false;
    for (const std::uint32_t row : netlist_.parts_named(contact.actuated_by)) {
      const Part& part = netlist_.parts[row];
      if (part.role != Role::none) source.role = part.role;
      if (part.kind != PartKind::coil) continue;
      has_coil = true;
      source.output = driver_of(part);
      if (source.output != k_none) break;
    }
    if (!has_coil) return;
    source.how = source.output == k_none ? How::hold : How::follow;
    source.is_inverted = contact.kind == PartKind::contact_nc;
  }

  /// The output whose field terminal a coil hangs on.
  [[nodiscard]] std::uint32_t driver_of(const Part& coil) const {
    for (std::uint32_t variable = 0; variable < program_.variables.size(); ++variable) {
      if (program_.variables[variable].kind != VariableKind::output) continue;
      const PointId field = channel_of(variable).field;
      if (field == PointId::none) continue;
      const NetId net = graph_.net_at_rest(field);
      if (graph_.net_at_rest(coil.a) == net || graph_.net_at_rest(coil.b) == net) return variable;
    }
    return k_none;
  }

  void add_selector(const std::string& device, const std::vector<std::uint32_t>& variables) {
    std::set<int> positions = {0};
    for (const Part& part : netlist_.parts)
      if (part.actuated_by == device) positions.insert(part.closed_in.begin(), part.closed_in.end());
    Source source{How::select, variables, {}, 0, device, {}, k_none, false, false, Role::none};
    for (const int position : positions) {
      std::vector<double> values;
      for (const std::uint32_t variable : variables) {
        const auto& closed = contact_of(variable)->closed_in;
        values.push_back(std::find(closed.begin(), closed.end(), position) != closed.end() ? 1 : 0);
      }
      // Positions that no input tells apart are one option: the lowest of them.
      if (std::find(source.options.begin(), source.options.end(), values) != source.options.end()) continue;
      source.options.push_back(values);
      source.positions.push_back(position);
    }
    sources_.push_back(source);
  }

  void add_analog(std::uint32_t variable) {
    const Channel& channel = channel_of(variable);
    const std::size_t number = program_.variables[variable].channel;
    Source source{How::simulate, {variable}, {},    0,           std::string(channel.device), {},
                  k_none,        false,      false, channel.role};
    for (const double value : values_to_try(program_, variable, channel, fittings_.sheets[number]))
      source.options.push_back({value});
    source.is_refused = channel.role == Role::none && fittings_.sheets[number].hook_up.why_not.has_value();
    if (channel.role != Role::none || source.is_refused) {
      source.how = How::hold;
      source.options.resize(1);
    }
    sources_.push_back(source);
  }

  const Program& program_;
  const ConductionGraph& graph_;
  const Netlist& netlist_;
  const Fittings& fittings_;
  std::map<std::string, std::vector<std::uint32_t>> selectors_;
  std::vector<Source> sources_;
};

bool parts_at_constant(Compare how) { return how == Compare::equal || how == Compare::differ; }
bool takes_constant_upwards(Compare how) { return how == Compare::less || how == Compare::at_least; }

/// The lowest and the highest value that the sheet asks for; without a sheet the ends of the range.
std::pair<double, double> values_fed(const Channel& channel, const AnalogSheet& sheet) {
  constexpr double k_any = std::numeric_limits<double>::infinity();
  if (!std::isfinite(channel.low) || !std::isfinite(channel.high)) return {-k_any, k_any};
  std::pair<double, double> fed = std::minmax({channel.low, channel.high});
  for (const AnalogPoint& point : sheet.points) {
    if (!point.value) continue;
    fed.first = std::min(fed.first, *point.value);
    fed.second = std::max(fed.second, *point.value);
  }
  return fed;
}

}  // namespace

std::string_view word(How how) {
  constexpr std::array<std::string_view, 6> k_words = {"jumper",   "operate", "select",
                                                       "simulate", "follow",  "hold"};
  return k_words.at(static_cast<std::size_t>(how));
}

std::vector<double> values_to_try(const Program& program, std::uint32_t variable, const Channel& channel,
                                  const AnalogSheet& sheet) {
  // Whether the constant itself must be tried: a value just above or just below it then says the same for
  // some comparisons and not for others.
  std::map<double, std::set<int>> constants;
  std::vector<bool> used(program.comparisons.size());
  for (const Statement& statement : program.statements)
    for (const Expression& expression : {statement.value, statement.reset})
      for (std::uint32_t i = expression.first; expression.is_given() && i <= expression.root; ++i)
        if (program.nodes[i].op == Op::comparison) used[program.nodes[i].a] = true;
  for (std::size_t i = 0; i < used.size(); ++i) {
    const Comparison& comparison = program.comparisons[i];
    if (!used[i] || comparison.variable != variable) continue;
    constants[comparison.constant].insert(parts_at_constant(comparison.how)        ? 2
                                          : takes_constant_upwards(comparison.how) ? 1
                                                                                   : 0);
  }
  const auto [low, high] = std::minmax({channel.low, channel.high});
  const auto [least, most] = values_fed(channel, sheet);
  std::vector<double> values;
  const auto try_between = [&, &least = least, &most = most](double from, double to) {
    if (std::max(from, least) < std::min(to, most))
      values.push_back((std::max(from, least) + std::min(to, most)) / 2);
  };
  const double first = constants.empty() ? 0 : constants.begin()->first;
  double before = low < first ? low : first - 1;
  for (const auto& [constant, sides] : constants) {
    try_between(before, constant);
    const bool is_inside = constant > least && constant < most;
    if (constant == least || constant == most || (is_inside && (sides.size() > 1 || sides.contains(2))))
      values.push_back(constant);
    before = constant;
  }
  if (!constants.empty()) try_between(before, high > before ? high : before + 1);
  if (values.empty()) values.push_back(std::isfinite(low) ? low : 0);
  return values;
}

Fittings fittings_of(const ConductionGraph& graph, const Findings* findings, const JumperOptions& options) {
  std::vector<std::size_t> all(graph.netlist().channels.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  Fittings fittings{input_tests(graph, all, findings, options), std::vector<AnalogSheet>(all.size())};
  const Supplies supplies(graph);
  for (const std::size_t channel : all)
    if (graph.netlist().channels[channel].type == ChannelType::AI)
      fittings.sheets[channel] = analog_sheet(supplies, channel);
  return fittings;
}

std::vector<Source> sources_of(const Program& program, const ConductionGraph& graph,
                               const Fittings& fittings) {
  return SourceFinder(program, graph, fittings).find();
}

}  // namespace ringtrue::logic
