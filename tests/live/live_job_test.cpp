// A job kept up to date against one read afresh: whatever was added, by whomever and how much at once, all
// that follows has to be the same in every byte.
#include <gtest/gtest.h>

#include <random>

#include "live/live_support.hpp"
#include "live/simulated_panel.hpp"
#include "ringtrue/diagnose/possible_faults.hpp"
#include "ringtrue/load/load.hpp"
#include "tests/support/random_netlist.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

class KeptUpToDate : public LiveTest {
 protected:
  static LiveOptions options() {
    LiveOptions options;
    options.diagnose.max_faults = 2;
    return options;
  }
};

/// Adds to a job what crews add, at random, by two connections.
class Crews {
 public:
  /// `add` appends a row; see LiveTest::take.
  Crews(const Drawing& drawing, std::vector<std::string> conditions, unsigned seed)
      : drawing_(drawing), panel_(drawing), conditions_(std::move(conditions)), random_(seed) {
    const Readings none;
    const auto faults = possible_faults(drawing.graph, none, compare(drawing.graph, none, {}).value());
    if (!faults.empty() && random_() % 4 != 0) panel_.inject(faults[random_() % faults.size()].fault);
  }

  std::uint32_t dice(std::uint32_t sides) { return static_cast<std::uint32_t>(random_() % sides); }

  OwnRow some_reading() {
    const std::string& condition = conditions_[dice(static_cast<std::uint32_t>(conditions_.size()))];
    const PointId p = some_point(), q = some_point();
    OwnRow row{name(p), name(q), panel_.value(p, q, condition, dice(6) == 0), condition};
    if (dice(12) == 0) row.value = row.value == "beep" ? "open" : "beep";
    if (dice(40) == 0) row.from = "X99:1";
    if (dice(40) == 0) row.to = "", row.value = "lit";
    return row;
  }
  std::string some_clamps() {
    std::string all = name(some_point());
    for (std::uint32_t more = dice(3); more > 0; --more) all += "; " + name(some_point());
    return all;
  }
  template <class T>
  const T& some(const std::vector<T>& all) {
    return all[random_() % all.size()];
  }

 private:
  PointId some_point() {
    while (true)
      if (const PointId p{dice(drawing_.graph.point_count())}; panel_.wiring().is_there(index(p))) return p;
  }
  [[nodiscard]] std::string name(PointId p) const { return drawing_.netlist.points.name(p); }

  const Drawing& drawing_;
  SimulatedPanel panel_;
  std::vector<std::string> conditions_;
  std::mt19937 random_;
};

/// What is asked of a run of operations.
struct Work {
  std::filesystem::path netlist, revision;
  std::vector<std::string> conditions;
  std::size_t operations = 30;
  unsigned seed = 1;
};

class RandomWork : public KeptUpToDate {
 protected:
  void work(const Work& run) {
    std::error_code none;
    for (const char* end : {"", "-wal", "-shm"})
      std::filesystem::remove(at(std::string("a.rtj") + end), none);
    Job one = job_of(run.netlist), other = another();
    LiveJob live = this->live(options());
    if (run.seed % 2 == 0) (void)live.upcoming(3);
    const std::shared_ptr<const Drawing> drawn = live.drawing();
    Crews crews(*drawn, run.conditions, run.seed);
    std::vector<std::string> ids, made;
    for (std::size_t i = 0; i < run.operations; ++i) {
      Job& job = crews.dice(2) == 0 ? one : other;
      for (std::uint32_t at_once = 1 + crews.dice(3); at_once > 0; --at_once)
        operate(job, crews, ids, made, run);
      const auto caught_up = live.catch_up();
      ASSERT_TRUE(caught_up) << to_text(caught_up.error().front());
      LiveJob afresh = this->live(options());
      ASSERT_EQ(everything(live, options().diagnose), everything(afresh, options().diagnose))
          << "after operation " << i << ": " << done_.back();
      findings_ += live.state().findings().clusters.size();
      stale_ += live.state().comparison().stale;
      unstable_ += live.state().comparison().unstable;
      const auto nothing = live.catch_up();
      ASSERT_TRUE(nothing && !*nothing);
    }
  }

  void operate(Job& job, Crews& crews, std::vector<std::string>& ids, std::vector<std::string>& made,
               const Work& run) {
    const std::uint32_t which = crews.dice(100);
    const auto did = [&](std::string what) { done_.push_back(std::move(what)); };
    if (which < 55 || ids.empty()) {
      ids.push_back(take(job, crews.some_reading()));
      did("a reading");
    } else if (which < 63) {
      withdraw(job, crews.some(ids));
      did("a withdrawal");
    } else if (which < 71) {
      const std::string corrected = crews.some(ids);
      ids.push_back(take(job, crews.some_reading(), corrected));
      did("a correction");
    } else if (which < 77) {
      happen(job, "repair", crews.some_clamps());
      did("a repair");
    } else if (which < 83) {
      made.push_back(crews.some_clamps());
      happen(job, "temporary-made", made.back());
      did("a temporary change");
    } else if (which < 89 && !made.empty()) {
      happen(job, "temporary-undone", crews.some(made));
      did("a temporary change undone");
    } else if (which < 95) {
      const std::uint32_t rows = which < 93 ? 2 + crews.dice(20) : 51 + crews.dice(10);
      import(job, crews, rows, ids);
      did("an import of " + std::to_string(rows));
    } else if (which < 97 && !run.revision.empty()) {
      must(job.append_netlist(crews.dice(2) == 0 ? run.revision : run.netlist));
      did("a revision");
    } else if (which < 98) {
      must(job.append(one_meter(next_id(), std::to_string(10 + crews.dice(40)))));
      did("a meter");
    } else {
      happen(job, "repeat", crews.some_clamps());
      did("a repeat");
    }
  }

  void import(Job& job, Crews& crews, std::uint32_t count, std::vector<std::string>& ids) {
    std::string text = "from,to,value,conditions,time,id\n";
    for (std::uint32_t i = 0; i < count; ++i) {
      const OwnRow row = crews.some_reading();
      ids.push_back(next_id());
      for (const std::string& cell : {row.from, row.to, row.value, row.conditions, next_time()})
        text += cell + ",";
      text += ids.back() + "\n";
    }
    JobRows rows;
    rows.readings = must(load_readings(folder_.write("import.csv", text)));
    must(job.append(rows));
  }

  void print() const {
    std::printf("%zu operations; over all of them %zu findings, %zu stale, %zu unstable\n", done_.size(),
                findings_, stale_, unstable_);
  }

  std::vector<std::string> done_;
  std::size_t findings_ = 0, stale_ = 0, unstable_ = 0;
};

TEST_F(RandomWork, OnTheQuickStartIsWhatReadingAfreshGives) {
  std::filesystem::copy(RINGTRUE_NETLISTS "/quickstart", at("revision"));
  std::ofstream(at("revision") / "conductors.csv", std::ios::app)
      << "15,X1:4.int,X1:5.int,wire,BU,0.75,0.2,,,2.4,\n";
  for (unsigned round = 0; round < 3; ++round) {
    SCOPED_TRACE("round " + std::to_string(round));
    work({RINGTRUE_NETLISTS "/quickstart",
          at("revision"),
          {"", "", "", "K1=operated", "S1=operated", "X1:1=out"},
          25,
          100 * test_seed() + round});
    if (HasFatalFailure()) return;
  }
  print();
  EXPECT_GT(findings_, 0u);
}

TEST_F(RandomWork, OnSmallPanelsIsWhatReadingAfreshGives) {
  for (unsigned round = 0; round < 8; ++round) {
    const std::string text = random_small_panel(1000 * test_seed() + round);
    SCOPED_TRACE("panel " + std::to_string(1000 * test_seed() + round) + "\n" + text);
    work({written(text),
          written(text + "99 X1:1.int K1:14\n"),
          {"", "", "K1=operated", "X1:1=out"},
          20,
          1000 * test_seed() + round});
    if (HasFatalFailure()) return;
  }
  print();
  EXPECT_GT(findings_ + unstable_, 0u);
}

TEST_F(RandomWork, OnTheGrainDryerIsWhatReadingAfreshGives) {
  work({RINGTRUE_NETLISTS "/grain-dryer", {}, {"", "", "", "K1=operated"}, 12, test_seed()});
  print();
}

TEST_F(KeptUpToDate, ResultsAreTakenInAndWithdrawnWithoutADiagnosisAnew) {
  Job job = job_of(written("1 X1:1 K1:A1\n"));
  take(job, {"X1:1", "K1:A1", "beep"});
  LiveJob kept = live();
  const DiagnosisState* const state = &kept.state();
  const std::uint64_t before = kept.generation();
  IoResultRow row;
  row.channel = "A1:0", row.stimulus = "operated", row.verdict = "pass", row.by = "AK", row.id = "I1";
  row.time = "2026-03-02T09:00:00Z";
  must(job.append(row));
  EXPECT_TRUE(must(kept.catch_up()));
  EXPECT_GT(kept.generation(), before);
  ASSERT_EQ(kept.io_results().rows.size(), 1u);
  row.id = "I2", row.verdict = "withdrawn", row.supersedes = "I1";
  must(job.append(row));
  EXPECT_TRUE(must(kept.catch_up()));
  EXPECT_TRUE(kept.io_results().rows.empty());
  EXPECT_FALSE(must(kept.catch_up()));
  EXPECT_EQ(&kept.state(), state);
  EXPECT_EQ(kept.state().readings().rows.size(), 1u);
}

TEST_F(KeptUpToDate, ReadingsOfAFileAreTakenInWhole) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  LiveJob live = this->live();
  JobRows rows;
  rows.readings = must(load_readings(RINGTRUE_NETLISTS "/quickstart/readings.csv"));
  rows.meters = must(load_meters(RINGTRUE_NETLISTS "/quickstart/meters.csv"));
  must(job.append(rows));
  EXPECT_TRUE(must(live.catch_up()));
  EXPECT_EQ(live.state().readings().rows.size(), rows.readings->rows.size());
  EXPECT_EQ(live.state().findings().clusters.size(), 2u);
}

/// Rows of a job can't be mended, so what a drawing lacks in them must not keep the rest from being judged.
TEST_F(KeptUpToDate, WhatTheDrawingLacksIsUnknownToIt) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  LiveJob live = this->live();
  take(job, {"S1:14", "A1:0.1", "open"});
  const std::string condition = take(job, {"S1:14", "A1:0.1", "beep", "S9=operated"});
  take(job, {"X9:4", "A1:0.0", "open"});
  take(job, {"S1:14", "A1:0.1", "beep", "power=on"});
  happen(job, "repair", "X9:99; K9:1");
  EXPECT_TRUE(must(live.catch_up()));
  take(job, {"X1:4", "A1:0.0", "open"});
  EXPECT_TRUE(must(live.catch_up()));
  const Comparison& comparison = live.state().comparison();
  EXPECT_EQ(comparison.unknown, 3u);
  EXPECT_EQ(comparison.disagree, 2u);
  EXPECT_EQ(comparison.unknown_points.size(), 3u);
  EXPECT_EQ(comparison.unknown_clamps.size(), 2u);
  LiveJob afresh = this->live();
  EXPECT_EQ(everything(live, {}), everything(afresh, {}));
  withdraw(job, condition);
  EXPECT_TRUE(must(live.catch_up()));
  EXPECT_EQ(live.state().comparison().unknown, 2u);
}

TEST_F(KeptUpToDate, ARevisionThatDropsPartsAndClampsIsTakenOver) {
  Job job = job_of(written("1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\npart K2 coil A1 A2\n"));
  LiveJob live = this->live();
  take(job, {"K1:A1", "X1:1.int", "beep"});
  take(job, {"K2:A1", "X1:2.int", "open", "K2=unplugged"});
  happen(job, "repair", "K2:A1");
  happen(job, "temporary-made", "X1:2.int");
  must(live.catch_up());
  EXPECT_EQ(live.state().comparison().unknown, 0u);
  must(job.append_netlist(written("1 K1:A1 X1:1.int\n")));
  EXPECT_TRUE(must(live.catch_up()));
  EXPECT_EQ(live.state().comparison().unknown, 0u);
  EXPECT_EQ(live.state().comparison().stale, 1u);
  EXPECT_EQ(live.state().comparison().agree, 1u);
  EXPECT_EQ(live.state().comparison().unknown_clamps.size(), 2u);
  EXPECT_EQ(open_temporary_changes(live.events()).size(), 1u) << "it stands in the panel still";
  EXPECT_TRUE(LiveJob::open(another()));
}

TEST_F(KeptUpToDate, AResultGoesByWhatARevisionTouchedHoweverItComesIn) {
  const std::string text =
      "1 A1:0 X1:1.int\n2 A1:1 X1:2.int\nchannel A1:0 DI X1:1.ext\nchannel A1:1 DI X1:2.ext\n";
  Job job = job_of(written(text));
  LiveJob live = this->live();
  const auto tried = [&](std::string_view channel) {
    const std::string id = next_id(), time = next_time();
    IoResultRow row;
    row.channel = channel, row.stimulus = "jumper", row.verdict = "pass", row.by = "A", row.time = time;
    row.id = id;
    must(job.append(row));
    must(live.catch_up());
  };
  const auto outdated = [&] {
    std::vector<std::string> all;
    for (const IoResult& result : live.io_results().rows) all.push_back(result.outdated.value_or("newest"));
    return all;
  };
  tried("A1:0"), tried("A1:1");
  must(job.append_netlist(written(text + "3 X1:2.int X1:3.int\n")));
  must(live.catch_up());
  const std::string why = "wire 3 was added at X1:2.int by revision 2 of the netlist";
  EXPECT_EQ(outdated(), (std::vector<std::string>{"", why}));
  tried("A1:1");
  EXPECT_EQ(outdated(), (std::vector<std::string>{"", why, "newest"})) << "results come in by themselves";
}

TEST_F(KeptUpToDate, AResultOfAnEarlierRevisionThatIsImportedGoesByWhatTheNewestTouched) {
  const std::string text = "1 A1:0 X1:1.int\nchannel A1:0 DI X1:1.ext\n";
  Job job = job_of(written(text));
  const std::string mark = NetlistMark{1, must(job.contents()).netlists.front().sha256}.text();
  must(job.append_netlist(written(text + "3 X1:1.int X1:3.int\n")));
  LiveJob live = this->live();
  JobRows rows;
  rows.io_results = must(load_io_results(folder_.write(
      "results.csv",
      "channel,stimulus,verdict,time,by,id,netlist\nA1:0,jumper,pass,2026-03-02T09:00:00Z,A,I1," + mark +
          "\n")));
  must(job.append(rows));
  EXPECT_TRUE(must(live.catch_up()));
  ASSERT_EQ(live.io_results().rows.size(), 1u);
  EXPECT_EQ(live.io_results().rows[0].outdated, "wire 3 was added at X1:1.int by revision 2 of the netlist");
  EXPECT_FALSE(must(live.catch_up()));
}

TEST_F(KeptUpToDate, TheOldDrawingLivesAsLongAsSomebodyHoldsIt) {
  Job job = job_of(written("1 K1:A1 X1:1.int\n"));
  LiveJob live = this->live();
  const std::shared_ptr<const Drawing> old = live.drawing();
  (void)live.upcoming(10);
  must(job.append_netlist(written("1 K1:A1 X1:1.int\n2 K1:A2 X1:2.int\n")));
  EXPECT_TRUE(must(live.catch_up()));
  EXPECT_NE(live.drawing(), old);
  EXPECT_EQ(old->netlist.conductors.size(), 1u);
  EXPECT_EQ(live.drawing()->netlist.conductors.size(), 2u);
  EXPECT_EQ(live.progress().planned, 2u);
  take(job, {"K1:A1", "X1:1.int", "beep"});
  const auto kept = live.drawing();
  EXPECT_TRUE(must(live.catch_up()));
  EXPECT_EQ(live.drawing(), kept) << "a reading makes no drawing anew";
}

}  // namespace
}  // namespace ringtrue::testing
