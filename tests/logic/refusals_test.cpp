// What drive asks to fit against what the jumper verdicts say, on random panels.
#include <gtest/gtest.h>

#include <deque>

#include "ringtrue/logic/drive.hpp"
#include "tests/support/random_io_panel.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue::logic {
namespace {

TEST(DriveRefusals, NothingRefusedIsEverAskedForOnRandomPanels) {
  std::size_t fitted = 0, held = 0, steps_seen = 0;
  for (unsigned i = 0; i < 1500; ++i) {
    Netlist netlist = ringtrue::testing::random_io_panel(ringtrue::testing::test_seed() * 1000 + i);
    std::deque<std::string> tags;
    for (Channel& channel : netlist.channels)
      channel.tag = tags.emplace_back("C" + std::to_string(tags.size()));
    const ConductionGraph graph(netlist);
    const Fittings fittings = fittings_of(graph, nullptr, {60, "A. Tester"});
    const JumperJudge judge(graph);
    std::string all, output;
    for (const Channel& channel : netlist.channels) {
      if (channel.type == ChannelType::DI) all.append(all.empty() ? "" : " OR ").append(channel.tag);
      if (channel.type == ChannelType::DO) output = channel.tag;
    }
    if (all.empty() || output.empty()) continue;
    const auto program = parse_logic(output + " := " + all + ";", "p.st", netlist);
    ASSERT_TRUE(program) << to_text(program.error().front());
    const auto variable = [&] {
      for (std::uint32_t v = 0; v < program->variables.size(); ++v)
        if (program->variables[v].name == output) return v;
      return k_none;
    }();
    const Drive drive = drive_output(*program, variable, graph, fittings);
    for (const Source& source : drive.sources) {
      const std::uint32_t number = program->variables[source.variables.front()].channel;
      const Channel& channel = netlist.channels[number];
      const JumperVerdict verdict = judge.for_channel(trace_channel(graph, number), nullptr);
      if (source.how == How::jumper) {
        ++fitted;
        EXPECT_NE(verdict.answer, JumperAnswer::refused) << i;
      }
      if (source.how == How::jumper || source.how == How::simulate) {
        EXPECT_EQ(channel.role, Role::none) << i;
        for (const WhyJumper& why : verdict.why)
          EXPECT_TRUE(!is_refusal(why.reason) || why.reason == JumperReason::namur_input) << i;
      }
      if (source.how != How::hold) continue;
      ++held;
      EXPECT_EQ(source.options.size(), 1u);
      EXPECT_TRUE(source.role != Role::none || source.is_refused || !source.device.empty()) << i;
    }
    for (const Trial& trial : drive.deciding.tests)
      for (std::size_t s = 0; s < drive.deciding.sources.size(); ++s)
        if (drive.deciding.sources[s].how == How::hold) {
          ++steps_seen;
          EXPECT_EQ(trial.steps.front().choice[s], trial.prior.front().choice[s]) << i;
        }
  }
  EXPECT_GT(fitted, 5u);
  EXPECT_GT(held, 100u);
  EXPECT_GT(steps_seen, 10u);
}

}  // namespace
}  // namespace ringtrue::logic
