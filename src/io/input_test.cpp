#include "ringtrue/io/input_test.hpp"

#include <algorithm>
#include <array>

namespace ringtrue {

std::string_view word(InputTestKind kind) {
  static constexpr std::array<std::string_view, 7> k_words = {"operate", "jumper", "sensor", "namur",
                                                              "analog",  "output", "none"};
  return k_words[static_cast<std::size_t>(kind)];
}

bool InputTest::is_there() const {
  if (kind == InputTestKind::none) return false;
  if (kind != InputTestKind::jumper && kind != InputTestKind::sensor && kind != InputTestKind::namur)
    return true;
  return std::none_of(jumper->why.begin(), jumper->why.end(), [](const WhyJumper& why) {
    return is_refusal(why.reason) && why.reason != JumperReason::namur_input;
  });
}

namespace {

bool is_operable(ElementId contact, const ConductionGraph& graph) {
  const Netlist& netlist = graph.netlist();
  const Part& part = netlist.parts[graph.origin(contact).row];
  const auto rows = netlist.parts_named(part.actuated_by);
  return part.role == Role::none && std::all_of(rows.begin(), rows.end(), [&](std::uint32_t row) {
           return netlist.parts[row].role == Role::none;
         });
}

/// Where the one pin of the device goes that is joined to neither of its two terminals.
PointId third_terminal(const Channel& channel, const ConductionGraph& graph, const JumperJudge& judge) {
  for (const std::uint32_t row : graph.netlist().parts_named(channel.device))
    for (const PointId pin : {graph.netlist().parts[row].a, graph.netlist().parts[row].b}) {
      if (judge.are_always_joined(pin, channel.field) || judge.are_always_joined(pin, channel.return_point))
        continue;
      for (const ElementId e : graph.elements_at(pin))
        if (graph.is_conductor(e)) return graph.other_end(e, pin);
    }
  return PointId::none;
}

InputTestKind kind_of_digital(const Channel& channel, const InputTest& test, const ConductionGraph& graph) {
  const JumperVerdict& jumper = *test.jumper;
  if (jumper.has(JumperReason::channel_has_role)) return InputTestKind::none;
  if (test.contact != ElementId::none)
    return is_operable(test.contact, graph) ? InputTestKind::operate : InputTestKind::none;
  if (channel.sensor == Sensor::namur) return InputTestKind::namur;
  if (jumper.has(JumperReason::test_not_stated) || jumper.has(JumperReason::device_is_wired))
    return InputTestKind::none;
  return channel.sensor == Sensor::contact ? InputTestKind::jumper : InputTestKind::sensor;
}

}  // namespace

std::vector<InputTest> input_tests(const ConductionGraph& graph, std::span<const std::size_t> channels,
                                   const Findings* findings, const JumperOptions& options) {
  const JumperJudge judge(graph, options);
  std::vector<InputTest> tests;
  for (const std::size_t number : channels) {
    const Channel& channel = graph.netlist().channels[number];
    InputTest test;
    test.trace = trace_channel(graph, number);
    if (channel.type != ChannelType::DI) {
      test.kind = channel.type == ChannelType::AI ? InputTestKind::analog : InputTestKind::output;
      tests.push_back(std::move(test));
      continue;
    }
    test.contact = judge.wired_contact(channel);
    test.lit_at_rest = channel.field != PointId::none && channel.return_point != PointId::none &&
                       graph.net_at_rest(channel.field) == graph.net_at_rest(channel.return_point);
    test.jumper = judge.for_channel(test.trace, findings);
    test.kind = kind_of_digital(channel, test, graph);
    if (test.kind == InputTestKind::sensor) test.third = third_terminal(channel, graph, judge);
    tests.push_back(std::move(test));
  }
  return tests;
}

}  // namespace ringtrue
