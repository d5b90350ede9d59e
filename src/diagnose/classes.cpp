#include "classes.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "fault_sets.hpp"

namespace ringtrue {

namespace {

/// What a set of faults changes in copper. A place counts by its block, or by its point where the set takes a
/// connection out of the block: which of two parallel conductors is gone makes no difference, which of two in
/// a row does.
struct Signature {
  using Pair = std::pair<std::uint32_t, std::uint32_t>;
  std::vector<Pair> gone;  ///< points of drawn connections
  std::vector<Pair> made;  ///< places newly joined
  /// Elements that a condition can open, exchanged contacts, reversed diodes, wrong values.
  std::vector<std::uint32_t> switched;
  std::vector<ReadingId> set_aside;  ///< readings not believed
  friend auto operator<=>(const Signature&, const Signature&) = default;
};

class SignatureOf {
 public:
  SignatureOf(const Landing& landing, bool ohms_were_read)
      : landing_(landing), graph_(landing.graph()), ohms_were_read_(ohms_were_read) {}

  Signature operator()(const std::vector<Fault>& faults) {
    made_ = {};
    touched_.clear();
    for (const Fault& fault : faults) take_away(fault);
    for (const Fault& fault : faults) put_back(fault);
    std::sort(made_.gone.begin(), made_.gone.end());
    std::sort(made_.made.begin(), made_.made.end());
    std::sort(made_.switched.begin(), made_.switched.end());
    std::sort(made_.set_aside.begin(), made_.set_aside.end());
    return std::move(made_);
  }

 private:
  enum Change : std::uint32_t {
    opened,
    exchanged,
    of_wrong_value,
    too_high_to_beep,
    turned_round,
    k_changes
  };

  void take_away(const Fault& fault) {
    switch (fault.kind) {
      case FaultKind::bad_reading:
        made_.set_aside.push_back(fault.reading);
        return;
      case FaultKind::wrong_contact:
        return change(fault.element, exchanged);
      case FaultKind::reversed:
        return change(fault.element, turned_round);
      case FaultKind::wrong_value:
        // A buzzer alone can't tell a joint that is too bad for it from no joint at all.
        if (fault.above && !ohms_were_read_) return take_out(fault.element);
        return change(fault.element, fault.above ? too_high_to_beep : of_wrong_value);
      case FaultKind::open:
      case FaultKind::missing_bridge:
        return take_out(fault.element);
      default:
        for (const LandedEnd& moved : landed_ends(fault, graph_)) take_out(moved.conductor);
    }
  }

  void change(ElementId e, Change how) { made_.switched.push_back(k_changes * index(e) + how); }

  void take_out(ElementId e) {
    const ElementKind kind = graph_.kind(e);
    if (kind == ElementKind::breakable || kind == ElementKind::contact || kind == ElementKind::load)
      return change(e, opened);
    made_.gone.push_back(std::minmax({index(graph_.end_a(e)), index(graph_.end_b(e))}));
    touched_.push_back(landing_.block(graph_.end_a(e)));
  }

  void put_back(const Fault& fault) {
    if (fault.kind == FaultKind::short_circuit || fault.kind == FaultKind::extra_bridge)
      return join(fault.p, fault.q);
    const std::vector<LandedEnd> ends = landed_ends(fault, graph_);
    for (const LandedEnd& moved : ends) {
      const auto too = std::find_if(ends.begin(), ends.end(), [&](const LandedEnd& one) {
        return one.conductor == moved.conductor && one.end != moved.end;
      });
      if (too == ends.end())
        join(landing_.drawn(moved.conductor, moved.end == End::a ? End::b : End::a), moved.at);
      else if (moved.end == End::a)
        join(too->at, moved.at);
    }
  }

  void join(PointId p, PointId q) { made_.made.push_back(std::minmax({place(p), place(q)})); }

  [[nodiscard]] std::uint32_t place(PointId p) const {
    constexpr std::uint32_t k_block = 0x80000000u;
    const std::uint32_t block = landing_.block(p);
    return std::find(touched_.begin(), touched_.end(), block) == touched_.end() ? block | k_block : index(p);
  }

  const Landing& landing_;
  const ConductionGraph& graph_;
  bool ohms_were_read_;
  Signature made_;
  std::vector<std::uint32_t> touched_;
};

/// Exchanging the far ends of two conductors joins the same points as exchanging the near ends.
std::vector<Fault> with_far_ends_exchanged(std::vector<Fault> faults, std::size_t which) {
  Fault& fault = faults[which];
  fault.end = fault.end == End::a ? End::b : End::a;
  fault.end2 = fault.end2 == End::a ? End::b : End::a;
  std::sort(faults.begin(), faults.end());
  return faults;
}

void add_far_end_swaps(Diagnosis& diagnosis) {
  for (std::size_t i = 0; i < diagnosis.faults.size(); ++i) {
    if (diagnosis.faults[i].kind != FaultKind::swap) continue;
    std::vector<Fault> twin = with_far_ends_exchanged(diagnosis.faults, i);
    if (std::find(diagnosis.equivalent.begin(), diagnosis.equivalent.end(), twin) ==
        diagnosis.equivalent.end())
      diagnosis.equivalent.push_back(std::move(twin));
  }
}

/// A joint too bad for a buzzer in the place of each open of copper where no ohms were read.
void add_bad_joints(Diagnosis& diagnosis, const Consistency& consistency, const Costs& costs) {
  for (std::size_t i = 0; i < diagnosis.faults.size(); ++i) {
    const Fault& fault = diagnosis.faults[i];
    const ElementId e = fault.element;
    const bool is_open = fault.kind == FaultKind::open || fault.kind == FaultKind::missing_bridge;
    if (!is_open || !consistency.graph().is_hard(e) || consistency.is_read_in_ohms(e)) continue;
    std::vector<Fault> twin = diagnosis.faults;
    twin[i] = joint_value_fault(e, true);
    std::sort(twin.begin(), twin.end());
    diagnosis.cost -= std::log1p(std::exp(costs.open(e) - costs.wrong_value(e)));
    diagnosis.equivalent.push_back(std::move(twin));
  }
}

bool ohms_were_read(const Scope& scope, const Consistency& consistency) {
  return std::any_of(scope.begin(), scope.end(), [&](ReadingId reading) {
    return consistency.probing(reading).value.kind == ValueKind::ohms;
  });
}

/// The search knows one point of each block; people look for a short, or a wire, where it's nearest.
void show_at_nearest_points(std::vector<Fault>& faults, const Landing& landing) {
  for (Fault& fault : faults) {
    // With other faults about, the points of a block may not be alike.
    if (fault.kind == FaultKind::miswire && faults.size() == 1)
      fault.p = landing.nearest_landing(landing.drawn(fault.element, fault.end), fault.p);
    if (fault.kind != FaultKind::short_circuit || landing.nearness(fault.p, fault.q) == Nearness::neighbour)
      continue;
    std::tie(fault.p, fault.q) = landing.nearest_points(fault.p, fault.q);
    if (fault.q < fault.p) std::swap(fault.p, fault.q);
  }
  std::sort(faults.begin(), faults.end());
}

}  // namespace

std::vector<Diagnosis> merge(std::vector<Explanation> explanations, const Scope& scope,
                             const Consistency& consistency, const Landing& landing, const Costs& costs) {
  std::vector<Diagnosis> diagnoses;
  std::map<Signature, std::size_t> classes;
  SignatureOf signature(landing, ohms_were_read(scope, consistency));
  for (Explanation& explanation : explanations) {
    const auto [at, is_new] = classes.emplace(signature(explanation.items), diagnoses.size());
    if (is_new) {
      Diagnosis diagnosis;
      diagnosis.cost = explanation.cost;
      diagnosis.faults = std::move(explanation.items);
      diagnoses.push_back(std::move(diagnosis));
    } else {
      diagnoses[at->second].equivalent.push_back(std::move(explanation.items));
    }
    Diagnosis& of_class = diagnoses[at->second];
    if (!is_new) of_class.cost -= std::log1p(std::exp(of_class.cost - explanation.cost));
  }
  for (Diagnosis& diagnosis : diagnoses) {
    add_far_end_swaps(diagnosis);
    add_bad_joints(diagnosis, consistency, costs);
    show_at_nearest_points(diagnosis.faults, landing);
    for (std::vector<Fault>& faults : diagnosis.equivalent) show_at_nearest_points(faults, landing);
  }
  return diagnoses;
}

void rank(std::vector<Diagnosis>& diagnoses) {
  std::stable_sort(diagnoses.begin(), diagnoses.end(),
                   [](const Diagnosis& x, const Diagnosis& y) { return x.cost < y.cost; });
  double total = 0;
  for (Diagnosis& diagnosis : diagnoses) {
    diagnosis.probability = std::exp(diagnoses.front().cost - diagnosis.cost);
    total += diagnosis.probability;
  }
  for (std::size_t i = 0; i < diagnoses.size(); ++i) {
    diagnoses[i].probability /= total;
    constexpr double k_same = 1e-9;
    const bool tied = i > 0 && diagnoses[i].cost - diagnoses[i - 1].cost < k_same;
    diagnoses[i].rank = tied ? diagnoses[i - 1].rank : i + 1;
  }
}

}  // namespace ringtrue
