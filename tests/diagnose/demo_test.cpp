// The demo panels: what netlists/*/faults.toml says is wrong has to come out, and nothing else.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <toml++/toml.h>
#include <cstdio>
#include <random>
#include <set>

#include "ringtrue/compare/notes.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_panel.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using namespace testing;

const std::string k_netlists = RINGTRUE_NETLISTS;

struct Demo {
  explicit Demo(const std::string& netlist_path)
      : net(std::move(load_netlist(netlist_path).value())), graph(net), landing(graph) {}
  Findings findings(const Readings& taken) const {
    return diagnose(graph, taken, compare(graph, taken, {}).value());
  }

  ElementId element(const std::string& name) const {
    for (std::uint32_t e = 0; e < graph.element_count(); ++e)
      if (graph.element_name(ElementId{e}) == name) return ElementId{e};
    ADD_FAILURE() << "no element " << name;
    return ElementId::none;
  }
  End end_at(ElementId e, const std::string& p) const {
    return graph.end_a(e) == point(net, p) ? End::a : End::b;
  }

  Fault fault(const toml::table& row) const {
    const auto text = [&](const char* key) { return row[key].value_or(std::string()); };
    const std::string kind = text("kind");
    Fault made;
    if (kind == "open") {
      made.element = element(text("wire").empty() ? text("part") : text("wire"));
    } else if (kind == "missing-bridge") {
      made.kind = FaultKind::missing_bridge;
      for (std::uint32_t i = 0; i < graph.conductor_count(); ++i)
        if (net.points.name(graph.end_a(ElementId{i})) + "-" + net.points.name(graph.end_b(ElementId{i})) ==
            text("bridge"))
          made.element = ElementId{i};
    } else if (kind == "miswire") {
      made.kind = FaultKind::miswire;
      made.element = element(text("wire"));
      made.end = end_at(made.element, text("drawn"));
      made.p = point(net, text("found"));
    } else if (kind == "swap") {
      made.kind = FaultKind::swap;
      made.element = element(text("wire1")), made.element2 = element(text("wire2"));
      made.end = end_at(made.element, text("end1")), made.end2 = end_at(made.element2, text("end2"));
    } else if (kind == "wrong-value") {
      made.kind = FaultKind::wrong_value;
      for (std::uint32_t i = 0; i < net.parts.size(); ++i)
        if (net.points.name(net.parts[i].a) == text("part") + ":" + text("pin"))
          made.element = graph.element_of_part(i);
    } else if (kind == "wrong-contact") {
      made.kind = FaultKind::wrong_contact;
      for (const ElementId contact : graph.contacts())
        if (net.points.name(graph.end_a(contact)) == text("part") + ":" + text("pin")) made.element = contact;
      made.element2 = landing.other_contact(made.element);
    } else {
      const auto* points = row["points"].as_array();
      made.p = point(net, *points->get(0)->value<std::string>()),
      made.q = point(net, *points->get(1)->value<std::string>());
      made.kind = kind == "short" ? FaultKind::short_circuit : FaultKind::extra_bridge;
    }
    return made;
  }

  /// The other side of a terminal that can be parted: without a reading with it parted the two landings are
  /// one.
  bool lands_on_the_same_net(const Fault& one, Fault fault) const {
    if (one.kind != FaultKind::miswire || fault.kind != FaultKind::miswire) return false;
    const bool same_net = graph.net_at_rest(one.p) == graph.net_at_rest(fault.p);
    fault.p = one.p;
    return same_net && one == fault;
  }

  /// Some rank-1 diagnosis of some cluster is, or cannot be told from, this fault alone or among others.
  bool names_first(const Findings& findings, const Fault& fault,
                   bool same_net_is_same_landing = false) const {
    for (const Cluster& cluster : findings.clusters)
      for (const Diagnosis& diagnosis : cluster.diagnoses) {
        if (diagnosis.rank != 1) break;
        std::vector<std::vector<Fault>> all = diagnosis.equivalent;
        all.push_back(diagnosis.faults);
        for (const auto& set : all)
          for (const Fault& one : set)
            if (same_fault(one, fault, landing) ||
                (same_net_is_same_landing && lands_on_the_same_net(one, fault)))
              return true;
      }
    return false;
  }

  std::string first_of(const Findings& findings) const {
    std::string text;
    for (const Cluster& cluster : findings.clusters)
      for (const Diagnosis& diagnosis : cluster.diagnoses) {
        if (diagnosis.rank > 3) break;
        text += "\n " + std::to_string(diagnosis.rank) + " cost " + std::to_string(diagnosis.cost);
        for (const Fault& fault : diagnosis.faults) text += " " + text_of(fault, graph);
      }
    return text;
  }

  Netlist net;
  ConductionGraph graph;
  Landing landing;
};

class DemoPanel : public ::testing::TestWithParam<std::pair<const char*, const char*>> {};

TEST_P(DemoPanel, HasOneClusterPerDocumentedFaultAndNoOther) {
  const auto [folder, netlist_file] = GetParam();
  const Demo demo(k_netlists + "/" + netlist_file);
  const Readings taken = load_readings(k_netlists + "/" + folder + "/readings.csv").value();
  const Findings findings = demo.findings(taken);
  const toml::table faults = toml::parse_file(k_netlists + "/" + folder + "/faults.toml");
  std::size_t visible = 0, hidden = 0;
  for (const auto& node : *faults["fault"].as_array()) {
    const toml::table& row = *node.as_table();
    const Fault fault = demo.fault(row);
    if (row["hidden"].value_or(false)) {
      ++hidden;
      EXPECT_EQ(findings.proven[index(fault.element)], 0)
          << text_of(fault, demo.graph) << " is hidden, so it must not stand as proven";
      continue;
    }
    ++visible;
    EXPECT_TRUE(demo.names_first(findings, fault)) << text_of(fault, demo.graph);
  }
  EXPECT_EQ(findings.clusters.size(), visible);
  EXPECT_EQ(hidden, std::string(folder) == "grain-dryer" ? 1u : 0u);
}

/// The notes on the demo's readings, and what its report says of a reading.
struct NotedDemo {
  explicit NotedDemo(const std::string& file)
      : demo(k_netlists + "/grain-dryer"),
        taken(load_readings(k_netlists + "/grain-dryer/" + file).value()),
        meters(load_meters(k_netlists + "/grain-dryer/meters.csv").value()),
        comparison(compare(demo.graph, taken, {}, meters).value()),
        findings(diagnose(demo.graph, taken, comparison)),
        notes(note_readings(demo.graph, taken, comparison, findings.proven, 200)),
        text(compare_text({demo.graph, taken, comparison, findings, notes, {}}, Detail::everything)) {}

  /// The lines of the report about the first reading between two points, as one line; of several, the last.
  std::string said_of(const std::string& from, const std::string& to, const std::string& value) const {
    std::string said = "nothing";
    for (std::uint32_t i = 0; i < taken.rows.size(); ++i) {
      const Reading& row = taken.rows[i];
      if (row.from != from || row.to != to || to_text(row.value) != value) continue;
      const std::size_t at = text.find("\n  " + taken.name(ReadingId{i}) + " ");
      if (at == std::string::npos) continue;
      said.clear();
      for (std::size_t line = at + 1; text.compare(line, 2, "  ") == 0;) {
        const std::size_t end = text.find('\n', line);
        if (line != at + 1 && text[line + 2] != ' ') break;
        said += text.substr(line + (line == at + 1 ? 2 : 7), end - line - (line == at + 1 ? 2 : 7));
        line = end + 1;
      }
      break;
    }
    return said;
  }

  Demo demo;
  Readings taken;
  Meters meters;
  Comparison comparison;
  Findings findings;
  ReadingNotes notes;
  std::string text;
};

using ::testing::HasSubstr;

TEST(DemoNotes, AFalseBeepIsSaidToBeTheLamps) {
  for (const char* file : {"readings.csv", "readings-good.csv"}) {
    const std::string said = NotedDemo(file).said_of("P5:x1", "P5:x2", "beep");
    EXPECT_THAT(said, HasSubstr("may have come through lamp P5:x1-x2"));
    EXPECT_THAT(said, HasSubstr("Unplug P5"));
  }
}

TEST(DemoNotes, AHiddenOpenIsSaidToBeInARing) {
  const NotedDemo demo("readings.csv");
  const auto hides = [&](const NotedReading& noted) {
    const HiddenBreak& broken = noted.expectation.hidden.front();
    const auto names_504 = [&](ElementId e) {
      return e != ElementId::none && demo.demo.graph.element_name(e) == "504";
    };
    return std::any_of(broken.elements.begin(), broken.elements.end(), names_504) ||
           std::any_of(broken.second.edges.begin(), broken.second.edges.end(),
                       [&](const View::Edge& edge) { return names_504(edge.element); });
  };
  EXPECT_TRUE(std::any_of(demo.notes.hiding.some.begin(), demo.notes.hiding.some.end(), hides));
  EXPECT_THAT(demo.text, HasSubstr("is in a ring with wires 501"));
  // In the good readings one end of the ring was lifted, and nothing is hidden any more.
  EXPECT_EQ(NotedDemo("readings-good.csv").notes.hiding.all, 0u);
}

TEST(DemoNotes, ThreeHundredAndTwentyFiveOhmsAreTwoCoils) {
  for (const char* file : {"readings.csv", "readings-good.csv"})
    EXPECT_THAT(NotedDemo(file).said_of("K21:A1", "K21:A2", "325 Ω"),
                HasSubstr("drawn 292 to 358 Ω, through coils K21:A1-A2, K22:A1-A2 in parallel."));
}

TEST(DemoNotes, AFreewheelDiodeIsToldByThePolarityOfTheLeads) {
  for (const char* file : {"readings.csv", "readings-good.csv"}) {
    const NotedDemo demo(file);
    EXPECT_THAT(demo.said_of("K10:A2", "K10:A1", "69.4 Ω"), HasSubstr("the diode conducts this way round"));
    EXPECT_THAT(demo.said_of("K10:A2", "K10:A1", "69.4 Ω"), HasSubstr("diode V2:A-K"));
    EXPECT_EQ(demo.said_of("K10:A1", "K10:A2", "115 Ω"), "nothing") << "one coil, nothing to explain";
  }
}

TEST_P(DemoPanel, BuiltAsDrawnHasNoFindingAndEveryChannelProven) {
  const auto [folder, netlist_file] = GetParam();
  const Demo demo(k_netlists + "/" + netlist_file);
  const Findings findings =
      demo.findings(load_readings(k_netlists + "/" + folder + "/readings-good.csv").value());
  EXPECT_TRUE(findings.clusters.empty());
  for (const ChannelResult& channel : findings.channels) EXPECT_EQ(channel.state, ChannelState::proven);
}

INSTANTIATE_TEST_SUITE_P(Netlists, DemoPanel,
                         ::testing::Values(std::pair{"quickstart", "quickstart"},
                                           std::pair{"grain-dryer", "grain-dryer"},
                                           std::pair{"grain-dryer", "grain-dryer/netlist.xml"}));

/// Readings of the fault-free file that OraclePanel can take (rest, or one thing done), and those that hunt
/// the faults.
class FiveAtOnce {
 public:
  explicit FiveAtOnce(const Demo& demo)
      : demo_(demo), plan_(load_readings(k_netlists + "/grain-dryer/readings-good.csv").value()) {
    for (const OracleAct& act : OraclePanel(demo.net).acts()) acts_[act.text()] = act;
  }

  Readings take(const std::vector<Fault>& faults) {
    OraclePanel built(demo_.net);
    for (const Fault& fault : faults) built.inject(fault);
    Readings taken;
    std::map<std::string, std::vector<std::uint32_t>> nets;
    for (const Reading& row : plan_.rows) {
      const std::string& condition = plan_.conditions[row.condition];
      if (acts_.count(condition) == 0) continue;
      if (nets.count(condition) == 0) nets[condition] = built.nets(acts_.at(condition));
      const auto& net = nets.at(condition);
      const auto value = [&](PointId p, PointId q) { return net[index(p)] == net[index(q)]; };
      const FoundPoint p = find_point(row.from, demo_.net).value(), q = find_point(row.to, demo_.net).value();
      if (p.side == Side::either || q.side == Side::either) continue;
      add(taken, p.point, q.point, value(p.point, q.point), condition);
    }
    const auto& at_rest = nets.at("");
    for (const Fault& fault : faults) hunt(fault, at_rest, taken);
    return taken;
  }

 private:
  void add(Readings& taken, PointId p, PointId q, bool beeps, const std::string& condition) {
    Reading reading;
    reading.from = names_.emplace_back(demo_.net.points.name(p)),
    reading.to = names_.emplace_back(demo_.net.points.name(q));
    reading.value.kind = beeps ? ValueKind::beep : ValueKind::open;
    auto& conditions = taken.conditions;
    const auto at = std::find(conditions.begin(), conditions.end(), condition);
    reading.condition = static_cast<std::uint16_t>(at - conditions.begin());
    if (at == conditions.end()) conditions.push_back(condition), taken.condition_lines.push_back(1);
    taken.rows.push_back(reading);
  }
  /// From both ends of a suspect conductor to every terminal or pin beside them, and across two joined
  /// points.
  void hunt(const Fault& fault, const std::vector<std::uint32_t>& nets, Readings& taken) {
    std::set<std::pair<PointId, PointId>> pairs;
    for (const ElementId e : {fault.element, fault.element2}) {
      if (e == ElementId::none || !demo_.graph.is_conductor(e)) continue;
      for (const PointId from : {demo_.graph.end_a(e), demo_.graph.end_b(e)})
        for (const PointId beside : {demo_.graph.end_a(e), demo_.graph.end_b(e)})
          for (const PointId to : demo_.landing.points_beside(beside))
            if (to != from) pairs.insert(std::minmax(from, to));
    }
    if (fault.q != PointId::none) pairs.insert(std::minmax(fault.p, fault.q));
    for (const auto& [p, q] : pairs) add(taken, p, q, nets[index(p)] == nets[index(q)], "");
  }

  const Demo& demo_;
  Readings plan_;
  std::map<std::string, OracleAct> acts_;
  std::deque<std::string> names_;
};

TEST(GrainDryer, FiveFaultsAtOnceInDifferentPlacesAreAllNamed) {
  const Demo demo(k_netlists + "/grain-dryer");
  FiveAtOnce panel(demo);
  std::mt19937 random(test_seed());
  const std::vector<Fault> universe = every_fault(demo.graph, demo.landing, false);
  constexpr std::size_t k_rounds = 10;
  for (std::size_t round = 0; round < k_rounds; ++round) {
    // One fault each of five kinds, on nets that no other of them touches, landings and joints on the same
    // part.
    std::vector<Fault> faults;
    std::set<NetId> used;
    for (const FaultKind kind : {FaultKind::open, FaultKind::miswire, FaultKind::swap,
                                 FaultKind::extra_bridge, FaultKind::wrong_contact}) {
      while (true) {
        const Fault& fault = universe[random() % universe.size()];
        if (fault.kind != kind) continue;
        if (kind == FaultKind::open && !demo.graph.is_conductor(fault.element)) continue;
        std::set<NetId> nets;
        std::vector<PointId> points{fault.p, fault.q};
        for (const ElementId e : {fault.element, fault.element2})
          if (e != ElementId::none)
            points.push_back(demo.graph.end_a(e)), points.push_back(demo.graph.end_b(e));
        for (const PointId p : points)
          if (p != PointId::none) nets.insert(demo.graph.net_at_rest(p));
        const auto beside = [&](PointId a, PointId b) {
          return demo.landing.nearness(a, b) != Nearness::elsewhere;
        };
        if (kind == FaultKind::miswire && !beside(demo.landing.drawn(fault.element, fault.end), fault.p))
          continue;
        if (kind == FaultKind::swap && !beside(demo.landing.drawn(fault.element, fault.end),
                                               demo.landing.drawn(fault.element2, fault.end2)))
          continue;
        // On a net with a load that may beep (a diode, a current input) the readings leave more than one
        // explanation.
        const auto may_beep = [&](ElementId load) {
          return demo.graph.interval(load).lo <= MeterSettings{}.threshold;
        };
        const auto unfit = [&](NetId net) {
          const auto loads = demo.graph.loads_of_net(net);
          return used.count(net) != 0 || demo.graph.points_of_net(net).size() > 12 ||
                 std::any_of(loads.begin(), loads.end(), may_beep);
        };
        if (std::any_of(nets.begin(), nets.end(), unfit)) continue;
        used.insert(nets.begin(), nets.end());
        faults.push_back(fault);
        break;
      }
    }
    const Findings findings = demo.findings(panel.take(faults));
    for (const Fault& fault : faults)
      EXPECT_TRUE(demo.names_first(findings, fault, true))
          << text_of(fault, demo.graph) << " in round " << round << demo.first_of(findings);
  }
}

}  // namespace
}  // namespace ringtrue
