#include "ringtrue/io/input_test.hpp"

#include <algorithm>
#include <array>
#include <unordered_map>

namespace ringtrue {

std::string_view word(InputTestKind kind) {
  static constexpr std::array<std::string_view, 8> k_words = {"operate", "actuate", "jumper", "sensor",
                                                              "namur",   "analog",  "output", "none"};
  return k_words[static_cast<std::size_t>(kind)];
}

bool InputTest::is_there() const {
  if (kind == InputTestKind::none) return false;
  if (hook_up) return !hook_up->why_not;
  if (kind != InputTestKind::jumper && kind != InputTestKind::sensor && kind != InputTestKind::namur)
    return true;
  return std::none_of(jumper->why.begin(), jumper->why.end(), [](const WhyJumper& why) {
    return is_refusal(why.reason) && why.reason != JumperReason::namur_input;
  });
}

namespace {

bool has_no_role(std::string_view part, const Netlist& netlist) {
  const auto rows = netlist.parts_named(part);
  return std::all_of(rows.begin(), rows.end(),
                     [&](std::uint32_t row) { return netlist.parts[row].role == Role::none; });
}

bool is_operable(ElementId contact, const ConductionGraph& graph) {
  const Part& part = graph.netlist().parts[graph.origin(contact).row];
  return part.role == Role::none && has_no_role(part.actuated_by, graph.netlist());
}

/// Nothing but that potential may come there, and no jumper to there would be refused for what is there.
bool carries_only(PotentialKind kind, PointId p, const Supplies& supplies, const JumperVerdict& jumper) {
  for (const PotentialKind other : {PotentialKind::dc_plus, PotentialKind::dc_minus, PotentialKind::ac_line,
                                    PotentialKind::ac_neutral, PotentialKind::pe})
    if (supplies.reaches(other, p) != (other == kind)) return false;
  return std::none_of(jumper.why.begin(), jumper.why.end(), [](const WhyJumper& why) {
    return why.reason == JumperReason::on_role_net || why.reason == JumperReason::on_driven_net ||
           why.reason == JumperReason::potential_above_limit;
  });
}

/// Where the one pin of the device goes that is joined to neither of its two terminals, if that is the other
/// pole of its supply.
PointId third_terminal(const Channel& channel, const Supplies& supplies, const JumperJudge& judge) {
  const ConductionGraph& graph = supplies.graph();
  const PotentialKind wanted =
      channel.sensor == Sensor::npn ? PotentialKind::dc_plus : PotentialKind::dc_minus;
  for (const std::uint32_t row : graph.netlist().parts_named(channel.device))
    for (const PointId pin : {graph.netlist().parts[row].a, graph.netlist().parts[row].b}) {
      if (judge.are_always_joined(pin, channel.field) || judge.are_always_joined(pin, channel.return_point))
        continue;
      for (const ElementId e : graph.elements_at(pin)) {
        if (!graph.is_conductor(e)) continue;
        const PointId there = graph.other_end(e, pin);
        return carries_only(wanted, there, supplies, judge.between(there, channel.return_point))
                   ? there
                   : PointId::none;
      }
    }
  return PointId::none;
}

InputTestKind kind_of_digital(const Channel& channel, const InputTest& test, const ConductionGraph& graph) {
  const JumperVerdict& jumper = *test.jumper;
  if (jumper.has(JumperReason::channel_has_role)) return InputTestKind::none;
  if (test.contact != ElementId::none)
    return is_operable(test.contact, graph) ? InputTestKind::operate : InputTestKind::none;
  if (jumper.has(JumperReason::device_is_wired))
    return has_no_role(channel.device, graph.netlist()) ? InputTestKind::actuate : InputTestKind::none;
  if (jumper.has(JumperReason::terminals_joined)) return InputTestKind::none;
  if (channel.sensor == Sensor::namur) return InputTestKind::namur;
  if (jumper.has(JumperReason::test_not_stated)) return InputTestKind::none;
  return channel.sensor == Sensor::contact ? InputTestKind::jumper : InputTestKind::sensor;
}

/// Digital inputs by what moves them.
class Companions {
 public:
  Companions(const ConductionGraph& graph, const JumperJudge& judge) : graph_(graph), judge_(judge) {
    const std::vector<Channel>& channels = graph.netlist().channels;
    for (std::size_t i = 0; i < channels.size(); ++i) {
      if (channels[i].type != ChannelType::DI || channels[i].field == PointId::none) continue;
      if (const std::string_view mover = mover_of(channels[i]); !mover.empty())
        by_mover_[mover].push_back(i);
      else
        by_net_[graph.net_at_rest(channels[i].field)].push_back(i);
    }
  }

  /// In the order of the channel list, without the channel itself.
  [[nodiscard]] std::vector<std::size_t> of(std::size_t number) const {
    const Channel& channel = graph_.netlist().channels[number];
    if (channel.field == PointId::none) return {};
    const std::string_view mover = mover_of(channel);
    std::vector<std::size_t> also =
        mover.empty() ? by_net_.at(graph_.net_at_rest(channel.field)) : by_mover_.at(mover);
    std::erase(also, number);
    return also;
  }

 private:
  /// What is operated in the panel or door; empty for a field device.
  [[nodiscard]] std::string_view mover_of(const Channel& channel) const {
    const ElementId contact = judge_.wired_contact(channel);
    return contact == ElementId::none ? std::string_view()
                                      : graph_.netlist().parts[graph_.origin(contact).row].actuated_by;
  }

  const ConductionGraph& graph_;
  const JumperJudge& judge_;
  std::unordered_map<std::string_view, std::vector<std::size_t>> by_mover_;
  std::unordered_map<NetId, std::vector<std::size_t>> by_net_;
};

}  // namespace

std::vector<InputTest> input_tests(const ConductionGraph& graph, std::span<const std::size_t> channels,
                                   const Findings* findings, const JumperOptions& options) {
  const JumperJudge judge(graph, options);
  const Supplies supplies(graph);
  const Companions companions(graph, judge);
  std::vector<InputTest> tests;
  for (const std::size_t number : channels) {
    const Channel& channel = graph.netlist().channels[number];
    InputTest test;
    test.trace = trace_channel(graph, number);
    if (channel.type != ChannelType::DI) {
      test.kind = channel.type == ChannelType::DO ? InputTestKind::output : InputTestKind::analog;
      if (test.kind == InputTestKind::analog)
        test.hook_up = hook_up(supplies, channel, signal_from_text(channel.signal));
      tests.push_back(std::move(test));
      continue;
    }
    test.contact = judge.wired_contact(channel);
    test.also = companions.of(number);
    test.lit_at_rest = channel.field != PointId::none && channel.return_point != PointId::none &&
                       graph.net_at_rest(channel.field) == graph.net_at_rest(channel.return_point);
    test.jumper = judge.for_channel(test.trace, findings);
    test.kind = kind_of_digital(channel, test, graph);
    if (test.kind == InputTestKind::actuate) test.lit_at_rest = channel.normal.value_or(false);
    if (test.kind == InputTestKind::sensor) test.third = third_terminal(channel, supplies, judge);
    tests.push_back(std::move(test));
  }
  return tests;
}

}  // namespace ringtrue
