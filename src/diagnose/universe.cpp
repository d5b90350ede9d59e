#include "universe.hpp"

#include <algorithm>
#include <set>

#include "moves.hpp"

namespace ringtrue {

namespace {

/// Makes every fault once, in no order.
class Universe {
 public:
  Universe(const Consistency& consistency, const Landing& landing, const VisitFault& visit)
      : consistency_(consistency), landing_(landing), graph_(landing.graph()), visit_(visit) {}

  void make() {
    for (std::uint32_t i = 0; i < graph_.element_count(); ++i)
      if (can_conduct(ElementId{i})) visit_element(ElementId{i});
    for (std::uint32_t i = 0; i < graph_.conductor_count(); ++i)
      if (landing_.is_movable(ElementId{i})) visit_moves(ElementId{i});
    visit_shifts();
    visit_joints();
    visit_readings();
  }

 private:
  /// There in the shop: whatever conducts at rest, and contacts that conditions close.
  [[nodiscard]] bool can_conduct(ElementId e) const {
    if (graph_.is_on_at_rest(e)) return true;
    return graph_.kind(e) == ElementKind::contact &&
           graph_.netlist().parts[graph_.origin(e).row].place != PartPlace::field;
  }

  void visit_element(ElementId e) {
    visit_(element_fault(landing_.open_kind(e), e));
    if (graph_.is_diode(e)) visit_(element_fault(FaultKind::reversed, e));
    if (landing_.can_be_of_wrong_value(e)) visit_(element_fault(FaultKind::wrong_value, e));
    if (graph_.is_hard(e) && consistency_.is_read_in_ohms(e))
      for (const bool above : {false, true}) visit_(joint_value_fault(e, above));
    if (graph_.kind(e) != ElementKind::contact || !landing_.can_be_exchanged(e)) return;
    const Fault exchanged = contact_fault(e, landing_);
    if (exchanged.element == e) visit_(exchanged);
  }

  void visit_moves(ElementId e) {
    for (const End end : {End::a, End::b}) {
      const PointId drawn = landing_.drawn(e, end);
      for (std::uint32_t block = 0; block < landing_.block_count(); ++block)
        if (block != landing_.block(drawn)) visit_(miswire_fault(e, end, landing_.landing(drawn, block)));
      for (std::uint32_t i = index(e) + 1; i < graph_.conductor_count(); ++i)
        if (landing_.is_movable(ElementId{i})) visit_swaps(e, end, ElementId{i});
    }
  }

  void visit_swaps(ElementId e, End end, ElementId f) {
    for (const End f_end : {End::a, End::b})
      if (landing_.block(landing_.drawn(f, f_end)) != landing_.block(landing_.drawn(e, end)))
        visit_(swap_fault(e, end, f, f_end));
  }

  void visit_shifts() {
    std::set<Fault> shifts;
    for (std::uint32_t p = 0; p < graph_.point_count(); ++p)
      for (const Fault& shift : landing_.shifts_of(PointId{p})) shifts.insert(shift);
    for (const Fault& shift : shifts) visit_(shift);
  }

  void visit_joints() {
    for (std::uint32_t one = 0; one < landing_.block_count(); ++one)
      for (std::uint32_t other = one + 1; other < landing_.block_count(); ++other) {
        const Joint joint = landing_.joint(one, other);
        visit_(joint_fault(joint.p, joint.q, landing_));
      }
  }

  void visit_readings() {
    const Comparison& comparison = consistency_.comparison();
    for (std::uint32_t i = 0; i < comparison.standing.size(); ++i)
      if (consistency_.is_used(ReadingId{i})) visit_(bad_reading_fault(ReadingId{i}));
  }

  const Consistency& consistency_;
  const Landing& landing_;
  const ConductionGraph& graph_;
  const VisitFault& visit_;
};

}  // namespace

void for_each_fault(const Consistency& consistency, const Landing& landing, const VisitFault& visit) {
  Universe(consistency, landing, visit).make();
}

std::vector<Candidate> fault_universe(const Consistency& consistency, const Landing& landing,
                                      const Costs& costs, const ReadingCosts& reading_costs) {
  std::vector<Candidate> all;
  for_each_fault(consistency, landing, [&](const Fault& fault) {
    const bool is_reading = fault.kind == FaultKind::bad_reading;
    all.push_back({fault, is_reading ? reading_costs.of(fault.reading) : costs.of(fault)});
  });
  std::sort(all.begin(), all.end(), [](const Candidate& x, const Candidate& y) { return x.fault < y.fault; });
  return all;
}

}  // namespace ringtrue
