#include "power/sources.hpp"

#include <gtest/gtest.h>

#include <map>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;
using namespace power;

/// Origins by name, with how they are fed, their system and volts against its reference.
class FindingSources : public ::testing::Test {
 protected:
  void find(const std::string& rows) {
    net_ = netlist(rows);
    const ConductionGraph graph(net_);
    std::vector<std::uint32_t> whole;
    for (std::uint32_t p = 0; p < graph.point_count(); ++p)
      whole.push_back(static_cast<std::uint32_t>(index(graph.net_at_rest(PointId{p}))));
    found_ = find_sources(graph, whole);
    by_name_.clear();
    for (std::size_t i = 0; i < found_.origins.size(); ++i)
      by_name_[std::string(net_.potentials[found_.origins[i].potential].name)] = i;
  }
  [[nodiscard]] const Origin& at(const std::string& name) const { return found_.origins[by_name_.at(name)]; }
  [[nodiscard]] std::string reference(const std::string& name) const {
    const PointId p = found_.systems[at(name).system].reference;
    return p == PointId::none ? "none" : net_.points.name(p);
  }

  Netlist net_;
  Sources found_;
  std::map<std::string, std::size_t> by_name_;
};

TEST_F(FindingSources, ASupplyIsFedByItsIncomingRowsOrAlwaysOrFromOutside) {
  find(
      "part G1 input 3 4\npart G1 supply 1 2\n1 X0:1.int G1:3\npotential +24V1 dc+ G1:1 24\npotential 0V1 "
      "dc- G1:2\n"
      "part G2 input 3 4\npart G2 supply 1 2\npotential +24V2 dc+ G2:1 24\npotential 0V2 dc- G2:2\n"
      "part G3 supply 1 2\npotential +24V3 dc+ G3:1 24\npotential 0V3 dc- G3:2\n"
      "potential L1 ac-line X0:1.ext 230\npotential N ac-neutral X0:2.ext 0\n");
  EXPECT_EQ(at("+24V1").fed, Fed::inputs);
  EXPECT_EQ(at("+24V2").fed, Fed::outside) << "its incoming pins lead nowhere: what feeds it isn't drawn";
  EXPECT_EQ(at("+24V3").fed, Fed::always);
  EXPECT_EQ(at("L1").fed, Fed::outside);
  EXPECT_EQ(reference("+24V1"), "G1:2");
  EXPECT_EQ(reference("+24V3"), "G3:2");
  EXPECT_EQ(reference("L1"), "X0:2.ext");
  EXPECT_NE(at("+24V1").system, at("+24V3").system);
}

TEST_F(FindingSources, APlaceBehindAFuseIsNoSourceOfItsOwn) {
  find(
      "part G1 supply 1 2\npart F1 fuse 1 2\n1 G1:1 F1:1\n2 F1:2 X1:1.int\n"
      "potential +24V dc+ G1:1 24\npotential +24VA dc+ X1:1.int 24\npotential 0V dc- G1:2\n");
  EXPECT_EQ(found_.origins.size(), 2u);
  EXPECT_FALSE(by_name_.contains("+24VA"));
}

TEST_F(FindingSources, ASecondIncomingSupplyIsOneThoughBreakersCouldJoinItToTheFirst) {
  const std::string first = "part Q1 breaker 1 2\npotential L1 ac-line X0:1.ext 230\n1 X0:1.int Q1:1\n";
  find(first +
       "part Q2 breaker 1 2\n2 X0:2.int Q2:1\n3 Q1:2 Q2:2\npotential L1B ac-line X0:2.ext 230\n"
       "potential N ac-neutral X0:3.ext\n");
  ASSERT_TRUE(by_name_.contains("L1B"));
  EXPECT_EQ(at("L1B").fed, Fed::outside);
  EXPECT_FALSE(found_.are_alike(by_name_["L1"], by_name_["L1B"])) << "perhaps of another phase";
  find(first + "2 Q1:2 X1:1.int\n3 X1:1.ext M1:1\npotential L1C ac-line X1:1.int 230\n");
  EXPECT_FALSE(by_name_.contains("L1C")) << "it leads on";
  find(first + "2 X0:1.int X1:1.int\npotential L1D ac-line X1:1.int 230\n");
  EXPECT_FALSE(by_name_.contains("L1D")) << "the same copper, whatever is open";
}

TEST_F(FindingSources, ATransformerIsFedByItsPrimaryAndMakesASystem) {
  find(
      "part T1 transformer 1 2\npart T1 transformer 3 4\n1 X0:1.int T1:1\n"
      "potential 24VAC ac-line T1:3 24\npotential 0VAC ac-neutral T1:4\n"
      "potential L1 ac-line X0:1.ext 230\npotential N ac-neutral X0:2.ext\n");
  EXPECT_EQ(at("24VAC").fed, Fed::inputs);
  EXPECT_EQ(at("24VAC").inputs.size(), 1u);
  EXPECT_EQ(reference("24VAC"), "T1:4");
  EXPECT_EQ(reference("L1"), "X0:2.ext");
}

TEST_F(FindingSources, WithoutOneReferenceNothingIsStated) {
  find("potential L1 ac-line X0:1.ext 230\npotential L2 ac-line X0:2.ext 230\n1 X0:1.int X1:1.int\n");
  EXPECT_EQ(reference("L1"), "none");
  find("potential +A dc+ X0:1.ext 24\npotential -A dc- X0:2.ext 0\npotential -B dc- X0:3.ext 0\n");
  EXPECT_EQ(reference("+A"), "none");
}

TEST_F(FindingSources, LinesAreThreePhaseIfThreeAreEqual) {
  const std::string two =
      "potential L1 ac-line X0:1.ext 230\npotential L2 ac-line X0:2.ext 230\npotential N ac-neutral "
      "X0:4.ext\n";
  find(two + "potential L3 ac-line X0:3.ext 230\n");
  EXPECT_TRUE(found_.systems[at("L1").system].three_phase);
  EXPECT_FALSE(found_.are_alike(by_name_["L1"], by_name_["L2"])) << "equal volts, another phase";
  find(two);
  EXPECT_FALSE(found_.systems[at("L1").system].three_phase);
  find(two + "potential L3 ac-line X0:3.ext 208\n");
  EXPECT_FALSE(found_.systems[at("L1").system].three_phase);
}

}  // namespace
}  // namespace ringtrue
