// Traced ways against the plainest search there is: lengths spread over all elements until none falls any
// more.
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <random>
#include <tuple>

#include "ringtrue/graph/trace.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue::testing {
namespace {

constexpr std::uint32_t k_far = std::numeric_limits<std::uint32_t>::max();

/// Fewest conducting elements from one point to each.
std::vector<std::uint32_t> lengths_at_rest(const ConductionGraph& graph, PointId from) {
  std::vector<std::uint32_t> length(graph.point_count(), k_far);
  length[index(from)] = 0;
  for (bool falls = true; falls;) {
    falls = false;
    for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
      const ElementId e{i};
      if (!graph.is_hard(e) || !graph.is_on_at_rest(e)) continue;
      std::uint32_t &a = length[index(graph.end_a(e))], &b = length[index(graph.end_b(e))];
      if (a != k_far && a + 1 < b) b = a + 1, falls = true;
      if (b != k_far && b + 1 < a) a = b + 1, falls = true;
    }
  }
  return length;
}

/// Its elements join its points one by one, from its start on.
bool is_walk(const TracedPath& path, const ConductionGraph& graph) {
  if (path.points.empty() || path.points.front() != path.from) return false;
  if (path.points.size() != path.elements.size() + 1) return false;
  for (std::size_t i = 0; i < path.elements.size(); ++i) {
    const PointId a = graph.end_a(path.elements[i]), b = graph.end_b(path.elements[i]);
    const PointId here = path.points[i], next = path.points[i + 1];
    if (!graph.is_hard(path.elements[i]) || !((a == here && b == next) || (b == here && a == next)))
      return false;
  }
  return true;
}

struct Seen {
  std::size_t complete = 0, passes_open = 0, stops = 0;
};

void compare_path(const TracedPath& path, const std::vector<PointId>& targets, const ConductionGraph& graph,
                  Seen& seen) {
  const std::vector<std::uint32_t> length = lengths_at_rest(graph, path.from);
  std::uint32_t shortest = k_far;
  for (const PointId target : targets) shortest = std::min(shortest, length[index(target)]);
  ASSERT_TRUE(is_walk(path, graph));
  if (path.verdict == PathVerdict::complete) {
    ++seen.complete;
    EXPECT_EQ(path.elements.size(), shortest);
    EXPECT_EQ(path.points.back(), path.to);
    EXPECT_NE(std::find(targets.begin(), targets.end(), path.to), targets.end());
    for (const ElementId e : path.elements) EXPECT_TRUE(graph.is_on_at_rest(e));
    return;
  }
  EXPECT_EQ(shortest, k_far) << "it conducts at rest";
  if (path.verdict == PathVerdict::passes_open) {
    ++seen.passes_open;
    EXPECT_FALSE(path.open_elements.empty());
    EXPECT_NE(std::find(targets.begin(), targets.end(), path.points.back()), targets.end());
    return;
  }
  ++seen.stops;
  ASSERT_EQ(path.verdict, PathVerdict::stops);
  for (const PointId p : path.stops_at) {
    EXPECT_NE(length[index(p)], k_far) << "a point where it stops is reached";
    EXPECT_GE(length[index(p)], path.elements.size()) << "the way leads to the nearest of them";
  }
}

std::vector<PointId> feeds_of(const Netlist& net) {
  std::vector<PointId> feeds;
  for (const Potential& potential : net.potentials) feeds.push_back(potential.point);
  return feeds;
}

TEST(TraceWays, AreTheShortestThatConductAtRest) {
  Seen seen;
  for (unsigned i = 0; i < 400; ++i) {
    const std::string text = random_netlist(test_seed() + i) +
                             "potential +24V dc+ S1:13\npotential 0V dc- K1:A2\n"
                             "channel K1:A1 DI X1:2.ext X1:3.int K1:14\n"
                             "channel K1:11 DO X1:1.ext K1:12 K1:14\n";
    SCOPED_TRACE(text);
    const Netlist net = netlist(text);
    const ConductionGraph graph(net);
    for (const ChannelTrace& trace : trace_channels(graph)) {
      const Channel& channel = net.channels[trace.channel];
      compare_path(trace.signal, {channel.field}, graph, seen);
      compare_path(trace.return_path, feeds_of(net), graph, seen);
      compare_path(trace.common, feeds_of(net), graph, seen);
    }
  }
  EXPECT_GT(seen.complete, 200u);
  EXPECT_GT(seen.passes_open, 50u);
  EXPECT_GT(seen.stops, 200u);
}

bool is_same(const TracedPath& x, const TracedPath& y) {
  const auto all = [](const TracedPath& p) {
    return std::tie(p.verdict, p.from, p.to, p.inferred, p.points, p.elements, p.open_elements,
                    p.opened_by_condition, p.stops_at, p.target_side);
  };
  return all(x) == all(y);
}

bool is_same(const ChannelTrace& x, const ChannelTrace& y) {
  return x.channel == y.channel && is_same(x.signal, y.signal) && is_same(x.return_path, y.return_path) &&
         is_same(x.common, y.common) && x.shares_net_with == y.shares_net_with;
}

/// Modules of 16 channels with one common each, over terminals that daisy chains feed; some wires are
/// missing, some channels share a terminal, some go over a contact.
Netlist large_panel(std::size_t channels) {
  std::mt19937 random(test_seed());
  std::string text = "potential +24V dc+ G1:+\npotential 0V dc- G1:-\n1 G1:+ X1:0.int\n2 G1:- A0:M\n";
  const auto line = [&](auto... words) { ((text += words), ...) += '\n'; };
  for (std::size_t i = 0; i < channels; ++i) {
    const std::string n = std::to_string(i), module = "A" + std::to_string(i / 16), pin = module + ":" + n;
    const std::string terminal = "X2:" + std::to_string(random() % 20 == 0 && i > 0 ? i - 1 : i);
    if (i % 16 == 0 && i > 0) line("M", n, " A", std::to_string(i / 16 - 1), ":M ", module, ":M");
    line("- X1:", n, ".int X1:", std::to_string(i + 1), ".int bridge");
    switch (random() % 10) {
      case 0:
        break;
      case 1:
        line("part K", n, " contact-no 13 14");
        line("S", n, " ", pin, " K", n, ":13");
        line("T", n, " K", n, ":14 ", terminal, ".int");
        break;
      default:
        line("S", n, " ", pin, " ", terminal, ".int");
    }
    line("channel ", pin, " DI ", random() % 8 == 0 ? std::string("-") : terminal,
         " X1:", std::to_string(i % 50), " ", module, ":M");
  }
  return netlist(text);
}

TEST(TraceWays, AreTheSameOneByOneAndByAnyNumberOfThreads) {
  const Netlist net = large_panel(2500);
  const ConductionGraph graph(net);
  const std::vector<ChannelTrace> traces = trace_channels(graph);
  ASSERT_EQ(traces.size(), 2500u);
  for (std::size_t i = 0; i < traces.size(); i += 97)
    EXPECT_TRUE(is_same(traces[i], trace_channel(graph, i))) << i;
  for (const std::size_t threads : {2u, 3u, 7u}) {
    const std::vector<ChannelTrace> others = trace_channels(graph, {threads});
    ASSERT_EQ(others.size(), traces.size());
    for (std::size_t i = 0; i < traces.size(); ++i)
      EXPECT_TRUE(is_same(traces[i], others[i])) << i << " by " << threads << " threads";
  }
}

}  // namespace
}  // namespace ringtrue::testing
