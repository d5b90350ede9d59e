// Random revisions of random panels: what still stands is asked of an oracle that knows names, nets and
// intervals, and nothing of the difference.
#include <gtest/gtest.h>

#include "ringtrue/revise/retest.hpp"
#include "tests/support/random_revision.hpp"

namespace ringtrue {
namespace {

using testing::Asked;
using testing::OracleReading;
using testing::OracleRevision;
using testing::points_of;
using testing::Reviser;
using testing::Rows;
using testing::some_panel;

struct Tried {
  std::size_t valid = 0, not_valid = 0;
};

/// Compares the retest of some readings with the oracle's.
Tried try_revision(const std::string& old_text, const std::string& new_text, Reviser& random) {
  const Netlist old_net = testing::netlist(old_text), new_net = testing::netlist(new_text);
  OracleRevision before(old_net), after(new_net);
  const std::set<std::string> opened = opened_between(before, after);
  before.touch(opened), after.touch(opened);

  std::vector<Asked> asked;
  std::set<std::tuple<std::string, std::string, std::string>> pairs;
  std::string lines;
  for (int i = 0; i < 40; ++i) {
    const auto one = some_reading(random, before, after);
    if (!one) continue;
    const OracleReading& reading = one->before;
    if (!pairs
             .insert(
                 {std::min(reading.from, reading.to), std::max(reading.from, reading.to), reading.condition})
             .second)
      continue;
    asked.push_back(*one);
    lines += line_of(reading) + "\n";
  }
  const Readings readings = testing::readings(lines);
  const ConductionGraph old_graph(old_net), new_graph(new_net);
  const auto comparison = compare(old_graph, readings, {});
  EXPECT_TRUE(comparison.has_value());
  const Difference differs = difference(old_graph, new_graph);
  const auto made = retest(old_graph, new_graph, differs, readings, *comparison, {});
  EXPECT_TRUE(made.has_value());
  Tried tried;
  for (std::uint32_t i = 0; i < asked.size(); ++i) {
    const std::optional<bool> stands = still_stands(asked[i], before, after);
    if (!stands) continue;
    // What a value in ohms proves rests on the meter's accuracy, which the oracle doesn't know.
    if (asked[i].before.kind == ValueKind::ohms && made->readings[i].validity == Validity::proof_changed)
      continue;
    ++(*stands ? tried.valid : tried.not_valid);
    EXPECT_EQ(made->readings[i].validity == Validity::valid, *stands)
        << "R" << i + 1 << ": " << line_of(asked[i].before) << ": " << word(made->readings[i].validity)
        << "\nbefore:\n"
        << old_text << "after:\n"
        << new_text << "readings:\n"
        << lines;
  }
  return tried;
}

TEST(RetestOracle, ReadingsStandJustIfWhatTheyShowAndProveIsUntouched) {
  Tried all;
  for (unsigned i = 0; i < 150 && !HasFailure(); ++i) {
    const unsigned seed = testing::test_seed() * 1000 + i;
    Reviser random(seed);
    const std::string text = some_panel(seed);
    Rows rows(text);
    const std::vector<std::string> points = points_of(testing::netlist(text));
    for (std::size_t changes = 1 + random.below(3); changes > 0; --changes) random.change(rows, points);
    random.rename_and_reorder(rows);
    const Tried tried = try_revision(text, rows.text(), random);
    all.valid += tried.valid, all.not_valid += tried.not_valid;
  }
  EXPECT_GT(all.valid, 500u);
  EXPECT_GT(all.not_valid, 500u);
}

TEST(RetestOracle, NumbersAndRowOrderAloneLeaveEveryReadingValid) {
  for (unsigned i = 0; i < 60 && !HasFailure(); ++i) {
    const unsigned seed = testing::test_seed() * 2000 + i;
    Reviser random(seed);
    const std::string text = some_panel(seed);
    Rows rows(text);
    if (i % 3 == 0) random.exchange_numbers(rows);
    random.rename_and_reorder(rows);
    const Tried tried = try_revision(text, rows.text(), random);
    EXPECT_EQ(tried.not_valid, 0u) << text << "after:\n" << rows.text();
    EXPECT_GT(tried.valid, 0u);
  }
}

}  // namespace
}  // namespace ringtrue
