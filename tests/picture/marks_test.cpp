#include "picture/marks.hpp"

#include "report/report_support.hpp"

namespace ringtrue::picture {
namespace {

using testing_support::SmallPanel;

Diagnosis diagnosis(std::vector<Fault> faults) {
  Diagnosis made;
  made.faults = std::move(faults);
  return made;
}

Fault open(ElementId element) {
  Fault fault;
  fault.element = element;
  return fault;
}

Fault joined_to(PointId p, PointId q) {
  Fault fault;
  fault.kind = FaultKind::short_circuit;
  fault.p = p;
  fault.q = q;
  return fault;
}

Fault swapped(ElementId element, ElementId other) {
  Fault fault;
  fault.kind = FaultKind::swap;
  fault.element = element;
  fault.element2 = other;
  return fault;
}

class MarksTest : public ::testing::Test {
 protected:
  MarksTest() {
    panel_.wire("5", "X1:1.int", "K1:A1").wire("6", "X1:2.int", "K1:A2");
    findings_.proven.assign(graph().element_count(), 0);
  }
  const ConductionGraph& graph() { return panel_.graph(); }
  void found(std::vector<Diagnosis> diagnoses) {
    findings_.clusters.emplace_back();
    findings_.clusters.back().diagnoses = std::move(diagnoses);
  }
  std::string at(ElementId element) { return Marks(graph(), &findings_).of(element).text(); }
  std::string at(PointId point) { return Marks(graph(), &findings_).of(point).text(); }

  const ElementId five_{0}, six_{1};
  Findings findings_;

 private:
  SmallPanel panel_;
};

TEST_F(MarksTest, OneCauseOfSeveralFindingsIsSaidOnce) {
  found({diagnosis({open(five_)})});
  found({diagnosis({open(five_)})});
  EXPECT_EQ(at(five_), "faulty: open, findings 1, 2");
}

TEST_F(MarksTest, CausesOfDifferentFindingsAreToldApart) {
  found({diagnosis({open(five_)})});
  found({diagnosis({swapped(five_, six_)})});
  EXPECT_EQ(at(five_), "faulty: open (finding 1); swap (finding 2)");
  EXPECT_EQ(at(six_), "faulty: swap, finding 2");
}

TEST_F(MarksTest, AlternativesOfAFindingAreJoinedByOrFaultsOfOneByAnd) {
  const PointId clamp = graph().end_a(five_), one = graph().end_b(five_), other = graph().end_b(six_);
  found({diagnosis({joined_to(clamp, one), joined_to(clamp, other)})});
  EXPECT_EQ(at(clamp), "faulty: short to K1:A1 and short to K1:A2, finding 1");
  findings_.clusters.clear();
  found({diagnosis({joined_to(clamp, one)}), diagnosis({joined_to(clamp, other)})});
  EXPECT_EQ(at(clamp), "faulty: short to K1:A1 or short to K1:A2, finding 1");
}

}  // namespace
}  // namespace ringtrue::picture
