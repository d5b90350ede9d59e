// The search against brute force: every set of up to two faults of the printed universe is tried on random
// small panels, with the panel simulated by OraclePanel. Every set that the search gives has to explain the
// readings, and none that explains them may be missing, one landing per block; sets in which one fault parts
// the block on which another lands are counted apart.
#include "diagnose/search.hpp"

#include <gtest/gtest.h>

#include <cstdio>
#include <set>

#include "tests/diagnose/universe.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_panel.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using namespace testing;

class BruteForce {
 public:
  BruteForce(const std::string& text, unsigned seed)
      : net_(netlist(text)),
        graph_(net_),
        landing_(graph_, Priors{}),
        universe_(every_fault(graph_, landing_, false)),
        random_(seed) {
    acts_ = {OracleAct{}, OracleAct{"K1", OracleAct::Kind::operated},
             OracleAct{"X1:1", OracleAct::Kind::out}};
    readings_.conditions = {"", "K1=operated", "X1:1=out"};
    readings_.condition_lines = {0, 1, 1};
  }

  /// True if the injected faults changed a reading, so that there is something to compare.
  bool take_readings(std::size_t fault_count) {
    OraclePanel built(net_);
    for (std::size_t i = 0; i < fault_count; ++i) built.inject(universe_[random_() % universe_.size()]);
    bool changed = false;
    for (std::size_t act = 0; act < acts_.size(); ++act) {
      const auto as_built = built.nets(acts_[act]), as_drawn = OraclePanel(net_).nets(acts_[act]);
      for (std::uint32_t p = 0; p < graph_.point_count(); ++p)
        for (std::uint32_t q = p + 1; q < graph_.point_count(); ++q) {
          if (random_() % 3 == 0) continue;
          const bool beeps = as_built[p] == as_built[q];
          changed = changed || beeps != (as_drawn[p] == as_drawn[q]);
          Reading reading;
          reading.from = names_.emplace_back(net_.points.name(PointId{p}));
          reading.to = names_.emplace_back(net_.points.name(PointId{q}));
          reading.value.kind = beeps ? ValueKind::beep : ValueKind::open;
          reading.condition = static_cast<std::uint16_t>(act);
          readings_.rows.push_back(reading);
          taken_.push_back({p, q, act, beeps});
        }
    }
    return changed;
  }

  using Sets = std::set<std::vector<Fault>>;

  /// Explanations as the search gives them.
  Sets by_search() {
    const Comparison comparison = compare(graph_, readings_, {}).value();
    const Consistency consistency(graph_, readings_, comparison);
    const Candidates candidates(consistency, landing_);
    Scope scope;
    for (std::uint32_t i = 0; i < comparison.standing.size(); ++i)
      if (comparison.standing[i] == Standing::disagrees) scope.push_back(ReadingId{i});
    DiagnoseOptions options;
    options.max_faults = 2;
    options.least_share = 1e-300;
    options.max_sets = 100'000'000;
    Sets sets;
    for (const Explanation& one : explain(candidates, consistency, landing_, scope, options).explanations)
      sets.insert(one.faults);
    return sets;
  }

  Sets by_trying_everything() {
    Sets sets;
    std::vector<Fault> failing;
    for (const Fault& one : universe_) {
      if (explains({one}))
        sets.insert(canonical({one}));
      else
        failing.push_back(one);
    }
    for (std::size_t i = 0; i < failing.size(); ++i)
      for (std::size_t j = i + 1; j < failing.size(); ++j)
        if (is_compatible(failing[i], {&failing[j], 1}, landing_) && explains({failing[i], failing[j]}))
          sets.insert(canonical({failing[i], failing[j]}));
    return sets;
  }

  std::string text_of_set(const std::vector<Fault>& faults) const {
    std::string text;
    for (const Fault& fault : faults) text += " {" + text_of(fault, graph_) + "}";
    return text;
  }

  [[nodiscard]] bool explains(const std::vector<Fault>& faults) const {
    OraclePanel panel(net_);
    for (const Fault& fault : faults) panel.inject(fault);
    std::vector<std::vector<std::uint32_t>> nets;
    for (const OracleAct& act : acts_) nets.push_back(panel.nets(act));
    return std::all_of(taken_.begin(), taken_.end(),
                       [&](const Taken& t) { return (nets[t.act][t.p] == nets[t.act][t.q]) == t.beeps; });
  }

  [[nodiscard]] std::vector<Fault> canonical(std::vector<Fault> faults) const {
    for (Fault& fault : faults) fault = landing_.by_block(fault);
    std::sort(faults.begin(), faults.end());
    return faults;
  }

  /// One fault of the set lands on, or joins, a block out of which another takes a connection. The points of
  /// the block are then no longer alike, and which of them stands for the block decides whether the set
  /// explains anything.
  [[nodiscard]] bool lands_on_a_parted_block(const std::vector<Fault>& faults) const {
    for (const Fault& one : faults)
      for (const PointId p : {one.p, one.q})
        for (const Fault& other : faults)
          for (const ElementId e : {other.element, other.element2})
            if (p != PointId::none && e != ElementId::none &&
                landing_.block(graph_.end_a(e)) == landing_.block(p))
              return true;
    return false;
  }

 private:
  struct Taken {
    std::uint32_t p, q;
    std::size_t act;
    bool beeps;
  };

  Netlist net_;
  ConductionGraph graph_;
  Landing landing_;
  std::vector<Fault> universe_;
  std::mt19937 random_;
  std::vector<OracleAct> acts_;
  std::deque<std::string> names_;
  Readings readings_;
  std::vector<Taken> taken_;
};

TEST(SearchAgainstBruteForce, GivesTheSameMinimalExplanations) {
  const unsigned seed = test_seed();
  std::size_t compared = 0, explanations = 0, left_out = 0;
  for (unsigned round = 0; round < 24; ++round) {
    const std::string text = random_netlist(1000 * seed + round);
    BruteForce both(text, seed + round);
    if (!both.take_readings(1 + round % 2)) continue;
    const BruteForce::Sets searched = both.by_search(), tried = both.by_trying_everything();
    ++compared;
    explanations += tried.size();
    BruteForce::Sets by_block;
    for (const auto& set : searched) {
      by_block.insert(both.canonical(set));
      EXPECT_TRUE(both.explains(set)) << "unsound:" << both.text_of_set(set) << "\nround " << round << "\n"
                                      << text;
    }
    for (const auto& set : tried) {
      if (by_block.count(set) == 1) continue;
      if (both.lands_on_a_parted_block(set))
        ++left_out;
      else
        ADD_FAILURE() << "missed:" << both.text_of_set(set) << "\nround " << round << "\n" << text;
    }
    if (::testing::Test::HasFailure()) return;
  }
  std::printf(
      "compared %zu panels, %zu minimal explanations of up to two faults, %zu not listed since one fault "
      "parts the block another lands on\n",
      compared, explanations, left_out);
  EXPECT_LT(left_out * 20, explanations);
  EXPECT_GT(compared, 10u);
}

}  // namespace
}  // namespace ringtrue
