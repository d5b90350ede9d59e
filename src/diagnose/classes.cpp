#include "classes.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace ringtrue {

namespace {

/// What a set of faults changes in copper. A place counts by its block, or by its point where the set takes a
/// connection out of the block: which of two parallel conductors is gone makes no difference, which of two in
/// a row does.
struct Signature {
  using Pair = std::pair<std::uint32_t, std::uint32_t>;
  std::vector<Pair> gone;  ///< points of drawn connections
  std::vector<Pair> made;  ///< places newly joined
  std::vector<std::uint32_t>
      switched;  ///< elements that a condition can open, exchanged contacts, wrong values
  friend auto operator<=>(const Signature&, const Signature&) = default;
};

class SignatureOf {
 public:
  explicit SignatureOf(const Landing& landing) : landing_(landing), graph_(landing.graph()) {}

  Signature operator()(const std::vector<Fault>& faults) {
    made_ = {};
    touched_.clear();
    for (const Fault& fault : faults) take_away(fault);
    for (const Fault& fault : faults) put_back(fault);
    std::sort(made_.gone.begin(), made_.gone.end());
    std::sort(made_.made.begin(), made_.made.end());
    std::sort(made_.switched.begin(), made_.switched.end());
    return std::move(made_);
  }

 private:
  void take_away(const Fault& fault) {
    if (fault.kind == FaultKind::wrong_contact || fault.kind == FaultKind::wrong_value)
      made_.switched.push_back(4 * index(fault.element) + (fault.kind == FaultKind::wrong_value ? 2 : 1));
    else
      for (const ElementId e : {fault.element, fault.element2})
        if (e != ElementId::none) take_out(e);
  }

  void take_out(ElementId e) {
    const ElementKind kind = graph_.kind(e);
    if (kind == ElementKind::breakable || kind == ElementKind::contact || kind == ElementKind::load) {
      made_.switched.push_back(4 * index(e));
      return;
    }
    made_.gone.push_back(std::minmax({index(graph_.end_a(e)), index(graph_.end_b(e))}));
    touched_.push_back(landing_.block(graph_.end_a(e)));
  }

  void put_back(const Fault& fault) {
    const auto stays = [&](ElementId e, End moved) {
      return landing_.drawn(e, moved == End::a ? End::b : End::a);
    };
    switch (fault.kind) {
      case FaultKind::miswire:
        return join(stays(fault.element, fault.end), fault.p);
      case FaultKind::swap:
        join(stays(fault.element, fault.end), landing_.drawn(fault.element2, fault.end2));
        return join(stays(fault.element2, fault.end2), landing_.drawn(fault.element, fault.end));
      case FaultKind::short_circuit:
      case FaultKind::extra_bridge:
        return join(fault.p, fault.q);
      default:
        return;
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

/// The search knows blocks; people look for a short somewhere.
void show_shorts_at_nearest_points(std::vector<Fault>& faults, const Landing& landing) {
  for (Fault& fault : faults) {
    if (fault.kind != FaultKind::short_circuit || landing.nearness(fault.p, fault.q) == Nearness::neighbour)
      continue;
    std::tie(fault.p, fault.q) = landing.nearest_points(fault.p, fault.q);
    if (fault.q < fault.p) std::swap(fault.p, fault.q);
  }
  std::sort(faults.begin(), faults.end());
}

void rank(std::vector<Diagnosis>& diagnoses) {
  double total = 0;
  for (const Diagnosis& diagnosis : diagnoses) total += diagnosis.probability;
  for (std::size_t i = 0; i < diagnoses.size(); ++i) {
    diagnoses[i].probability /= total;
    constexpr double k_same = 1e-9;
    const bool tied = i > 0 && diagnoses[i].cost - diagnoses[i - 1].cost < k_same;
    diagnoses[i].rank = tied ? diagnoses[i - 1].rank : i + 1;
  }
}

}  // namespace

std::vector<Diagnosis> merge_and_rank(std::vector<Explanation> explanations, const Landing& landing) {
  std::vector<Diagnosis> diagnoses;
  std::map<Signature, std::size_t> classes;
  SignatureOf signature(landing);
  const double base = explanations.empty() ? 0 : explanations.front().cost;
  for (Explanation& explanation : explanations) {
    const double weight = std::exp(base - explanation.cost);
    const auto [at, is_new] = classes.emplace(signature(explanation.faults), diagnoses.size());
    if (is_new) {
      Diagnosis diagnosis;
      diagnosis.cost = explanation.cost;
      diagnosis.faults = std::move(explanation.faults);
      diagnoses.push_back(std::move(diagnosis));
    } else {
      diagnoses[at->second].equivalent.push_back(std::move(explanation.faults));
    }
    diagnoses[at->second].probability += weight;
  }
  for (Diagnosis& diagnosis : diagnoses) {
    add_far_end_swaps(diagnosis);
    show_shorts_at_nearest_points(diagnosis.faults, landing);
    for (std::vector<Fault>& faults : diagnosis.equivalent) show_shorts_at_nearest_points(faults, landing);
  }
  rank(diagnoses);
  return diagnoses;
}

}  // namespace ringtrue
