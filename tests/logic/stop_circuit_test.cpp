// The stop circuit of the demo against a table written by hand, its steps against a model of a relay that is
// written here, and outputs whose feed hangs on one.
#include <gtest/gtest.h>

#include <set>

#include "ringtrue/load/load.hpp"
#include "ringtrue/logic/outlet.hpp"
#include "ringtrue/logic/stop_circuit.hpp"

namespace ringtrue::logic {
namespace {

class DryerStop : public testing::Test {
 protected:
  std::vector<std::string> names(const std::vector<ElementId>& elements) const {
    std::vector<std::string> list;
    for (const ElementId e : elements) list.push_back(graph_.element_name(e));
    return list;
  }
  const Netlist netlist_ = load_netlist(RINGTRUE_NETLISTS "/grain-dryer").value();
  const ConductionGraph graph_{netlist_};
  const Fittings fittings_ = fittings_of(graph_, nullptr);
  const std::vector<StopCircuit> circuits_ = stop_circuits(graph_, fittings_);
};
using Names = std::vector<std::string>;

TEST_F(DryerStop, IsThatOfSheetsSixOneToSixSeven) {
  ASSERT_EQ(circuits_.size(), 1u);
  const StopCircuit& circuit = circuits_.front();
  EXPECT_EQ(circuit.relay, "K9");
  ASSERT_EQ(circuit.channels.size(), 2u);
  EXPECT_EQ(names(circuit.channels[0].contacts), (Names{"S1:11-12", "S20:11-12"}));
  EXPECT_EQ(names(circuit.channels[1].contacts), (Names{"S1:21-22", "S20:21-22"}));
  ASSERT_EQ(circuit.resets.size(), 1u);
  EXPECT_EQ(names(circuit.resets[0].contacts), (Names{"S4:13-14", "K10:21-22", "K11:21-22"}));
  Names points;
  for (const PointId p : circuit.channels[0].points) points.push_back(netlist_.points.name(p));
  EXPECT_EQ(points, (Names{"K9:S11", "X11:1.int", "X11:1.ext", "S1:11", "S1:12", "X11:2.ext", "X11:2.int",
                           "X6:1.int", "X6:1.ext", "S20:11", "S20:12", "X6:2.ext", "X6:2.int", "K9:S12"}));
  ASSERT_EQ(circuit.outputs.size(), 2u);
  EXPECT_EQ(graph_.element_name(circuit.outputs[0].coil), "K10:A1-A2");
  EXPECT_EQ(graph_.element_name(circuit.outputs[1].contact), "K9:23-24");
  ASSERT_EQ(circuit.shown_by.size(), 1u);
  EXPECT_EQ(netlist_.channels[circuit.shown_by[0].channel].tag, "STOP_RESET");
  EXPECT_TRUE(circuit.shown_by[0].lit_when_in);
}

TEST_F(DryerStop, BothChannelsOfThePullCordStayApart) {
  const auto& missing = circuits_.front().missing;
  ASSERT_EQ(missing.size(), 2u);
  EXPECT_EQ(netlist_.points.name(missing[0].a.front()), "X6:1.ext");
  EXPECT_EQ(netlist_.points.name(missing[0].b.front()), "X6:2.ext");
  EXPECT_EQ(netlist_.points.name(missing[1].a.front()), "X6:3.ext");
  EXPECT_EQ(netlist_.points.name(missing[1].b.front()), "X6:4.ext");
  EXPECT_EQ(missing_contacts(graph_).size(), 2u);
}

/// A relay that drops when a channel opens and comes in by reset: a strict make only once all channels have
/// been open since.
struct Relay {
  bool is_strict;
  std::set<ElementId> open;
  std::set<std::size_t> opened;  // channels that have been open since it dropped
  bool is_in = false;
  bool has_been_in = false;

  void look(const StopCircuit& circuit) {
    for (std::size_t c = 0; c < circuit.channels.size(); ++c)
      for (const ElementId contact : circuit.channels[c].contacts)
        if (open.contains(contact)) {
          is_in = false;
          opened.insert(c);
        }
  }
  void reset(const StopCircuit& circuit) {
    const bool is_ready = !has_been_in || !is_strict || opened.size() == circuit.channels.size();
    if (!open.empty() || is_in || !is_ready) return;
    is_in = has_been_in = true;
    opened.clear();
  }
};

TEST_F(DryerStop, StepsHoldForEitherMakeAndLeaveItWorking) {
  const StopCircuit& circuit = circuits_.front();
  ASSERT_FALSE(circuit.steps.empty());
  for (const bool is_strict : {false, true}) {
    Relay relay{is_strict, {}, {}};
    for (const MissingContact& missing : circuit.missing) relay.open.insert(missing.contact);
    std::set<ElementId> opened_alone;
    for (const StopStep& step : circuit.steps) {
      std::vector<ElementId> moved = step.contacts;
      for (const StopLoop& loop : circuit.channels)
        for (const ElementId contact : loop.contacts)
          if (!step.device.empty() && netlist_.parts[graph_.origin(contact).row].actuated_by == step.device)
            moved.push_back(contact);
      for (const ElementId contact : moved) {
        using What = StopStep::What;
        if (step.what == What::open || step.what == What::operate) relay.open.insert(contact);
        if (step.what == What::close || step.what == What::release || step.what == What::connect)
          relay.open.erase(contact);
      }
      if (step.what == StopStep::What::open && relay.open.size() == 1)
        opened_alone.insert(*relay.open.begin());
      relay.look(circuit);
      if (step.what == StopStep::What::reset) relay.reset(circuit);
      if (!step.depends_on_make) {
        EXPECT_EQ(relay.is_in, step.is_in) << &step - circuit.steps.data() << is_strict;
      }
    }
    EXPECT_TRUE(relay.is_in && relay.open.empty()) << "left working";
    EXPECT_EQ(opened_alone.size(), circuit.missing.size()) << "each channel alone";
  }
}

/// A relay K9 whose rows other than its electronics carry no role, and 24 V behind its contact declared as a
/// potential of its own, or not.
Netlist behind_relay(const std::string& role, bool is_declared, const std::string& feed) {
  const std::string potentials = std::string("name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n") +
                                 (is_declared ? "+24V stop,dc+,24,X9:1.ext\n" : "");
  const StoredFiles files(
      {{"p/conductors.csv",
        "wire,from,to\n1,G1:+,K9:13\n2,K9:14,X9:1.int\n3," + feed + ",A1:L\n4,A1:1,K1:A1\n5,K1:A2,G1:-\n"},
       {"p/parts.csv", "part,kind,a,b,role\nG1,supply,+,-,\nK9,electronics,S11,S12," + role +
                           "\nK9,contact-no,13,14,\nX9:1,terminal,int,ext,\nK1,coil,A1,A2,\n"},
       {"p/potentials.csv", potentials},
       {"p/channels.csv", "point,type,tag,field,return,common\nA1:1,DO,MOTOR,K1:A1,K1:A2,A1:L\n"}});
  return load_netlist("p", {}, files).value();
}

Role role_behind(const std::string& role, bool is_declared, const std::string& feed) {
  const Netlist netlist = behind_relay(role, is_declared, feed);
  const ConductionGraph graph(netlist);
  return outlet_of(graph, 0).role;
}

TEST(StopFeed, PastAContactOfTheRelayIsFound) {
  for (const bool is_declared : {false, true}) {
    EXPECT_EQ(role_behind("stop", is_declared, "X9:1.ext"), Role::stop) << is_declared;
    EXPECT_EQ(role_behind("guard", is_declared, "X9:1.ext"), Role::guard) << is_declared;
    EXPECT_EQ(role_behind("", is_declared, "X9:1.ext"), Role::none) << is_declared;
    EXPECT_EQ(role_behind("stop", is_declared, "G1:+"), Role::none) << is_declared;
  }
}

/// A pull cord in the field that feeds an output directly, without a relay.
TEST(StopFeed, WhatIsNotHereIsListedWithoutARelayToo) {
  const StoredFiles files(
      {{"p/conductors.csv",
        "wire,from,to,kind\n1,G1:+,X6:1.int,wire\n,X6:1.ext,S20:11,core\n,X6:2.ext,S20:12,core\n"
        "2,X6:2.int,A1:L,wire\n3,A1:1,K1:A1,wire\n4,K1:A2,G1:-,wire\n"},
       {"p/parts.csv",
        "part,kind,a,b,place,role\nG1,supply,+,-,,\nX6:1,terminal,int,ext,,\nX6:2,terminal,int,ext,,\n"
        "S20,contact-nc,11,12,field,stop\nK1,coil,A1,A2,,\n"},
       {"p/potentials.csv", "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n"},
       {"p/channels.csv", "point,type,tag,field,return,common\nA1:1,DO,MOTOR,K1:A1,K1:A2,A1:L\n"}});
  const Netlist netlist = load_netlist("p", {}, files).value();
  const ConductionGraph graph(netlist);
  EXPECT_EQ(outlet_of(graph, 0).role, Role::stop);
  const auto circuits = stop_circuits(graph, fittings_of(graph, nullptr));
  ASSERT_EQ(circuits.size(), 1u);
  EXPECT_TRUE(circuits[0].relay.empty() && circuits[0].channels.empty());
  ASSERT_EQ(circuits[0].missing.size(), 1u);
  EXPECT_EQ(netlist.points.name(circuits[0].missing[0].a.front()), "X6:1.ext");
  EXPECT_EQ(netlist.points.name(circuits[0].missing[0].b.front()), "X6:2.ext");
}

}  // namespace
}  // namespace ringtrue::logic
