#include "ringtrue/graph/view.hpp"

#include <gtest/gtest.h>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/connected_components.hpp>
#include <cstdlib>
#include <random>
#include <set>
#include <string>

#include "diagnose/landing.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_panel.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using namespace testing;

/// Same partition, whatever the numbers.
void expect_same_nets(const std::vector<std::uint32_t>& oracle, const View& view, const std::string& what) {
  std::map<std::uint32_t, NetId> forth;
  std::map<NetId, std::uint32_t> back;
  for (std::uint32_t p = 0; p < oracle.size(); ++p) {
    const NetId net = view.net(PointId{p});
    EXPECT_EQ(forth.emplace(oracle[p], net).first->second, net)
        << what << " at " << view.graph().netlist().points.name(PointId{p});
    EXPECT_EQ(back.emplace(net, oracle[p]).first->second, oracle[p])
        << what << " at " << view.graph().netlist().points.name(PointId{p});
  }
}

TEST(ViewNets, AreThoseOfANetlistBuiltWithTheChange) {
  const unsigned seed = test_seed();
  for (unsigned round = 0; round < 60; ++round) {
    const std::string text = random_netlist(seed + round);
    const Netlist net = netlist(text);
    const ConductionGraph graph(net);
    const Landing landing(graph);
    std::vector<Fault> faults = every_fault(graph, landing, true);
    std::mt19937 random(seed + round);
    for (int trial = 0; trial < 40 && !faults.empty(); ++trial) {
      const Fault one = faults[random() % faults.size()], two = faults[random() % faults.size()];
      if (!is_compatible(two, {&one, 1}, landing)) continue;
      OraclePanel panel(net);
      panel.inject(one);
      panel.inject(two);
      for (const OracleAct& act : panel.acts()) {
        Overlay overlay = overlay_of(parse_condition(act.text(), net).value(), graph).overlay;
        apply(one, graph, overlay);
        apply(two, graph, overlay);
        expect_same_nets(
            panel.nets(act), View(graph, overlay),
            text_of(one, graph) + ", " + text_of(two, graph) + ", " + act.text() + " in\n" + text);
        if (HasFailure()) FAIL() << "seed " << seed + round;
      }
    }
  }
}

// Boost.Graph as the other opinion on nets at rest.
TEST(GraphNets, EqualBoostsConnectedComponents) {
  const unsigned seed = test_seed();
  for (unsigned round = 0; round < 50; ++round) {
    const Netlist net = netlist(random_netlist(seed + round));
    const ConductionGraph graph(net);
    boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS> other(graph.point_count());
    for (std::uint32_t e = 0; e < graph.element_count(); ++e)
      if (graph.is_hard(ElementId{e}) && graph.is_on_at_rest(ElementId{e}))
        boost::add_edge(index(graph.end_a(ElementId{e})), index(graph.end_b(ElementId{e})), other);
    std::vector<std::uint32_t> component(graph.point_count());
    const auto count = static_cast<std::uint32_t>(boost::connected_components(other, component.data()));
    EXPECT_EQ(graph.net_count(), count);
    expect_same_nets(component, View(graph, Overlay{}), "seed " + std::to_string(seed + round));
  }
}

// The netlist alone goes through all conductors, the graph only through those at the point.
TEST(LiftedEnds, AreTheSameOfTheGraphAndOfTheNetlistAlone) {
  const unsigned seed = test_seed();
  std::size_t found = 0, refused = 0;
  for (unsigned round = 0; round < 40; ++round) {
    const std::string text =
        random_netlist(seed + round) + "1 X1:1.ext X1:1.int\n2 K9:1 X1:1.int\n1 X1:2.int K9:1\n";
    const Netlist net = netlist(text);
    const ConductionGraph graph(net);
    std::set<std::string> points, wires{"nowhere"};
    for (std::uint32_t p = 0; p < net.points.size(); ++p) {
      points.insert(net.points.name(PointId{p}));
      points.insert(std::string(net.points.place_name(net.points.place(PointId{p}))));
    }
    for (std::size_t i = 0; i < net.conductors.size(); ++i) wires.insert(net.conductor_name(i));
    for (const std::string& wire : wires)
      for (const std::string& point : points) {
        const std::string lifted = wire + "@" + point + "=lifted";
        const auto by_graph = parse_condition(lifted, graph), by_netlist = parse_condition(lifted, net);
        ASSERT_EQ(by_graph.has_value(), by_netlist.has_value()) << lifted << " in\n" << text;
        if (by_graph) {
          const Setting &one = by_graph->settings.front(), &other = by_netlist->settings.front();
          EXPECT_EQ(one.conductor, other.conductor) << lifted << " in\n" << text;
          EXPECT_EQ(one.lifted_from, other.lifted_from) << lifted << " in\n" << text;
        } else {
          EXPECT_EQ(to_text(by_graph.error().front()), to_text(by_netlist.error().front()));
        }
        ++(by_graph ? found : refused);
      }
  }
  EXPECT_GT(found, 100u);
  EXPECT_GT(refused, 100u);
}

TEST(ViewNets, ALiftedEndIsAPointOfItsOwn) {
  const Netlist net = netlist("1 K1:A1 K2:A1\n2 K2:A1 K3:A1\n");
  const ConductionGraph graph(net);
  const ConditionOverlay lifted = overlay_of(parse_condition("1@K2:A1=lifted", net).value(), graph);
  const View view(graph, lifted.overlay);
  EXPECT_EQ(view.net(lifted.lifted.front().loose), view.net(point(net, "K1:A1")));
  EXPECT_NE(view.net(point(net, "K1:A1")), view.net(point(net, "K2:A1")));
}

}  // namespace
}  // namespace ringtrue
