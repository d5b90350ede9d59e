#include "universe.hpp"

#include <algorithm>
#include <set>

#include "moves.hpp"

namespace ringtrue {

namespace {

class Universe {
 public:
  Universe(const Consistency& consistency, const Landing& landing, const Costs& costs,
           const ReadingCosts& reading_costs)
      : consistency_(consistency),
        landing_(landing),
        costs_(costs),
        reading_costs_(reading_costs),
        graph_(landing.graph()) {}

  std::vector<Candidate> take() {
    for (std::uint32_t i = 0; i < graph_.element_count(); ++i)
      if (can_conduct(ElementId{i})) add_element(ElementId{i});
    for (std::uint32_t i = 0; i < graph_.conductor_count(); ++i)
      if (landing_.is_movable(ElementId{i})) add_moves(ElementId{i});
    add_shifts();
    add_joints();
    add_readings();
    std::sort(all_.begin(), all_.end(),
              [](const Candidate& x, const Candidate& y) { return x.fault < y.fault; });
    return std::move(all_);
  }

 private:
  void add(const Fault& fault, double cost) { all_.push_back({fault, cost}); }

  /// There in the shop: whatever conducts at rest, and contacts that conditions close.
  [[nodiscard]] bool can_conduct(ElementId e) const {
    if (graph_.is_on_at_rest(e)) return true;
    return graph_.kind(e) == ElementKind::contact &&
           graph_.netlist().parts[graph_.origin(e).row].place != PartPlace::field;
  }

  void add_element(ElementId e) {
    add(element_fault(landing_.open_kind(e), e), costs_.open(e));
    if (graph_.is_diode(e)) add(element_fault(FaultKind::reversed, e), costs_.reversed());
    if (landing_.can_be_of_wrong_value(e))
      add(element_fault(FaultKind::wrong_value, e), costs_.wrong_value(e));
    if (graph_.is_hard(e) && consistency_.is_read_in_ohms(e))
      for (const bool above : {false, true}) add(joint_value_fault(e, above), costs_.wrong_value(e));
    if (graph_.kind(e) != ElementKind::contact || !landing_.can_be_exchanged(e)) return;
    const Fault exchanged = contact_fault(e, landing_);
    if (exchanged.element == e) add(exchanged, costs_.contact());
  }

  void add_moves(ElementId e) {
    for (const End end : {End::a, End::b}) {
      const PointId drawn = landing_.drawn(e, end);
      for (std::uint32_t block = 0; block < landing_.block_count(); ++block) {
        if (block == landing_.block(drawn)) continue;
        const PointId found = landing_.landing(drawn, block);
        add(miswire_fault(e, end, found), costs_.miswire(drawn, landing_.nearness(drawn, found)));
      }
      for (std::uint32_t i = index(e) + 1; i < graph_.conductor_count(); ++i) {
        const ElementId f{i};
        if (!landing_.is_movable(f)) continue;
        for (const End f_end : {End::a, End::b}) {
          const PointId there = landing_.drawn(f, f_end);
          if (landing_.block(there) != landing_.block(drawn))
            add(swap_fault(e, end, f, f_end), costs_.swap(drawn, landing_.nearness(drawn, there)));
        }
      }
    }
  }

  void add_shifts() {
    std::set<Fault> shifts;
    for (std::uint32_t p = 0; p < graph_.point_count(); ++p)
      for (const Fault& shift : landing_.shifts_of(PointId{p})) shifts.insert(shift);
    for (const Fault& shift : shifts) add(shift, costs_.shift(shift));
  }

  void add_joints() {
    for (std::uint32_t one = 0; one < landing_.block_count(); ++one)
      for (std::uint32_t other = one + 1; other < landing_.block_count(); ++other) {
        const Landing::Joint joint = landing_.joint(one, other);
        add(joint_fault(joint.p, joint.q, landing_), costs_.join(joint.p, joint.q));
      }
  }

  void add_readings() {
    const Comparison& comparison = consistency_.comparison();
    for (std::uint32_t i = 0; i < comparison.standing.size(); ++i) {
      const ReadingId reading{i};
      if (consistency_.is_used(reading)) add(bad_reading_fault(reading), reading_costs_.of(reading));
    }
  }

  const Consistency& consistency_;
  const Landing& landing_;
  const Costs& costs_;
  const ReadingCosts& reading_costs_;
  const ConductionGraph& graph_;
  std::vector<Candidate> all_;
};

}  // namespace

std::vector<Candidate> fault_universe(const Consistency& consistency, const Landing& landing,
                                      const Costs& costs, const ReadingCosts& reading_costs) {
  return Universe(consistency, landing, costs, reading_costs).take();
}

}  // namespace ringtrue
