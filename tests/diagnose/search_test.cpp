// The search against brute force. On random small panels every set of up to two faults of the universe that
// the tool prints is tried: the panel with the faults is a list of resistors with lowest and highest values
// (OracleBounds), each reading is solved for by dense elimination, and a set is an explanation if every
// reading is possible. The search has to give the same minimal sets, all disagreements explained at once and
// before anything is merged. Nothing is shared with the search but the list of faults, and which may stand
// together.
#include "diagnose/search.hpp"

#include <gtest/gtest.h>

#include <cstdio>
#include <deque>
#include <set>

#include "diagnose/universe.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_bounds.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

constexpr double k_threshold = 30 * (1 + 1e-9);

/// A panel under each state, ready to be asked for readings.
class OracleAnswers {
 public:
  OracleAnswers(const OracleBounds& panel, std::uint32_t points, const std::vector<OracleState>& states) {
    for (const OracleState& state : states) states_.emplace_back(panel.present(state), points);
  }

  [[nodiscard]] bool can_show(std::uint32_t p, std::uint32_t q, std::size_t state,
                              const ReadingValue& value) {
    return states_[state].can_show(p, q, value);
  }

 private:
  class State {
   public:
    State(std::vector<OracleBounds::Item> items, std::uint32_t points)
        : points_(points + 1), items_(std::move(items)), net_(points_), part_(points_) {
      for (std::uint32_t p = 0; p < points_; ++p) net_[p] = part_[p] = p;
      for (const auto& item : items_) {
        if (is_plain(item)) merge(net_, item.a, item.b);
        merge(part_, item.a, item.b);
      }
      siemens_.assign(points_, 0);
      for (const auto& item : items_)
        if (!is_plain(item) && net_[item.a] != net_[item.b])
          for (const std::uint32_t end : {item.a, item.b}) siemens_[net_[end]] += 1 / item.lo;
    }

    [[nodiscard]] bool can_show(std::uint32_t p, std::uint32_t q, const ReadingValue& value) const {
      const bool joined = net_[p] == net_[q], apart = part_[p] != part_[q];
      const OracleNetwork network(points_, items_);
      if (value.kind == ValueKind::ohms) {
        const OhmInterval circuit = circuit_ohms(value.number, MeterSettings{});
        return !apart && network.lowest(p, q) <= circuit.hi.value * (1 + 1e-9) &&
               network.highest(p, q) >= circuit.lo.value * (1 - 1e-9);
      }
      // So little leaves the net of a probe that the resistance is above the threshold.
      const bool cut = !joined && std::min(siemens_[net_[p]], siemens_[net_[q]]) * 31 < 1;
      if (value.kind == ValueKind::beep)
        return joined || (!apart && !cut && network.lowest(p, q) <= k_threshold);
      return !joined && (apart || cut || network.highest(p, q) > k_threshold);
    }

   private:
    /// Copper as drawn: fifteen in a row are far below the threshold.
    static bool is_plain(const OracleBounds::Item& item) { return item.is_copper && item.hi <= 0.5; }
    static void merge(std::vector<std::uint32_t>& of, std::uint32_t a, std::uint32_t b) {
      const std::uint32_t kept = std::min(of[a], of[b]), gone = std::max(of[a], of[b]);
      if (kept != gone) std::replace(of.begin(), of.end(), gone, kept);
    }

    std::uint32_t points_;
    std::vector<OracleBounds::Item> items_;
    std::vector<std::uint32_t> net_, part_;
    std::vector<double> siemens_;
  };

  std::vector<State> states_;
};

class BruteForce {
 public:
  using Sets = std::set<std::vector<Fault>>;

  BruteForce(const std::string& text, unsigned seed)
      : net_(netlist(text)), graph_(net_), points_(graph_.point_count()), random_(seed) {
    states_ = {{},
               {OracleState::Kind::operated, "K1", 0, false, "K1=operated"},
               {OracleState::Kind::out, "X1:1", 0, false, "X1:1=out"}};
    for (std::uint32_t i = 0; i < net_.conductors.size(); ++i) {
      const Conductor& wire = net_.conductors[i];
      if (graph_.element_name(ElementId{i}) != "1") continue;
      const std::string lifted = "1@" + net_.points.name(wire.from) + "=lifted";
      states_.push_back({OracleState::Kind::lifted, "1", i, true, lifted});
    }
    readings_.conditions.clear(), readings_.condition_lines.clear();
    for (const OracleState& state : states_) {
      readings_.conditions.push_back(state.text);
      readings_.condition_lines.push_back(1);
    }
  }

  /// Takes readings of a panel with up to two faults; false if none of them contradicts the drawing.
  bool take_readings() {
    choose_pairs();
    std::vector<Fault> injected = choose_faults(random_() % 3);
    read(injected);
    if (random_() % 4 == 0) spoil();
    return look();
  }

  Sets by_search(std::size_t& expanded) { return by_search(all_disagreements(*comparison_), expanded); }
  /// Of these disagreements, whatever the others say.
  Sets by_search(const Scope& scope, std::size_t& expanded) {
    const Candidates candidates(*consistency_, *landing_, *costs_, *reading_costs_);
    const SearchResult found = explain(candidates, *consistency_, *costs_, scope, options());
    expanded = found.expanded;
    Sets sets;
    for (const Explanation& one : found.explanations) sets.insert(one.items);
    return sets;
  }
  /// The disagreements of each finding.
  [[nodiscard]] std::vector<Scope> clusters() const {
    std::vector<Scope> scopes;
    for (const Cluster& cluster : diagnose(graph_, readings_, *comparison_, options()).clusters)
      scopes.push_back(cluster.readings);
    return scopes;
  }

  Sets by_trying_everything() { return by_trying_everything(all_disagreements(*comparison_)); }
  Sets by_trying_everything(const Scope& scope) {
    set_aside_.clear();
    for (const ReadingId reading : all_disagreements(*comparison_))
      if (!std::binary_search(scope.begin(), scope.end(), reading)) set_aside_.insert(index(reading));
    Sets sets;
    std::vector<Fault> failing;
    const std::vector<std::size_t> drawn = fails({}, 3);
    const auto bad = [](std::size_t reading) { return bad_reading_fault(ReadingId(reading)); };
    std::set<std::size_t> bad_alone;
    if (drawn.size() == 1) sets.insert({bad(drawn[0])}), bad_alone.insert(drawn[0]);
    if (drawn.size() == 2) sets.insert(sorted({bad(drawn[0]), bad(drawn[1])}));
    for (const Candidate& one : universe_) {
      if (one.fault.kind == FaultKind::bad_reading) continue;
      const std::vector<std::size_t> wrong = fails({one.fault}, 2);
      if (wrong.empty()) {
        sets.insert({one.fault});
        continue;
      }
      failing.push_back(one.fault);
      if (wrong.size() == 1 && bad_alone.count(wrong[0]) == 0)
        sets.insert(sorted({one.fault, bad(wrong[0])}));
    }
    for (std::size_t i = 0; i < failing.size(); ++i)
      for (std::size_t j = i + 1; j < failing.size(); ++j)
        if (is_compatible(failing[i], {&failing[j], 1}, *landing_) &&
            fails({failing[i], failing[j]}, 1).empty())
          sets.insert(sorted({failing[i], failing[j]}));
    return sets;
  }

  /// Circuits that the fault touches: what conductors, contacts and loads of any state join. A bad reading
  /// touches none.
  [[nodiscard]] std::set<std::uint32_t> circuits_of(const Fault& fault) const {
    std::vector<std::uint32_t> circuit(points_);
    for (std::uint32_t p = 0; p < points_; ++p) circuit[p] = p;
    const OracleBounds drawn(net_);
    for (const OracleBounds::Item& item : drawn.items()) {
      const std::uint32_t kept = circuit[item.a], gone = circuit[item.b];
      std::replace(circuit.begin(), circuit.end(), gone, kept);
    }
    std::set<std::uint32_t> touched;
    const auto touch = [&](PointId p) {
      if (p != PointId::none) touched.insert(circuit[index(p)]);
    };
    for (const ElementId e : {fault.element, fault.element2})
      if (e != ElementId::none) touch(graph_.end_a(e)), touch(graph_.end_b(e));
    touch(fault.p), touch(fault.q);
    for (const LandedEnd& moved : landed_ends(fault, graph_))
      touch(moved.at), touch(graph_.end_a(moved.conductor));
    return touched;
  }

  std::string text_of_sets(const std::vector<std::vector<Fault>>& sets) const {
    std::string text;
    for (const auto& faults : sets) {
      text += " ";
      for (const Fault& fault : faults) text += " {" + text_of(fault, graph_) + "}";
      text += "\n";
    }
    return text;
  }
  std::string text_of_readings() const {
    std::string text;
    for (const std::size_t i : order_)
      text += std::to_string(i) + ": " + std::string(readings_.rows[i].from) + " " +
              std::string(readings_.rows[i].to) + " " + to_text(taken_[i].value) + " " +
              states_[taken_[i].state].text + " " + std::string(word(comparison_->standing[i])) + "\n";
    return text;
  }
  [[nodiscard]] std::size_t universe_size() const { return universe_.size(); }

 private:
  struct Taken {
    std::uint32_t p, q;
    std::size_t state;
    ReadingValue value;
  };

  static DiagnoseOptions options() {
    DiagnoseOptions options;
    options.max_faults = 2;
    options.least_share = 1e-300;
    options.max_sets = options.max_choices = 1'000'000'000;
    return options;
  }
  static std::vector<Fault> sorted(std::vector<Fault> faults) {
    std::sort(faults.begin(), faults.end());
    return faults;
  }

  void choose_pairs() {
    const std::size_t count = 15 + random_() % 30;
    for (std::size_t i = 0; i < count; ++i) {
      Taken taken{static_cast<std::uint32_t>(random_() % points_),
                  0,
                  random_() % 2 == 0 ? 0 : random_() % states_.size(),
                  {}};
      do taken.q = static_cast<std::uint32_t>(random_() % points_);
      while (taken.q == taken.p);
      const auto same = [&](const Taken& t) {
        return t.state == taken.state && std::minmax({t.p, t.q}) == std::minmax({taken.p, taken.q});
      };
      if (std::any_of(taken_.begin(), taken_.end(), same)) continue;
      taken.value.kind = random_() % 4 == 0 ? ValueKind::ohms : ValueKind::beep;
      taken_.push_back(taken);
      Reading reading;
      reading.from = names_.emplace_back(net_.points.name(PointId{taken.p}));
      reading.to = names_.emplace_back(net_.points.name(PointId{taken.q}));
      reading.condition = static_cast<std::uint16_t>(taken.state);
      readings_.rows.push_back(reading);
    }
  }

  /// One of each of some kinds, so that the many miswires don't crowd the others out.
  std::vector<Fault> choose_faults(std::size_t count) {
    compare_and_index();  // with values that mean nothing yet: for the list of faults
    std::vector<Fault> chosen;
    while (chosen.size() < count) {
      std::map<FaultKind, std::vector<Fault>> by_kind;
      for (const Candidate& one : universe_)
        if (one.fault.kind != FaultKind::bad_reading) by_kind[one.fault.kind].push_back(one.fault);
      auto kind = by_kind.begin();
      std::advance(kind, static_cast<std::ptrdiff_t>(random_() % by_kind.size()));
      const Fault fault = kind->second[random_() % kind->second.size()];
      if (is_compatible(fault, chosen, *landing_)) chosen.push_back(fault);
    }
    return chosen;
  }

  void read(const std::vector<Fault>& faults) {
    OracleBounds built(net_);
    for (const Fault& fault : faults) built.inject(fault);
    std::vector<double> values;
    for (const auto& item : built.items()) values.push_back(true_value(item));
    for (Taken& taken : taken_) {
      std::vector<OracleBounds::Item> present = built.present(states_[taken.state]);
      for (auto& item : present) item.lo = item.hi = values[item.number];
      const double ohms = OracleNetwork(points_ + 1, present).lowest(taken.p, taken.q);
      if (taken.value.kind != ValueKind::ohms)
        taken.value.kind = ohms <= 30 ? ValueKind::beep : ValueKind::open;
      else if (ohms > 1e5)
        taken.value.kind = ValueKind::over_range;
      else
        taken.value.number = ohms * (1 + (static_cast<double>(random_() % 100) - 50) * 1e-4);
    }
  }

  double true_value(const OracleBounds::Item& item) {
    const double low = std::max(item.lo, 1e-3), high = std::min(item.hi, std::max(100 * low, 0.1));
    return low * std::pow(high / low, static_cast<double>(random_() % 1000) / 999);
  }
  /// One reading says something else.
  void spoil() {
    Taken& taken = taken_[random_() % taken_.size()];
    if (taken.value.kind == ValueKind::ohms)
      taken.value.number = taken.value.number * 7 + 3;
    else
      taken.value.kind = taken.value.kind == ValueKind::beep ? ValueKind::open : ValueKind::beep;
  }

  void compare_and_index() {
    comparison_ = std::make_unique<Comparison>(compare(graph_, readings_, {}).value());
    landing_ = std::make_unique<Landing>(graph_, comparison_->conditions.overlays);
    costs_ = std::make_unique<Costs>(*landing_, Priors{});
    reading_costs_ = std::make_unique<ReadingCosts>(*landing_, *comparison_, readings_, Priors{});
    consistency_ = std::make_unique<Consistency>(graph_, readings_, *comparison_);
    universe_ = fault_universe(*consistency_, *landing_, *costs_, *reading_costs_);
  }

  bool look() {
    for (std::size_t i = 0; i < taken_.size(); ++i) readings_.rows[i].value = taken_[i].value;
    compare_and_index();
    // What contradicts the drawing comes first: most sets fail at it.
    for (const bool first : {true, false})
      for (std::size_t i = 0; i < taken_.size(); ++i)
        if ((comparison_->standing[i] == Standing::disagrees) == first) order_.push_back(i);
    const std::vector<std::size_t> drawn = fails({}, taken_.size());
    std::vector<std::size_t> judged;
    for (const ReadingId reading : all_disagreements(*comparison_)) judged.push_back(index(reading));
    EXPECT_EQ(std::set(drawn.begin(), drawn.end()), std::set(judged.begin(), judged.end()));
    return !judged.empty();
  }

  /// Readings that the panel with the faults can't have shown, up to so many.
  [[nodiscard]] std::vector<std::size_t> fails(const std::vector<Fault>& faults, std::size_t most) const {
    OracleBounds panel(net_);
    for (const Fault& fault : faults) panel.inject(fault);
    OracleAnswers answers(panel, points_, states_);
    std::vector<std::size_t> wrong;
    for (const std::size_t i : order_) {
      const Taken& taken = taken_[i];
      if (set_aside_.count(i) != 0 || answers.can_show(taken.p, taken.q, taken.state, taken.value)) continue;
      wrong.push_back(i);
      if (wrong.size() == most) break;
    }
    return wrong;
  }

  Netlist net_;
  ConductionGraph graph_;
  std::uint32_t points_;
  std::mt19937 random_;
  std::vector<OracleState> states_;
  std::deque<std::string> names_;
  Readings readings_;
  std::vector<Taken> taken_;
  std::vector<std::size_t> order_;
  std::set<std::size_t> set_aside_;  ///< disagreements that are left to others
  std::vector<Candidate> universe_;
  std::unique_ptr<Comparison> comparison_;
  std::unique_ptr<Landing> landing_;
  std::unique_ptr<Costs> costs_;
  std::unique_ptr<ReadingCosts> reading_costs_;
  std::unique_ptr<Consistency> consistency_;
};

class SearchAgainstBruteForce : public ::testing::TestWithParam<unsigned> {};

TEST_P(SearchAgainstBruteForce, GivesTheSameMinimalExplanations) {
  const unsigned seed = test_seed();
  constexpr std::size_t k_panels = 40;
  std::size_t compared = 0, explanations = 0, universe = 0, expanded = 0;
  for (unsigned round = 0; compared < k_panels; ++round) {
    const unsigned own = 100'000 * seed + 1'000 * GetParam() + round;
    const std::string text = random_small_panel(own);
    BruteForce both(text, own);
    if (!both.take_readings()) continue;
    std::size_t nodes = 0;
    const BruteForce::Sets searched = both.by_search(nodes), tried = both.by_trying_everything();
    std::vector<std::vector<Fault>> missed, unsound;
    std::set_difference(tried.begin(), tried.end(), searched.begin(), searched.end(),
                        std::back_inserter(missed));
    std::set_difference(searched.begin(), searched.end(), tried.begin(), tried.end(),
                        std::back_inserter(unsound));
    EXPECT_TRUE(missed.empty()) << "missed:\n" << both.text_of_sets(missed);
    EXPECT_TRUE(unsound.empty()) << "unsound:\n" << both.text_of_sets(unsound);
    if (HasFailure())
      FAIL() << "seed " << seed << ", panel " << own << "\n" << text << both.text_of_readings();
    ++compared;
    explanations += tried.size();
    universe += both.universe_size();
    expanded += nodes;
  }
  std::printf("%zu panels, %zu faults in all, %zu minimal explanations of up to two, %zu sets tried\n",
              compared, universe, explanations, expanded);
}

/// The sets that take one explanation of each finding, and no more than two faults.
BruteForce::Sets combined(const std::vector<BruteForce::Sets>& by_finding) {
  BruteForce::Sets all{{}};
  for (const BruteForce::Sets& finding : by_finding) {
    BruteForce::Sets longer;
    for (const std::vector<Fault>& some : all)
      for (const std::vector<Fault>& more : finding) {
        std::set<Fault> both(some.begin(), some.end());
        both.insert(more.begin(), more.end());
        if (both.size() <= 2) longer.insert({both.begin(), both.end()});
      }
    all = std::move(longer);
  }
  return all;
}

// Findings are explained apart. Each list is complete and sound for its readings; taken together the lists
// give what explaining all at once gives, unless faults mask each other, or one alone explains several
// findings.
TEST_P(SearchAgainstBruteForce, FindingsApartGiveWhatAllTogetherGiveUnlessFaultsMeet) {
  const unsigned seed = test_seed();
  constexpr std::size_t k_panels = 40;
  std::size_t compared = 0, apart = 0, same = 0, independent = 0;
  for (unsigned round = 0; compared < k_panels; ++round) {
    const unsigned own = 100'000 * seed + 1'000 * GetParam() + round;
    const std::string text = random_small_panel(own);
    BruteForce both(text, own);
    if (!both.take_readings()) continue;
    ++compared;
    const std::vector<Scope> clusters = both.clusters();
    if (clusters.size() < 2) continue;
    ++apart;
    std::vector<BruteForce::Sets> by_finding;
    std::size_t expanded = 0;
    for (const Scope& scope : clusters) {
      by_finding.push_back(both.by_search(scope, expanded));
      ASSERT_EQ(by_finding.back(), both.by_trying_everything(scope)) << "panel " << own << "\n" << text;
    }
    const BruteForce::Sets together = both.by_trying_everything(), pieces = combined(by_finding);
    // Faults in different circuits can't mask each other: together they explain everything, unless one alone
    // does.
    for (const std::vector<Fault>& faults : pieces) {
      if (faults.size() != 2 || together.count({faults[0]}) != 0 || together.count({faults[1]}) != 0)
        continue;
      const std::set<std::uint32_t> one = both.circuits_of(faults[0]), other = both.circuits_of(faults[1]);
      const bool meet = std::any_of(one.begin(), one.end(),
                                    [&](std::uint32_t circuit) { return other.count(circuit) != 0; });
      EXPECT_TRUE(meet || together.count(faults) != 0) << "panel " << own << "\n" << text;
      independent += meet ? 0 : 1;
    }
    same += together == pieces ? 1 : 0;
  }
  std::printf(
      "%zu panels, %zu with several findings, %zu of them with the same explanations of up to two faults "
      "together; %zu pairs from two findings in different circuits\n",
      compared, apart, same, independent);
  EXPECT_GT(independent, 0u);
}

INSTANTIATE_TEST_SUITE_P(Panels, SearchAgainstBruteForce, ::testing::Range(0u, 8u));

}  // namespace
}  // namespace ringtrue::testing
