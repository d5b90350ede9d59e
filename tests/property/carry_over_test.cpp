// Chains of random revisions, and random renamings of parts: what is brought to the newest revision, beside
// an oracle that knows names, nets and intervals, and nothing of differences or marks.
#include "ringtrue/revise/carry_over.hpp"

#include <gtest/gtest.h>

#include <deque>

#include "ringtrue/revise/retest.hpp"
#include "tests/support/random_revision.hpp"

namespace ringtrue {
namespace {

using testing::Asked;
using testing::OracleReading;
using testing::OracleRevision;
using testing::Reviser;
using testing::Rows;

std::string mark(std::size_t number) {
  return NetlistMark{static_cast<std::uint32_t>(number), std::string(12, 'a')}.text();
}

/// Revisions of one panel, each step rewired or as built.
struct Chain {
  std::vector<std::string> texts;
  std::deque<Netlist> netlists;
  std::deque<OracleRevision> oracles;
  std::vector<bool> is_as_built;  ///< by step

  Chain(unsigned seed, Reviser& random, std::size_t count) {
    texts.push_back(testing::some_panel(seed));
    const std::vector<std::string> points = testing::points_of(testing::netlist(texts.front()));
    for (std::size_t i = 1; i < count; ++i) {
      Rows rows(texts.back());
      for (std::size_t changes = 1 + random.below(2); changes > 0; --changes) random.change(rows, points);
      random.rename_and_reorder(rows);
      texts.push_back(rows.text());
      is_as_built.push_back(random.below(3) == 0);
    }
    for (const std::string& text : texts) oracles.emplace_back(netlists.emplace_back(testing::netlist(text)));
  }

  [[nodiscard]] std::vector<EarlierNetlist> earlier() const {
    std::vector<EarlierNetlist> all;
    for (std::size_t i = 0; i + 1 < netlists.size(); ++i)
      all.push_back({static_cast<std::uint32_t>(i + 1), netlists[i], is_as_built[i]});
    return all;
  }

  /// Through every step from its own revision on; nothing where the oracle can't tell.
  [[nodiscard]] std::optional<bool> stands(const OracleReading& reading, std::size_t revision) {
    const auto has_both = [&](std::size_t in) {
      return oracles[in].has_point(reading.from) && oracles[in].has_point(reading.to);
    };
    std::optional<bool> result = has_both(netlists.size() - 1);
    for (std::size_t step = revision; step + 1 < netlists.size(); ++step) {
      if (is_as_built[step]) continue;
      if (!has_both(step) || !has_both(step + 1)) return false;
      const std::set<std::string> opened = opened_between(oracles[step], oracles[step + 1]);
      oracles[step].touch(opened), oracles[step + 1].touch(opened);
      const auto one = testing::still_stands({reading, reading}, oracles[step], oracles[step + 1]);
      if (one == false) return false;
      if (!one) result = std::nullopt;
    }
    return result;
  }

  [[nodiscard]] std::string text() const {
    std::string all;
    for (std::size_t i = 0; i < texts.size(); ++i)
      all += (i == 0 ? "first:\n" : is_as_built[i - 1] ? "as built:\n" : "rewired:\n") + texts[i];
    return all;
  }
};

/// Readings of any revision; those that lift ends are asked of single steps, see RetestOracle.
struct Taken {
  OracleReading reading;
  std::size_t revision;
};
std::vector<Taken> some_readings(Chain& chain, Reviser& random) {
  std::vector<Taken> all;
  std::set<std::tuple<std::string, std::string, std::string>> pairs;
  for (int i = 0; i < 40; ++i) {
    const std::size_t revision = random.below(chain.netlists.size());
    const auto one = testing::some_reading(random, chain.oracles[revision], chain.oracles[revision]);
    if (!one || one->before.kind == ValueKind::ohms || one->before.condition.find('@') != std::string::npos)
      continue;
    const OracleReading& reading = one->before;
    const auto [a, b] = std::minmax(reading.from, reading.to);
    if (pairs.insert({a, b, reading.condition}).second) all.push_back({reading, revision});
  }
  return all;
}

TEST(CarryOverOracle, AReadingCountsJustIfItStandsThroughEveryRewiring) {
  std::size_t counting = 0, outdated = 0;
  for (unsigned i = 0; i < 120 && !HasFailure(); ++i) {
    const unsigned seed = testing::test_seed() * 3000 + i;
    Reviser random(seed);
    Chain chain(seed, random, 2 + random.below(3));
    const std::vector<Taken> taken = some_readings(chain, random);
    std::string lines;
    for (const Taken& one : taken) lines += testing::line_of(one.reading) + "\n";
    Readings readings = testing::readings(lines);
    std::deque<std::string> marks;
    for (std::size_t r = 0; r < taken.size(); ++r)
      readings.text.set(ReadingText::netlist, r, marks.emplace_back(mark(taken[r].revision + 1)));
    Events events;
    const ConductionGraph newest(chain.netlists.back());
    ASSERT_TRUE(carry_over(chain.earlier(), newest, {}, readings, events, {}));
    const auto comparison = compare(newest, readings, events);
    ASSERT_TRUE(comparison);
    for (std::uint32_t r = 0; r < taken.size(); ++r) {
      const std::optional<bool> stands = chain.stands(taken[r].reading, taken[r].revision);
      if (!stands) continue;
      ++(*stands ? counting : outdated);
      EXPECT_EQ(comparison->standing[r] < Standing::unknown_point, *stands)
          << "R" << r + 1 << " of revision " << taken[r].revision + 1 << ": "
          << testing::line_of(taken[r].reading) << ": " << word(comparison->standing[r]) << " "
          << (readings.outdated.contains(r) ? readings.outdated.at(r) : "") << "\n"
          << chain.text() << "readings:\n"
          << lines;
    }
  }
  EXPECT_GT(counting, 500u);
  EXPECT_GT(outdated, 500u);
}

/// A text with other designations, wherever one stands.
class OtherNames {
 public:
  OtherNames(Reviser& random, const std::string& text) {
    for (const char* part : {"K1", "X1", "S1", "P1", "V1", "A1", "A2"})
      if (text.find(part) != std::string::npos && random.below(2) == 0) now_[part] = std::string(part) + "9";
  }
  [[nodiscard]] std::string of(const std::string& text) const {
    std::string made;
    for (std::size_t i = 0; i < text.size();) {
      const auto part = now_.find(text.substr(i, 2));
      // A pin such as `A1` of a coil stands behind a colon or as a word behind its kind, and is no part.
      const bool is_pin =
          i > 0 && (text[i - 1] == ':' || text.compare(i - 1, 1, " ") == 0) && is_pin_at(text, i);
      const bool is_whole = i == 0 || std::string(" \n@;").find(text[i - 1]) != std::string::npos;
      if (part == now_.end() || !is_whole || is_pin) {
        made += text[i++];
        continue;
      }
      made += part->second;
      i += 2;
    }
    return made;
  }
  [[nodiscard]] std::size_t count() const { return now_.size(); }

 private:
  static bool is_pin_at(const std::string& text, std::size_t at) {
    const std::size_t line = text.rfind('\n', at) == std::string::npos ? 0 : text.rfind('\n', at) + 1;
    if (text.compare(line, 5, "part ") != 0) return false;
    return std::count(text.begin() + static_cast<std::ptrdiff_t>(line),
                      text.begin() + static_cast<std::ptrdiff_t>(at), ' ') > 1;
  }
  std::map<std::string, std::string> now_;
};

TEST(CarryOverOracle, OtherDesignationsNumbersAndRowOrderLeaveEveryReadingValidUnderItsNewName) {
  std::size_t decided = 0, undecided = 0, valid = 0;
  for (unsigned i = 0; i < 120 && !HasFailure(); ++i) {
    const unsigned seed = testing::test_seed() * 4000 + i;
    Reviser random(seed);
    const std::string before = testing::some_panel(seed);
    const OtherNames names(random, before);
    Rows rows(names.of(before));
    random.rename_and_reorder(rows);
    const std::string after = rows.text();
    const Netlist old_net = testing::netlist(before), new_net = testing::netlist(after);
    const ConductionGraph old_graph(old_net), new_graph(new_net);
    const Difference differs = difference(old_graph, new_graph);
    for (const RenamedPart& part : differs.renamed)
      EXPECT_EQ(part.after, part.before + "9") << before << "after:\n" << after;
    // Parts that nobody could tell apart stay gone and new.
    if (!differs.is_electrically_same()) {
      ++undecided;
      continue;
    }
    decided += names.count();

    const OracleRevision oracle(old_net);
    std::string lines, expected_lines;
    std::set<std::pair<std::string, std::string>> pairs;
    for (int k = 0; k < 20; ++k) {
      const auto one = testing::some_reading(random, oracle, oracle);
      if (!one || one->before.condition.find('@') != std::string::npos ||
          !pairs.insert(std::minmax(one->before.from, one->before.to)).second)
        continue;
      OracleReading expected = one->before;
      expected.from = names.of(expected.from), expected.to = names.of(expected.to);
      expected.condition = names.of(expected.condition);
      lines += testing::line_of(one->before) + "\n";
      expected_lines += testing::line_of(expected) + "\n";
    }
    const Readings readings = testing::readings(lines), expected = testing::readings(expected_lines);
    const auto comparison = compare(old_graph, readings, {}), judged = compare(new_graph, expected, {});
    ASSERT_TRUE(comparison && judged);
    const auto kept = retest(old_graph, new_graph, differs, readings, *comparison, {});
    ASSERT_TRUE(kept);
    for (std::size_t r = 0; r < readings.rows.size(); ++r) {
      EXPECT_EQ(kept->readings[r].validity, Validity::valid) << "R" << r + 1 << "\n"
                                                             << before << "after:\n"
                                                             << after << lines;
      EXPECT_EQ(kept->renamed.rows[r].from, expected.rows[r].from) << before << "after:\n" << after;
      EXPECT_EQ(kept->renamed.rows[r].to, expected.rows[r].to);
      EXPECT_EQ(kept->renamed.conditions[kept->renamed.rows[r].condition],
                expected.conditions[expected.rows[r].condition]);
      EXPECT_EQ(kept->comparison.standing[r], judged->standing[r]);
      ++valid;
    }
  }
  EXPECT_GT(decided, 100u);
  EXPECT_GT(valid, 500u);
  EXPECT_LT(undecided, 12u);
}

}  // namespace
}  // namespace ringtrue
