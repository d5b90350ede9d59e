#include "cli/log/session.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "support/temp_folder.hpp"

namespace ringtrue::cli::log {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

template <class T>
T must(Result<T> result) {
  EXPECT_TRUE(result) << to_text(result.error().front());
  return std::move(result.value());
}

/// Sessions in one job of the quick start.
class LogSession : public testing::Test {
 protected:
  LogSession() { must(create_job(path_, {RINGTRUE_NETLISTS "/quickstart"})); }

  struct Bench {
    std::string said;
    std::optional<Session> session;

    /// What is said to the line, errors too.
    std::string enter(std::string_view line) {
      said.clear();
      if (const auto taken = session->take(line); !taken) said += "error: " + to_text(taken.error().front());
      return said;
    }
    std::string propose() {
      said.clear();
      session->propose();
      return said;
    }
  };

  std::unique_ptr<Bench> bench(const std::string& by) {
    auto made = std::make_unique<Bench>();
    Session::Options options;
    options.by = by;
    made->session =
        must(Session::open(path_, options, [&said = made->said](std::string_view text) { said += text; }));
    return made;
  }
  [[nodiscard]] JournalReading row(const std::string& id) const {
    return must(must(open_job(path_)).find_reading(id)).value();
  }
  [[nodiscard]] std::size_t rows() const { return must(must(open_job(path_)).journal(SIZE_MAX)).size(); }

  testing_support::ScopedTempFolder folder_;
  std::filesystem::path path_ = folder_.path() / "panel.rtj";
};

TEST_F(LogSession, AReadingIsAcknowledgedInOneLine) {
  const auto ann = bench("Ann");
  EXPECT_EQ(ann->enter("g1:+ x1:1.int b"), "R1  G1:+ to X1:1.int, beep: agrees\n");
  EXPECT_EQ(ann->enter("13 b"), "R2  A1:L+ to K1:11, beep: agrees\n");
  EXPECT_EQ(ann->enter("hopper_full x1:4 b"), "R3  A1:0.0 to X1:4, beep: agrees\n");
  EXPECT_EQ(ann->enter("x1:5 23.9 V"),
            "R4  X1:5, 23.9 V: noted; it judges no wire, and helps ringtrue locate\n");
  EXPECT_EQ(row("R2").by, "Ann");
  EXPECT_LT(row("R1").time, row("R2").time);
}

TEST_F(LogSession, WhatIsBesideAReading) {
  const auto ann = bench("Ann");
  ann->enter("witness Bob");
  ann->enter("meter M7");
  ann->enter("note clamp was loose");
  EXPECT_EQ(ann->session->prompt(), "at rest, with a note> ");
  ann->enter("when S1=operated");
  ann->enter("s1:13 s1:14 b");
  EXPECT_EQ(ann->session->prompt(), "S1 operated> ");
  ann->enter("by Cy");
  ann->enter("s1:13 s1:14 b");
  EXPECT_EQ(row("R1").witness, "Bob");
  EXPECT_EQ(row("R1").meter, "M7");
  EXPECT_EQ(row("R1").note, "clamp was loose");
  EXPECT_EQ(row("R1").conditions, "S1=operated");
  EXPECT_EQ(row("R2").note, "");
  EXPECT_EQ(row("R2").by, "Cy");
}

TEST_F(LogSession, NothingIsLoggedOfALineThatIsWrong) {
  const auto ann = bench("Ann");
  EXPECT_THAT(ann->enter("g1:+ x1:9 b"), AllOf(HasSubstr("no such point"), HasSubstr("nearest: X1:1")));
  EXPECT_THAT(ann->enter("x1:6 b"), HasSubstr("a reading needs two points"));
  EXPECT_THAT(ann->enter("x1:9 b"), HasSubstr("nearest: X1:1"));
  EXPECT_THAT(ann->enter("77 b"), HasSubstr("no such wire"));
  EXPECT_THAT(ann->enter("7"), HasSubstr("this may be ohms or a wire"));
  EXPECT_THAT(ann->enter("5 7"), HasSubstr("this may be ohms or a wire"));
  EXPECT_THAT(ann->enter("lit"), HasSubstr("POINT lit"));
  EXPECT_THAT(ann->enter("findngs"), HasSubstr("nearest: findings"));
  EXPECT_THAT(ann->enter("when S9=operated"), HasSubstr("no such part"));
  EXPECT_THAT(ann->enter("undo"), HasSubstr("no reading was logged here"));
  EXPECT_THAT(ann->enter("undo R4"), HasSubstr("no such reading"));
  EXPECT_THAT(ann->enter("repair 1"), HasSubstr("there is no finding"));
  EXPECT_THAT(ann->enter("changed X1:77 out"), HasSubstr("no such point"));
  EXPECT_THAT(ann->enter("io START_AUGER pushed pass"), HasSubstr("nothing that a test shows"));
  EXPECT_EQ(rows(), 0u);
}

TEST_F(LogSession, AValueAloneIsTheReadingThatWasShownWhateverOthersDoMeanwhile) {
  const auto ann = bench("Ann"), bob = bench("Bob");
  EXPECT_THAT(ann->propose(), HasSubstr("Next  G1:+  (wire 1, sheet 1.1)\n      X1:2.ext"));
  bob->propose();
  EXPECT_EQ(bob->enter("b"), "R1  G1:+ to X1:2.ext, beep: agrees\n");
  EXPECT_THAT(ann->enter("b"),
              HasSubstr("R2  G1:+ to X1:2.ext, beep: agrees\nElsewhere R1  G1:+ to X1:2.ext, beep, Bob\n"));
  EXPECT_THAT(ann->propose(), Not(HasSubstr("X1:2.ext")));
  bob->enter("by Bo");
  EXPECT_THAT(bob->propose(), HasSubstr("Elsewhere R2  G1:+ to X1:2.ext, beep, Ann\n"));
  EXPECT_THAT(bob->propose(), Not(HasSubstr("Elsewhere")));
}

TEST_F(LogSession, AValueAloneIsNotTakenForAReadingNobodySaw) {
  const auto ann = bench("Ann");
  for (int i = 0; i < 3; ++i)
    EXPECT_THAT(ann->enter("b"), AllOf(HasSubstr("wasn't shown before"), Not(HasSubstr("Next"))));
  EXPECT_EQ(rows(), 0u);
  EXPECT_THAT(ann->enter("next 1"), HasSubstr("G1:+ to X1:2.ext"));
  EXPECT_EQ(ann->enter("b"), "R1  G1:+ to X1:2.ext, beep: agrees\n");
  EXPECT_THAT(ann->enter("b"), HasSubstr("wasn't shown before"));
  ann->enter("skip");
  EXPECT_THAT(ann->enter("next 1"), Not(HasSubstr("error")));
  EXPECT_EQ(rows(), 1u);
}

TEST_F(LogSession, ABareOneIsNotTakenForOhms) {
  const auto ann = bench("Ann");
  ann->propose();
  const std::string refused = "error: value: a bare 1 may be ohms, a yes, or a meter over range";
  EXPECT_THAT(ann->enter("S1:14 A1:0.1 1"), HasSubstr(refused));
  EXPECT_THAT(ann->enter("1"), HasSubstr("may be ohms or a wire")) << "there is a wire 1";
  EXPECT_EQ(rows(), 0u);
  for (const std::string_view line : {"S1:14 A1:0.1 1 ohm", "S1:14 A1:0.1 1.0", "S1:14 A1:0.1 0"})
    EXPECT_THAT(ann->enter(line), Not(HasSubstr("error"))) << line;
  EXPECT_THAT(ann->enter("correct 1"), HasSubstr(refused));
  EXPECT_EQ(rows(), 3u);
}

TEST_F(LogSession, ValuesForAListEndWhereOthersReadMeanwhile) {
  const auto ann = bench("Ann"), bob = bench("Bob");
  EXPECT_THAT(ann->enter("next 3"), HasSubstr("G1:+ to X1:2.ext"));
  EXPECT_THAT(ann->enter("b"), HasSubstr("R1  G1:+ to X1:2.ext"));
  EXPECT_THAT(ann->enter("b"), HasSubstr("R2  G1:+ to X1:3.ext"));
  bob->propose();
  bob->enter("b");
  EXPECT_THAT(ann->enter("b"), HasSubstr("Elsewhere R3"));
  EXPECT_THAT(ann->enter("b"), HasSubstr("wasn't shown before"));
  EXPECT_EQ(rows(), 4u);
}

TEST_F(LogSession, AValueAloneNeedsTheConditionOfWhatIsProposed) {
  const auto ann = bench("Ann");
  ann->propose();
  ann->enter("when S1=operated");
  EXPECT_THAT(ann->propose(), HasSubstr("first bring all to rest, then type rest"));
  EXPECT_THAT(ann->enter("b"), HasSubstr("under another condition; nothing was logged"));
  EXPECT_EQ(rows(), 0u);
  ann->enter("set");
  EXPECT_THAT(ann->enter("b"), HasSubstr("R1  G1:+ to X1:2.ext, beep"));
}

TEST_F(LogSession, WhatIsSkippedComesAgainWhenNothingElseIsLeft) {
  const auto ann = bench("Ann");
  const std::string first = ann->propose();
  ann->enter("skip");
  EXPECT_NE(ann->propose(), first);
  std::size_t others = 1;
  while (ann->propose() != "Only what was skipped is left.\n" + first && others < 100) {
    ann->enter("skip");
    ++others;
  }
  EXPECT_EQ(others, 10u) << "of the ten of the plan";
}

TEST_F(LogSession, UndoTakesTheReadingsLoggedHereOneByOne) {
  const auto ann = bench("Ann"), bob = bench("Bob");
  ann->enter("g1:+ x1:1.int b");
  bob->enter("13 b");
  ann->enter("k1:14 x1:5.int o");
  EXPECT_THAT(ann->enter("undo"),
              AllOf(HasSubstr("R4  undoes R3: K1:14 to X1:5.int, open"), HasSubstr("is gone")));
  EXPECT_THAT(ann->enter("undo"), HasSubstr("R5  undoes R1"));
  EXPECT_THAT(ann->enter("undo"), HasSubstr("no reading was logged here"));
  EXPECT_THAT(ann->enter("undo r1"), HasSubstr("no longer counts since R5"));
  EXPECT_THAT(ann->enter("undo r2"), HasSubstr("R6  undoes R2"));
  EXPECT_EQ(row("R3").superseded_by, "R4");
}

TEST_F(LogSession, ACorrectionStandsAtTheTimeOfItsReading) {
  const auto ann = bench("Ann");
  ann->enter("k1:14 x1:5.int o");
  EXPECT_THAT(ann->enter("repair 1"), HasSubstr("To be read again:\n  K1:14 to X1:5.int\n"));
  EXPECT_THAT(ann->enter("correct b"), HasSubstr("R2  K1:14 to X1:5.int, beep: agrees"));
  EXPECT_EQ(row("R2").supersedes, "R1");
  EXPECT_EQ(row("R2").time, row("R1").time);
  EXPECT_THAT(ann->enter("next 1"), HasSubstr("K1:14 to X1:5.int")) << "the repair is later than the reading";
}

TEST_F(LogSession, ReadingsThatContradictEachOtherAreTold) {
  const auto ann = bench("Ann");
  ann->enter("g1:+ x1:1.int b");
  EXPECT_THAT(ann->enter("x1:1.int g1:+ o"),
              HasSubstr("G1:+ to X1:1.int: R1 beep, R2 open contradict each other"));
  EXPECT_FALSE(ann->session->is_good());
  ann->enter("undo");
  EXPECT_TRUE(ann->session->is_good());
}

TEST_F(LogSession, OpenChangesAreCountedAndPutBackByNumber) {
  const auto ann = bench("Ann"), bob = bench("Bob");
  EXPECT_THAT(ann->enter("changed x1:1.int; k1:a1 pulled"), HasSubstr("1 X1:1.int; K1:A1: pulled, Ann"));
  EXPECT_EQ(ann->session->prompt(), "at rest, 1 change open> ");
  EXPECT_THAT(bob->propose(), AllOf(HasSubstr("Elsewhere E1"), HasSubstr("Not put back yet")));
  EXPECT_THAT(bob->enter("undone 1"), HasSubstr("E2  X1:1.int; K1:A1: put back: pulled"));
  ann->propose();
  EXPECT_EQ(ann->session->prompt(), "at rest> ");
}

TEST_F(LogSession, AFindingThatGetsAnotherNumberIsToldBeforeItCanBeMistaken) {
  const auto ann = bench("Ann");
  EXPECT_THAT(ann->enter("a1:1.1 p1:x1 o"), HasSubstr("Finding 1 of 1"));
  EXPECT_THAT(ann->enter("k1:14 x1:5.int o"), HasSubstr("Finding 2 of 2"));
  EXPECT_THAT(ann->enter("undo R1"),
              AllOf(HasSubstr("Finding 1 is gone: Wire 11"), HasSubstr("Finding 2 is finding 1 now.")));
  EXPECT_THAT(ann->enter("repair 1"), HasSubstr("clamps opened: K1:14; X1:5.int"));
}

TEST_F(LogSession, AResultSaysWhatItShows) {
  const auto ann = bench("Ann");
  EXPECT_EQ(ann->enter("io start_auger operated pass led=lit"),
            "I1  A1:0.1 START_AUGER, operated: pass, though it shows LED only\n");
  EXPECT_EQ(ann->enter("io %IX0.1 operated pass led=lit bit=1 only_this=yes"),
            "I2  A1:0.1 START_AUGER, operated: pass\n");
  const IoResults results = must(must(open_job(path_)).panel()).io_results;
  ASSERT_EQ(results.rows.size(), 2u);
  EXPECT_EQ(results.rows.front().by, "Ann");
  EXPECT_EQ(results.rows.front().revision, "A");
}

TEST_F(LogSession, APassOfAnEarlierRevisionIsToldApartWhereItsChannelWasTouched) {
  bench("Ann")->enter("start_auger lit dark bit=1 only=yes");
  const auto drawn = folder_.path() / "drawn";
  std::filesystem::copy(RINGTRUE_NETLISTS "/quickstart", drawn);
  std::ofstream(drawn / "panel.csv") << "key,value\npanel,GD1\nrevision,B\n";
  must(must(open_job(path_)).append_netlist(drawn));
  EXPECT_THAT(bench("Cleo")->enter("state"), HasSubstr("1 of 4 channels pass\n")) << "another label alone";
  std::ofstream(drawn / "conductors.csv", std::ios::app) << "99,A1:0.1,X1:9.int,wire,BU,0.75,1,,,1.4,\n";
  must(must(open_job(path_)).append_netlist(drawn));
  const auto ben = bench("Ben");
  EXPECT_THAT(ben->enter("state"), HasSubstr("0 of 4 channels pass, 1 other revision"));
  ben->enter("start_auger lit dark bit=1 only=yes");
  EXPECT_THAT(ben->enter("state"), HasSubstr("1 of 4 channels pass\n"));
}

TEST_F(LogSession, ATagOfTwoChannelsIsNotGuessed) {
  const auto drawn = folder_.path() / "drawn";
  std::filesystem::copy(RINGTRUE_NETLISTS "/quickstart", drawn);
  std::ofstream(drawn / "channels.csv") << "point,type,tag\nA1:0.0,DI,TWICE\nA1:0.1,DI,TWICE\n";
  path_ = folder_.path() / "twice.rtj";
  must(create_job(path_, {drawn}));
  const auto ann = bench("Ann");
  for (const char* line : {"io twice lit dark fail", "test TWICE"})
    EXPECT_THAT(ann->enter(line), HasSubstr("several channels are called so")) << line;
  EXPECT_THAT(ann->enter("io TWICE lit"), HasSubstr("A1:0.0 or A1:0.1"));
  EXPECT_THAT(ann->enter("state"), HasSubstr("0 rows added"));
}

TEST_F(LogSession, AQuestionLogsNothing) {
  const auto ann = bench("Ann");
  EXPECT_EQ(ann->enter("g1:+ x1:1.int"), "G1:+ to X1:1.int: drawn a beep\n");
  EXPECT_EQ(ann->enter("expect 13"), "A1:L+ to K1:11: drawn a beep\n");
  ann->enter("when K1=operated");
  EXPECT_EQ(ann->enter("k1:11 k1:14"), "K1:11 to K1:14, K1 operated: drawn a beep\n");
  EXPECT_EQ(rows(), 0u);
}

TEST_F(LogSession, FindingsAreTheWholeReportsAndQuitEnds) {
  const auto ann = bench("Ann");
  EXPECT_EQ(ann->enter("findings"), "No findings.\n");
  ann->enter("k1:14 x1:5.int o");
  // Wire 14 joins K1:14 and X1:5 in netlists/quickstart.
  EXPECT_THAT(ann->enter("findings"),
              AllOf(HasSubstr("Finding 1 of 1"), HasSubstr("Wire 14 does not conduct"), HasSubstr("If so: "),
                    HasSubstr("R1")));
  EXPECT_THAT(ann->enter("quit now"), HasSubstr("error: "));
  EXPECT_FALSE(ann->session->is_over());
  ann->enter("quit");
  EXPECT_TRUE(ann->session->is_over());
}

TEST_F(LogSession, AMeterThatTheJobDoesNotHaveIsNotTaken) {
  const auto meters = folder_.path() / "meters.csv";
  std::ofstream(meters) << "meter,kind,threshold\nM7,continuity tester,30\nM8,continuity tester,50\n";
  path_ = folder_.path() / "meters.rtj";
  must(create_job(path_, {RINGTRUE_NETLISTS "/quickstart", {}, meters}));
  const auto ann = bench("Ann");
  EXPECT_THAT(ann->enter("meter M70"),
              AllOf(HasSubstr("the job has no such meter"), HasSubstr("M70"), HasSubstr("M7")));
  ann->enter("g1:+ x1:1.int b");
  EXPECT_EQ(row("R1").meter, "");
  ann->enter("meter M8");
  ann->enter("13 b");
  EXPECT_EQ(row("R2").meter, "M8");
  Session::Options options;
  options.by = "Ann", options.meter = "M9";
  const auto opened = Session::open(path_, options, [](std::string_view) {});
  ASSERT_FALSE(opened);
  EXPECT_THAT(to_text(opened.error().front()), HasSubstr("M9"));
}

}  // namespace
}  // namespace ringtrue::cli::log
