// Jumper verdicts against the rules written once more without the library's graph, and against every state
// of the contacts: nothing unsafe may be offered or held.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "ringtrue/io/jumper_verdict.hpp"
#include "ringtrue/load/load.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_jumper.hpp"
#include "tests/support/random_io_panel.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using namespace testing;

constexpr unsigned k_panels = 100;

std::set<std::string> refusals(const JumperVerdict& verdict) {
  std::set<std::string> ids;
  for (const WhyJumper& why : verdict.why)
    if (is_refusal(why.reason)) ids.insert(std::string(word(why.reason)));
  return ids;
}

/// Both sides of every terminal of the strips.
std::vector<PointId> strip_points(const Netlist& net) {
  std::vector<PointId> points;
  for (const Part& part : net.parts)
    if (part.strip_like) points.insert(points.end(), {part.a, part.b});
  for (const PlaceId place : net.implied_terminals)
    points.insert(points.end(),
                  {net.points.point(place, Side::internal), net.points.point(place, Side::external)});
  return points;
}

struct Counts {
  std::size_t pairs = 0, refused = 0;
  std::map<std::string, std::size_t> by_reason;
};

/// Every pair of strip points: the reasons, not only the answer.
void check_pairs(const Netlist& net, Counts& counts) {
  const ConductionGraph graph(net);
  const JumperJudge judge(graph, {60, "Somebody"});
  const OracleJumper oracle(net);
  const std::vector<PointId> points = strip_points(net);
  for (std::size_t i = 0; i < points.size(); ++i)
    for (std::size_t j = i + 1; j < points.size(); ++j) {
      const std::string a = net.points.name(points[i]), b = net.points.name(points[j]);
      const JumperVerdict verdict = judge.between(points[i], points[j]);
      const std::set<std::string> expected = oracle.refusals(a, b);
      ASSERT_EQ(refusals(verdict), expected) << a << " " << b;
      ASSERT_EQ(verdict.answer, expected.empty() ? JumperAnswer::hold : JumperAnswer::refused)
          << a << " " << b;
      ++counts.pairs;
      if (!expected.empty()) ++counts.refused;
      for (const std::string& id : expected) ++counts.by_reason[id];
    }
}

TEST(JumperVerdict, EveryPairOfTheGrainDryerAsTheRulesSay) {
  Counts counts;
  const Netlist net = std::move(load_netlist(std::string(RINGTRUE_NETLISTS) + "/grain-dryer").value());
  ASSERT_NO_FATAL_FAILURE(check_pairs(net, counts));
  EXPECT_GT(counts.pairs, 10'000u);
  for (const char* id : {"joins-potentials", "joins-role-pins", "on-role-net", "on-driven-net",
                         "potential-not-dc", "potential-unknown"})
    EXPECT_GT(counts.by_reason[id], 0u) << id;
  EXPECT_LT(counts.refused, counts.pairs);
}

TEST(JumperVerdict, EveryPairOfTheQuickstartAsTheRulesSay) {
  Counts counts;
  const Netlist net = std::move(load_netlist(std::string(RINGTRUE_NETLISTS) + "/quickstart").value());
  ASSERT_NO_FATAL_FAILURE(check_pairs(net, counts));
  EXPECT_GT(counts.refused, 0u);
  EXPECT_LT(counts.refused, counts.pairs);
}

TEST(JumperVerdict, EveryPairOfRandomPanelsAsTheRulesSay) {
  Counts counts;
  for (unsigned i = 0; i < k_panels; ++i) {
    SCOPED_TRACE(i);
    const Netlist net = random_io_panel(test_seed() * 1000 + i);
    ASSERT_NO_FATAL_FAILURE(check_pairs(net, counts));
  }
  for (const char* id :
       {"joins-potentials", "joins-role-pins", "on-role-net", "on-driven-net", "potential-not-dc",
        "potential-unknown", "potential-above-limit", "across-closed-contact"})
    EXPECT_GT(counts.by_reason[id], 50u) << id;
  EXPECT_GT(counts.pairs - counts.refused, 200u);
}

enum class Diodes { block, may_conduct };

/// Every state of the contacts of a small panel, with what has a role open, closed, or both.
class EveryState {
 public:
  EveryState(const OracleJumper& oracle, std::initializer_list<bool> roles_closed,
             Diodes diodes = Diodes::block) {
    std::vector<std::size_t> moved;
    for (std::size_t i = 0; i < oracle.edges().size(); ++i)
      if (oracle.edges()[i].is_contact || (oracle.edges()[i].is_diode && diodes == Diodes::may_conduct))
        moved.push_back(i);
    for (std::size_t bits = 0; bits < std::size_t{1} << moved.size(); ++bits)
      for (const bool with_roles : roles_closed) {
        std::set<const OracleJumper::Edge*> open;
        for (std::size_t i = 0; i < moved.size(); ++i)
          if ((bits >> i & 1u) == 0) open.insert(&oracle.edges()[moved[i]]);
        const OracleJumper::Labels labels = oracle.labels([&](const OracleJumper::Edge& e) {
          return (!e.is_diode || diodes == Diodes::may_conduct) && open.count(&e) == 0 &&
                 (with_roles || !e.has_role);
        });
        std::vector<std::size_t>& state = states_.emplace_back();
        for (const std::string& name : oracle.names()) state.push_back(labels.at(name));
      }
  }

  /// In some state the jumper from a to b joins p and q, which aren't joined without it.
  [[nodiscard]] bool joins(PointId a, PointId b, PointId p, PointId q) const {
    return std::any_of(states_.begin(), states_.end(), [&](const std::vector<std::size_t>& state) {
      const auto net = [&](PointId point) { return state[index(point)]; };
      return net(p) != net(q) &&
             ((net(p) == net(a) && net(q) == net(b)) || (net(p) == net(b) && net(q) == net(a)));
    });
  }

  /// In some state p is on the net of q, and none of `others` is.
  [[nodiscard]] bool is_alone_with(PointId p, PointId q, const std::vector<PointId>& others) const {
    return std::any_of(states_.begin(), states_.end(), [&](const std::vector<std::size_t>& state) {
      const std::size_t net = state[index(p)];
      return net == state[index(q)] && std::none_of(others.begin(), others.end(), [&](PointId other) {
               return state[index(other)] == net;
             });
    });
  }

 private:
  std::vector<std::vector<std::size_t>> states_;  ///< by state and point
};

TEST(JumperVerdict, NothingUnsafeInAnyStateOfTheContactsIsHeldOrOffered) {
  std::size_t unsafe = 0, held = 0, driven = 0, switched = 0;
  for (unsigned i = 0; i < k_panels; ++i) {
    SCOPED_TRACE(i);
    const Netlist net = random_io_panel(test_seed() * 1000 + i);
    const ConductionGraph graph(net);
    const JumperJudge judge(graph);
    const OracleJumper oracle(net);
    const EveryState states(oracle, {false, true}), roles_open(oracle, {false});
    std::vector<std::pair<PointId, PointId>> apart;
    for (const auto& [p, q] : oracle.role_pins()) apart.emplace_back(point(net, p), point(net, q));
    for (const Potential& p : net.potentials)
      for (const Potential& q : net.potentials)
        if (p.name < q.name) apart.emplace_back(p.point, q.point);
    std::vector<PointId> origins;
    for (const Potential& potential : net.potentials) origins.push_back(potential.point);
    const std::vector<PointId> points = strip_points(net);
    // Where a potential is on an output's net the output has it with or without a jumper.
    const auto is_driven = [&](PointId p) {
      return std::any_of(oracle.driven().begin(), oracle.driven().end(), [&](const std::string& name) {
        return states.is_alone_with(p, point(net, name), origins);
      });
    };
    const auto is_hot = [&](PointId p) {
      return std::any_of(net.potentials.begin(), net.potentials.end(), [&](const Potential& potential) {
        const bool is_dc =
            potential.kind == PotentialKind::dc_plus || potential.kind == PotentialKind::dc_minus;
        return !(is_dc && potential.volts <= 60) && roles_open.is_alone_with(p, potential.point, {});
      });
    };
    const OracleJumper::Labels closed =
        oracle.labels([](const OracleJumper::Edge& e) { return !e.has_role && !e.is_diode; });
    std::map<PointId, bool> is_output, is_never, is_switched;
    for (const PointId p : points) {
      is_output[p] = is_driven(p);
      is_never[p] = is_output[p] || is_hot(p);
      is_switched[p] = std::any_of(
          oracle.driven().begin(), oracle.driven().end(),
          [&](const std::string& name) { return closed.at(name) == closed.at(net.points.name(p)); });
    }
    for (std::size_t x = 0; x < points.size(); ++x)
      for (std::size_t y = x + 1; y < points.size(); ++y) {
        const PointId a = points[x], b = points[y];
        const bool is_refused = judge.between(a, b).answer == JumperAnswer::refused;
        if (!is_refused) ++held;
        if (is_output[a] || is_output[b]) ++driven;
        if (!is_refused && (is_switched[a] || is_switched[b])) ++switched;
        ASSERT_FALSE(!is_refused && (is_never[a] || is_never[b]))
            << net.points.name(a) << " " << net.points.name(b)
            << " is on an output, AC, PE, more than 60 V, or volts that nobody states";
        for (const auto& [p, q] : apart) {
          if (!states.joins(a, b, p, q)) continue;
          ++unsafe;
          ASSERT_TRUE(is_refused) << net.points.name(a) << " " << net.points.name(b) << " would join "
                                  << net.points.name(p) << " and " << net.points.name(q);
          break;
        }
      }
  }
  EXPECT_GT(unsafe, 1000u);
  EXPECT_GT(driven, 1000u);
  EXPECT_GT(switched, 0u);  // a contact from a potential to an output leaves jumpers at the potential
  EXPECT_GT(held, 200u);
}

/// What is refused for being newly joined is newly joined in some state, and the other way round.
TEST(JumperVerdict, NewlyJoinedIsWhatSomeStateOfTheContactsJoins) {
  std::size_t joined = 0, through_contacts = 0;
  for (unsigned i = 0; i < k_panels; ++i) {
    SCOPED_TRACE(i);
    const Netlist net = random_io_panel(test_seed() * 1000 + i);
    const ConductionGraph graph(net);
    const JumperJudge judge(graph);
    const OracleJumper oracle(net);
    const EveryState states(oracle, {false}, Diodes::may_conduct);
    const OracleJumper::Labels closed =
        oracle.labels([](const OracleJumper::Edge& e) { return !e.has_role && !e.is_diode; });
    const std::vector<PointId> points = strip_points(net);
    for (std::size_t x = 0; x < points.size(); ++x)
      for (std::size_t y = x + 1; y < points.size(); ++y) {
        const PointId a = points[x], b = points[y];
        const JumperVerdict verdict = judge.between(a, b);
        const auto joins = [&](PointId p, PointId q) { return states.joins(a, b, p, q); };
        const bool joins_pins = std::any_of(
            oracle.role_pins().begin(), oracle.role_pins().end(),
            [&](const auto& pins) { return joins(point(net, pins.first), point(net, pins.second)); });
        ASSERT_EQ(verdict.has(JumperReason::joins_role_pins), joins_pins)
            << net.points.name(a) << " " << net.points.name(b);
        bool joins_potentials = false;
        for (const auto& [p, p_name] : oracle.live_points())
          for (const auto& [q, q_name] : oracle.live_points())
            joins_potentials = joins_potentials || (p_name < q_name && joins(point(net, p), point(net, q)));
        ASSERT_EQ(verdict.has(JumperReason::joins_potentials), joins_potentials)
            << net.points.name(a) << " " << net.points.name(b);
        if (!joins_pins && !joins_potentials) continue;
        ++joined;
        if (closed.at(net.points.name(a)) == closed.at(net.points.name(b))) ++through_contacts;
      }
  }
  EXPECT_GT(joined, 1000u);
  EXPECT_GT(through_contacts, 20u);
}

TEST(JumperVerdict, ChannelsOfRandomPanelsAsTheRulesSay) {
  std::map<JumperAnswer, std::size_t> answers;
  for (unsigned i = 0; i < k_panels; ++i) {
    SCOPED_TRACE(i);
    const Netlist net = random_io_panel(test_seed() * 1000 + i);
    const ConductionGraph graph(net);
    const OracleJumper oracle(net);
    Findings proven;  // everything proven: what is left to hold is what the drawing doesn't say
    proven.channels.resize(net.channels.size());
    for (ChannelResult& channel : proven.channels) channel.state = ChannelState::proven;
    for (std::size_t c = 0; c < net.channels.size(); ++c) {
      if (net.channels[c].type != ChannelType::DI) continue;
      const ChannelTrace trace = trace_channel(graph, c);
      const std::set<std::string> expected = oracle.channel_refusals(net.channels[c]);
      const JumperVerdict bare = JumperJudge(graph).for_channel(trace, nullptr);
      const JumperVerdict taken = JumperJudge(graph, {60, "A. Tester"}).for_channel(trace, nullptr);
      const JumperVerdict known = JumperJudge(graph).for_channel(trace, &proven);
      for (const JumperVerdict* verdict : {&bare, &taken, &known}) EXPECT_EQ(refusals(*verdict), expected);
      const JumperAnswer at_best = expected.empty() ? JumperAnswer::hold : JumperAnswer::refused;
      EXPECT_EQ(bare.answer, at_best);
      EXPECT_EQ(taken.answer, expected.empty() ? JumperAnswer::offered : JumperAnswer::refused);
      EXPECT_EQ(taken.unproven_by, expected.empty() ? "A. Tester" : "");
      EXPECT_EQ(known.has(JumperReason::safety_not_stated), net.panel.safety == Safety::not_stated);
      if (expected.empty()) {
        EXPECT_EQ(known.answer, known.why.empty() ? JumperAnswer::offered : JumperAnswer::hold);
      }
      ++answers[known.answer];
    }
  }
  EXPECT_GT(answers[JumperAnswer::refused], 50u);
  EXPECT_GT(answers[JumperAnswer::hold], 0u);
}

}  // namespace
}  // namespace ringtrue
