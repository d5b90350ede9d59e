// The generic search for minimal sets on published cases, and on random ones against enumeration.
//
// Each case says where its sets come from. "From memory" means that the sets were written down as remembered
// from the source named; every answer was recomputed by trying all sets of items, and the tests do so again.
#include "diagnose/minimal_sets.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <functional>
#include <map>
#include <random>
#include <string>

#include "tests/support/random_netlist.hpp"

namespace ringtrue::testing {
namespace {

using Names = std::vector<std::string>;  // of items, sorted
using Accepts = std::function<bool(const Names&)>;
using Costs = std::map<std::string, double>;

/// One item per letter.
Names items_of(const std::string& letters) {
  Names items;
  for (const char letter : letters) items.emplace_back(1, letter);
  return items;
}
bool holds(const Names& items, const std::string& item) {
  return std::find(items.begin(), items.end(), item) != items.end();
}
double cost_of(const std::string& item, const Costs& costs) {
  const auto at = costs.find(item);
  return at == costs.end() ? 1 : at->second;
}

/// A family of sets, of each of which an answer has to hold an item.
class Family {
 public:
  using Item = std::string;

  Family(const std::vector<std::string>& sets, Costs costs = {}) : costs_(std::move(costs)) {
    for (const std::string& set : sets) sets_.push_back(items_of(set));
  }

  [[nodiscard]] bool accepts(const Names& chosen) const { return first_not_hit(chosen) == nullptr; }
  [[nodiscard]] std::optional<std::vector<Choice<Item>>> branch(const Names& chosen, double room,
                                                                bool /*is_last*/) const {
    const Names* set = first_not_hit(chosen);
    if (set == nullptr) return std::nullopt;
    std::vector<Choice<Item>> choices;
    for (const Item& item : *set)
      if (cost_of(item, costs_) <= room) choices.push_back({item, cost_of(item, costs_)});
    return choices;
  }

 private:
  [[nodiscard]] const Names* first_not_hit(const Names& chosen) const {
    const auto is_missed = [&](const Names& set) {
      return std::none_of(set.begin(), set.end(), [&](const Item& item) { return holds(chosen, item); });
    };
    const auto at = std::find_if(sets_.begin(), sets_.end(), is_missed);
    return at == sets_.end() ? nullptr : &*at;
  }

  std::vector<Names> sets_;
  Costs costs_;
};

/// A device of components that each may be abnormal, with what was observed of it. An answer is a set of
/// abnormal components with which the others, if good, agree with the observations.
class Device {
 public:
  using Item = std::string;

  Device(Names components, Accepts agrees) : components_(std::move(components)), agrees_(std::move(agrees)) {}

  [[nodiscard]] bool accepts(const Names& abnormal) const { return agrees_(abnormal); }
  /// The components of a minimal conflict among those that are not abnormal.
  [[nodiscard]] std::optional<std::vector<Choice<Item>>> branch(const Names& abnormal, double /*room*/,
                                                                bool /*is_last*/) const {
    if (agrees_(abnormal)) return std::nullopt;
    Names assumed_abnormal = abnormal;
    std::vector<Choice<Item>> conflict;
    for (const Item& component : components_) {
      if (holds(abnormal, component)) continue;
      assumed_abnormal.push_back(component);
      if (!agrees_(assumed_abnormal)) continue;  // the conflict does without it
      assumed_abnormal.pop_back();
      conflict.push_back({component, 1});
    }
    return conflict;
  }

 private:
  Names components_;
  Accepts agrees_;
};

template <class Problem>
std::vector<Names> found_in(Problem problem) {
  std::vector<Names> found;
  MinimalSets<Problem> search(problem, {.max_items = 9, .least_item_cost = 1});
  for (const auto& set : search.run()) found.push_back(set.items);
  return found;
}

/// All minimal sets of the items that are accepted, by cost and then by items, by trying every one.
std::vector<Names> by_enumeration(const Names& items, const Accepts& accepts, const Costs& costs = {}) {
  std::vector<unsigned> minimal;
  std::vector<unsigned> by_size(1u << items.size());
  for (unsigned set = 0; set < by_size.size(); ++set) by_size[set] = set;
  std::stable_sort(by_size.begin(), by_size.end(),
                   [](unsigned x, unsigned y) { return std::popcount(x) < std::popcount(y); });
  std::vector<std::pair<double, Names>> found;
  for (const unsigned set : by_size) {
    if (std::any_of(minimal.begin(), minimal.end(), [&](unsigned m) { return (m & set) == m; })) continue;
    std::pair<double, Names> one;
    for (std::size_t i = 0; i < items.size(); ++i)
      if ((set >> i & 1u) != 0) one.first += cost_of(items[i], costs), one.second.push_back(items[i]);
    if (!accepts(one.second)) continue;
    minimal.push_back(set);
    found.push_back(std::move(one));
  }
  std::sort(found.begin(), found.end());
  std::vector<Names> sets;
  for (auto& [cost, set] : found) sets.push_back(std::move(set));
  return sets;
}

/// `{a,b} {c}`
std::string text_of(const std::vector<Names>& sets) {
  std::string text;
  for (const Names& set : sets) {
    text += text.empty() ? "{" : " {";
    for (std::size_t i = 0; i < set.size(); ++i) text += (i == 0 ? "" : ",") + set[i];
    text += "}";
  }
  return text;
}

void expect_minimal_hitting_sets(const std::vector<std::string>& family, const std::string& items,
                                 const std::string& answer) {
  const Family problem(family);
  EXPECT_EQ(text_of(found_in(problem)), answer);
  EXPECT_EQ(text_of(by_enumeration(items_of(items), [&](const Names& set) { return problem.accepts(set); })),
            answer);
}

TEST(MinimalHittingSets, Reiter) {
  // R. Reiter 1987, A theory of diagnosis from first principles, the example of a hitting-set tree. Sets from
  // memory, answer recomputed.
  expect_minimal_hitting_sets({"245", "123", "135", "246", "24", "235", "16"}, "123456",
                              "{1,2} {1,3,4} {1,4,5} {2,3,6} {2,5,6} {3,4,6}");
}

TEST(MinimalHittingSets, GreinerSmithWilkerson) {
  // R. Greiner, B. A. Smith, R. W. Wilkerson 1989, A correction to the algorithm in Reiter's theory of
  // diagnosis: a family with sets inside others, on which pruning by relabelling loses an answer. Sets from
  // memory, answer recomputed.
  expect_minimal_hitting_sets({"ab", "bc", "ac", "bd", "b"}, "abcd", "{a,b} {b,c}");
}

TEST(MinimalHittingSets, SmallExercises) {
  // Sets as they stand in lecture notes and exercises, answers recomputed.
  expect_minimal_hitting_sets({"123", "24", "345"}, "12345", "{1,4} {2,3} {2,4} {2,5} {3,4}");
  expect_minimal_hitting_sets({"12", "23"}, "123", "{2} {1,3}");
}

TEST(MinimalHittingSets, FourPairs) {
  // An exercise of which an answer in circulation misses {a,y,z}; recomputed.
  expect_minimal_hitting_sets({"xz", "xa", "yz", "yc"}, "acxyz", "{x,y} {a,c,z} {a,y,z} {c,x,z}");
}

TEST(MinimalHittingSets, NothingToHit) { expect_minimal_hitting_sets({}, "ab", "{}"); }

TEST(MinimalHittingSets, ASetThatNothingHits) { expect_minimal_hitting_sets({"ab", ""}, "ab", ""); }

// --- devices ---------------------------------------------------------------------------------------------

/// Minimal sets of components that can't all be good.
std::vector<Names> minimal_conflicts(const Names& components, const Accepts& agrees) {
  return by_enumeration(components, [&](const Names& good) {
    Names abnormal;
    for (const std::string& component : components)
      if (!holds(good, component)) abnormal.push_back(component);
    return !agrees(abnormal);
  });
}

void expect_diagnoses(const Names& components, const Accepts& agrees, const std::string& answer) {
  EXPECT_EQ(text_of(found_in(Device(components, agrees))), answer);
  EXPECT_EQ(text_of(by_enumeration(components, agrees)), answer);
}

/// Three multipliers and two adders with inputs 3, 2, 2, 3, 3: x = 3*2, y = 2*3, z = 2*3, f = x + y, g = y +
/// z, of which f = 10 and g = 12 are seen. J. de Kleer and B. C. Williams 1987, Diagnosing multiple faults,
/// after R. Davis 1984. Circuit and values from memory; conflicts, diagnoses and further observations
/// recomputed.
class Polybox : public ::testing::Test {
 protected:
  /// `further(x, y, z)`: what else is seen.
  static Accepts agrees(const std::function<bool(int, int, int)>& further) {
    return [further](const Names& abnormal) {
      const auto is_good = [&](const char* component) { return !holds(abnormal, component); };
      constexpr int k_most = 20;
      for (int x = 0; x <= k_most; ++x)
        for (int y = 0; y <= k_most; ++y)
          for (int z = 0; z <= k_most; ++z)
            if ((x == 3 * 2 || !is_good("M1")) && (y == 2 * 3 || !is_good("M2")) &&
                (z == 2 * 3 || !is_good("M3")) && (x + y == 10 || !is_good("A1")) &&
                (y + z == 12 || !is_good("A2")) && further(x, y, z))
              return true;
      return false;
    };
  }
  const Names components_ = {"A1", "A2", "M1", "M2", "M3"};
};

TEST_F(Polybox, Conflicts) {
  EXPECT_EQ(text_of(minimal_conflicts(components_, agrees([](int, int, int) { return true; }))),
            "{A1,M1,M2} {A1,A2,M1,M3}");
}

TEST_F(Polybox, Diagnoses) {
  expect_diagnoses(components_, agrees([](int, int, int) { return true; }), "{A1} {M1} {A2,M2} {M2,M3}");
}

TEST_F(Polybox, DiagnosesAfterOneMoreObservation) {
  expect_diagnoses(components_, agrees([](int x, int, int) { return x == 4; }), "{M1}");
  expect_diagnoses(components_, agrees([](int x, int, int) { return x == 6; }), "{A1} {A2,M2} {M2,M3}");
  expect_diagnoses(components_, agrees([](int, int y, int) { return y == 4; }), "{A2,M2} {M2,M3}");
  expect_diagnoses(components_, agrees([](int, int y, int) { return y == 6; }), "{A1} {M1}");
  expect_diagnoses(components_, agrees([](int, int, int z) { return z == 6; }), "{A1} {M1} {A2,M2}");
  expect_diagnoses(components_, agrees([](int, int, int z) { return z == 8; }),
                   "{M2,M3} {A1,A2,M3} {A2,M1,M3}");
}

TEST(FullAdder, ConflictsAndDiagnoses) {
  // Reiter 1987: two exclusive-or gates, two and gates, an or gate; inputs 1, 0 and carry 1; sum 1 and carry
  // 0 are seen. Circuit and values from memory; conflicts and diagnoses recomputed.
  const Names components = {"A1", "A2", "O1", "X1", "X2"};
  const Accepts agrees = [](const Names& abnormal) {
    const auto fits = [&](const char* gate, bool as_it_should) {
      return as_it_should || holds(abnormal, gate);
    };
    for (const bool half : {false, true})
      for (const bool of_inputs : {false, true})
        for (const bool of_half : {false, true})
          if (fits("X1", half == (true != false)) && fits("X2", (half != true) == true) &&
              fits("A1", of_inputs == (true && false)) && fits("A2", of_half == (half && true)) &&
              fits("O1", (of_inputs || of_half) == false))
            return true;
    return false;
  };
  EXPECT_EQ(text_of(minimal_conflicts(components, agrees)), "{X1,X2} {A2,O1,X1}");
  expect_diagnoses(components, agrees, "{X1} {A2,X2} {O1,X2}");
}

// --- random families -------------------------------------------------------------------------------------

struct RandomFamily {
  explicit RandomFamily(unsigned seed) : random(seed) {
    const std::string letters = std::string("abcdefgh").substr(0, 1 + random() % 8);
    items = items_of(letters);
    for (const std::string& item : items) costs[item] = static_cast<double>(1 + random() % 9);
    for (std::size_t i = random() % 9; i > 0; --i) {
      std::string& set = sets.emplace_back();
      while (set.empty())
        for (const char letter : letters)
          if (random() % 3 == 0) set += letter;
    }
    limits.max_items = 1 + random() % 8;
    limits.max_cost = random() % 2 == 0 ? 1e9 : static_cast<double>(random() % 40);
    limits.least_item_cost = 9;
    for (const auto& [item, cost] : costs) limits.least_item_cost = std::min(limits.least_item_cost, cost);
  }
  [[nodiscard]] double cost(const Names& set) const {
    double sum = 0;
    for (const std::string& item : set) sum += cost_of(item, costs);
    return sum;
  }

  std::mt19937 random;
  Names items;
  Costs costs;
  std::vector<std::string> sets;
  SearchLimits limits;
};

TEST(MinimalHittingSets, OfRandomFamiliesAreThoseOfEnumerationInOrderOfCost) {
  const unsigned seed = test_seed();
  constexpr unsigned k_families = 5000;
  std::size_t answers = 0;
  for (unsigned round = 0; round < k_families; ++round) {
    const RandomFamily made(k_families * seed + round);
    Family problem(made.sets, made.costs);
    std::vector<Names> expected = by_enumeration(
        made.items, [&](const Names& set) { return problem.accepts(set); }, made.costs);
    std::erase_if(expected, [&](const Names& set) {
      return set.size() > made.limits.max_items || made.cost(set) > made.limits.max_cost;
    });
    MinimalSets<Family> search(problem, made.limits);
    std::vector<Names> found;
    double last = 0;
    for (const auto& one : search.run()) {
      EXPECT_EQ(one.cost, made.cost(one.items));
      EXPECT_LE(last, one.cost);
      last = one.cost;
      found.push_back(one.items);
    }
    EXPECT_FALSE(search.gave_up());
    ASSERT_EQ(text_of(found), text_of(expected)) << "seed " << seed << ", family " << round;
    answers += found.size();
  }
  EXPECT_GT(answers, std::size_t{k_families});
}

TEST(MinimalHittingSets, ASearchCutShortHasFoundTheCheapest) {
  const unsigned seed = test_seed();
  for (unsigned round = 0; round < 500; ++round) {
    const RandomFamily made(500 * seed + round);
    Family problem(made.sets, made.costs);
    const std::vector<Names> all = by_enumeration(
        made.items, [&](const Names& set) { return problem.accepts(set); }, made.costs);
    MinimalSets<Family> search(problem, {.max_items = 9, .max_sets = round % 20});
    const auto found = search.run();
    EXPECT_TRUE(search.gave_up() || found.size() == all.size());
    ASSERT_LE(found.size(), all.size());
    for (std::size_t i = 0; i < found.size(); ++i) EXPECT_EQ(found[i].items, all[i]);
  }
}

}  // namespace
}  // namespace ringtrue::testing
