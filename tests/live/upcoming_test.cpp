// What is read next, followed to its end on panels that are simulated (simulated_panel.hpp).
#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>

#include "diagnose/landing.hpp"
#include "live/live_support.hpp"
#include "live/simulated_panel.hpp"
#include "ringtrue/expect/explain.hpp"
#include "ringtrue/live/contradictions.hpp"
#include "ringtrue/live/entry.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/random_netlist.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

class ReadNext : public LiveTest {
 protected:
  static bool same_reading(const Upcoming& x, const Upcoming& y) {
    return x.from == y.from && x.to == y.to && x.conditions == y.conditions;
  }
  static bool holds(const std::vector<Upcoming>& all, const Upcoming& one) {
    return std::any_of(all.begin(), all.end(),
                       [&](const Upcoming& other) { return same_reading(one, other); });
  }

  /// `again` and `finding` readings expect what `explain` says of them.
  static void check_expected(const LiveJob& live, const Upcoming& reading) {
    if (reading.why == Upcoming::Why::plan) return;
    const ConductionGraph& graph = live.drawing()->graph;
    Probing probing;
    probing.from = reading.from_point, probing.to = reading.to_point;
    const Expectation said = explain(graph, probing, reading.conditions).value();
    SCOPED_TRACE(line_of(reading));
    if (reading.expected == Expected::ohms) {
      const bool is_either = reading.ohms == said.to_buzzer && said.buzzer == Buzzer::either;
      EXPECT_TRUE(reading.ohms == said.ohms || is_either);
    } else {
      EXPECT_EQ(said.buzzer, reading.expected == Expected::beep ? Buzzer::beeps : Buzzer::silent);
    }
  }

  /// Takes the reading that is offered first until none is. Gives how many.
  std::size_t follow(Job& job, LiveJob& live, SimulatedPanel& panel, bool only_again = false) {
    std::size_t taken = 0;
    for (; taken < 5000; ++taken) {
      const std::vector<Upcoming> all = live.upcoming(1);
      if (all.empty() || (only_again && all.front().why != Upcoming::Why::again)) return taken;
      check_expected(live, all.front());
      take(job, {all.front().from, all.front().to, panel.value(all.front()), all.front().conditions});
      must(live.catch_up());
      const std::vector<Upcoming> left = live.upcoming(1);
      if (!left.empty() && same_reading(left.front(), all.front())) {
        ADD_FAILURE() << "offered again at once: " << line_of(left.front());
        return taken;
      }
    }
    ADD_FAILURE() << "no end to it";
    return taken;
  }

  void expect_all_done(LiveJob& live) {
    const ConductionGraph& graph = live.drawing()->graph;
    const Findings& findings = live.state().findings();
    EXPECT_TRUE(findings.clusters.empty());
    EXPECT_EQ(live.progress().done, live.progress().planned);
    const Plan plan = make_plan(graph);
    std::set<ElementId> can_be_proven;
    for (const PlannedReading& reading : plan.readings)
      can_be_proven.insert(reading.proves.begin(), reading.proves.end());
    EXPECT_EQ(can_be_proven.size(), plan.targets - plan.not_covered.size());
    for (const ElementId e : can_be_proven)
      EXPECT_NE(findings.proven[index(e)], 0) << graph.element_name(e) << " isn't proven";
  }
};

TEST_F(ReadNext, WithoutReadingsItIsThePlanInOrder) {
  for (const char* name : {"/quickstart", "/grain-dryer"}) {
    (void)std::filesystem::remove(at("a.rtj"));
    { (void)job_of(std::string(RINGTRUE_NETLISTS) + name); }
    LiveJob live = this->live();
    const ConductionGraph& graph = live.drawing()->graph;
    const Plan plan = make_plan(graph);
    const Readings as_planned = as_readings(plan, graph);
    const std::vector<Upcoming> all = live.upcoming(100'000);
    ASSERT_EQ(all.size(), plan.readings.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
      EXPECT_EQ(all[i].from, as_planned.rows[i].from);
      EXPECT_EQ(all[i].to, as_planned.rows[i].to);
      EXPECT_EQ(all[i].conditions, as_planned.conditions[as_planned.rows[i].condition]);
      EXPECT_EQ(all[i].expected, plan.readings[i].expected);
      EXPECT_EQ(all[i].proves, plan.readings[i].proves);
      EXPECT_EQ(word(all[i].why), "plan");
    }
    EXPECT_EQ(live.progress().planned, all.size());
    EXPECT_EQ(live.progress().done, 0u);
    for (const std::size_t most : {0u, 1u, 7u}) EXPECT_EQ(live.upcoming(most).size(), most);
  }
}

TEST_F(ReadNext, EveryReadingTakenLeavesTheList) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  LiveJob live = this->live();
  std::vector<Upcoming> left = live.upcoming(1000);
  std::mt19937 random(test_seed());
  SimulatedPanel panel(*live.drawing());
  while (!left.empty()) {
    // Not in order, and by leads turned round.
    const Upcoming one = left[random() % left.size()];
    take(job, {one.to, one.from, panel.value(one), one.conditions});
    must(live.catch_up());
    const std::vector<Upcoming> now = live.upcoming(1000);
    EXPECT_FALSE(holds(now, one)) << line_of(one);
    EXPECT_LT(now.size(), left.size());
    for (const Upcoming& reading : now) EXPECT_TRUE(holds(left, reading)) << "new: " << line_of(reading);
    if (HasFailure()) return;
    left = now;
  }
  expect_all_done(live);
}

TEST_F(ReadNext, FollowedOnASoundPanelProvesAllThatCanBeProven) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  LiveJob live = this->live();
  SimulatedPanel panel(*live.drawing());
  const std::size_t planned = live.progress().planned;
  EXPECT_EQ(follow(job, live, panel), planned);
  expect_all_done(live);
}

TEST_F(ReadNext, FollowedOnTheSoundGrainDryerProvesAllThatCanBeProven) {
  Job job = job_of(RINGTRUE_NETLISTS "/grain-dryer");
  LiveJob live = this->live();
  SimulatedPanel panel(*live.drawing());
  const std::size_t planned = live.progress().planned;
  EXPECT_LE(follow(job, live, panel), planned);
  expect_all_done(live);
}

TEST_F(ReadNext, FollowedOnSoundRandomPanelsProvesAllThatCanBeProven) {
  for (unsigned round = 0; round < 40; ++round) {
    const std::string text = random_small_panel(10'000 * test_seed() + round);
    SCOPED_TRACE(text);
    (void)std::filesystem::remove(at("a.rtj"));
    Job job = job_of(written(text));
    LiveJob live = this->live();
    SimulatedPanel panel(*live.drawing());
    (void)follow(job, live, panel);
    expect_all_done(live);
    if (HasFailure()) return;
  }
}

/// A fault, and what following the list made of it.
class OneFault : public ReadNext {
 protected:
  struct Tally {
    std::size_t faults = 0, found = 0, first = 0, unseen = 0;
  };

  static bool lists(const Diagnosis& diagnosis, const Fault& fault, const Landing& landing) {
    std::vector<std::vector<Fault>> sets = diagnosis.equivalent;
    sets.push_back(diagnosis.faults);
    return std::any_of(sets.begin(), sets.end(), [&](const std::vector<Fault>& set) {
      return set.size() == 1 && same_fault(set.front(), fault, landing);
    });
  }

  void look_for(const std::filesystem::path& netlist_path, const Fault& fault, Tally& tally) {
    (void)std::filesystem::remove(at("a.rtj"));
    Job job = job_of(netlist_path);
    LiveJob live = this->live();
    const ConductionGraph& graph = live.drawing()->graph;
    SCOPED_TRACE(text_of(fault, graph));
    SimulatedPanel panel(*live.drawing());
    panel.inject(fault);
    (void)follow(job, live, panel);
    ++tally.faults;
    const Findings& findings = live.state().findings();
    if (live.state().comparison().disagree == 0) {
      EXPECT_TRUE(findings.clusters.empty());
      if (fault.kind == FaultKind::open || fault.kind == FaultKind::missing_bridge) {
        EXPECT_EQ(findings.proven[index(fault.element)], 0) << "a break stands as proven";
      }
      ++tally.unseen;
      return;
    }
    ASSERT_FALSE(findings.clusters.empty());
    const Landing landing(graph, live.state().comparison().conditions.overlays);
    ++tally.found;
    std::size_t rank = SIZE_MAX;
    for (const Cluster& cluster : findings.clusters)
      for (const Diagnosis& diagnosis : cluster.diagnoses)
        if (lists(diagnosis, fault, landing)) rank = std::min(rank, diagnosis.rank);
    // What each of two findings takes for a fault of its own may be one that explains both.
    if (findings.clusters.size() == 1) {
      EXPECT_NE(rank, SIZE_MAX) << "not among the explanations";
    }
    if (rank == 1) ++tally.first;
  }

  static Fault break_of(ElementId e, const Landing& landing) {
    Fault fault;
    fault.kind = landing.open_kind(e), fault.element = e;
    return fault;
  }

  static void print(const char* what, const Tally& tally) {
    std::printf("%s: %zu faults, %zu found, %zu of them likeliest; %zu unseen\n", what, tally.faults,
                tally.found, tally.first, tally.unseen);
  }
};

TEST_F(OneFault, OnTheQuickStartIsFoundByFollowingTheList) {
  const std::filesystem::path path = RINGTRUE_NETLISTS "/quickstart";
  const Drawing drawing(std::move(load_netlist(path).value()));
  const Landing landing(drawing.graph);
  std::set<ElementId> proven_by_plan;
  const Plan plan = make_plan(drawing.graph);
  for (const PlannedReading& reading : plan.readings)
    proven_by_plan.insert(reading.proves.begin(), reading.proves.end());
  std::map<FaultKind, std::vector<Fault>> by_kind;
  for (const Fault& fault : every_fault(drawing.graph, landing, false)) by_kind[fault.kind].push_back(fault);
  std::mt19937 random(test_seed());
  for (auto& [kind, faults] : by_kind) {
    Tally tally;
    std::size_t covered = 0;
    std::shuffle(faults.begin(), faults.end(), random);
    const bool is_break = kind == FaultKind::open || kind == FaultKind::missing_bridge;
    for (std::size_t i = 0; i < std::min<std::size_t>(faults.size(), is_break ? 100 : 6); ++i) {
      look_for(path, faults[i], tally);
      if (HasFailure()) return;
      if (is_break) covered += proven_by_plan.count(faults[i].element);
    }
    print(std::string(word(kind)).c_str(), tally);
    if (is_break || kind == FaultKind::swap) {
      EXPECT_GT(tally.first, 0u);
    }
    if (is_break) {
      EXPECT_EQ(tally.found, covered) << "the plan shows every break that it covers, and no other";
    }
  }
}

TEST_F(OneFault, ABreakOfTheGrainDryerIsFoundByFollowingTheList) {
  const std::filesystem::path path = RINGTRUE_NETLISTS "/grain-dryer";
  const Drawing drawing(std::move(load_netlist(path).value()));
  const Landing landing(drawing.graph);
  std::vector<Fault> breaks;
  const Plan plan = make_plan(drawing.graph);
  for (const PlannedReading& reading : plan.readings)
    for (const ElementId e : reading.proves) breaks.push_back(break_of(e, landing));
  std::mt19937 random(test_seed());
  Tally tally;
  for (int i = 0; i < 3; ++i) look_for(path, breaks[random() % breaks.size()], tally);
  print("breaks", tally);
  EXPECT_EQ(tally.unseen, 0u);
}

TEST_F(ReadNext, AReadingUnderPowerIsNotOfferedToTheBuzzer) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  LiveJob live = this->live();
  take(job, {"X1:3.int", "G1:-", "23.9V", "power=on"});
  take(job, {"P1:x1", "", "lit", "power=on"});
  take(job, {"P1:x1", "", "dark"});
  happen(job, "repair", "X1:3.int; P1:x1; P1:x2; G1:-");
  must(live.catch_up());
  for (const Upcoming& reading : live.upcoming(1000)) {
    EXPECT_EQ(reading.conditions.find("power"), std::string::npos) << line_of(reading);
    EXPECT_LT(index(reading.to_point), 1'000'000u) << line_of(reading);
  }
}

TEST_F(ReadNext, AContradictionCountsAsReadUntilOneOfTheTwoIsWithdrawn) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  LiveJob live = this->live();
  const Upcoming first = live.upcoming(1).front();
  const std::string open = take(job, {first.from, first.to, "open", first.conditions});
  must(live.catch_up());
  EXPECT_EQ(live.state().findings().clusters.size(), 1u);
  const std::string beep = take(job, {first.from, first.to, "beep", first.conditions});
  must(live.catch_up());
  EXPECT_EQ(live.state().comparison().unstable, 2u);
  ASSERT_EQ(contradictions(live.state()).size(), 1u);
  EXPECT_EQ(
      contradiction_line(live.state(), contradictions(live.state()).front()),
      first.from + " to " + first.to + ": " + open + " open, " + beep +
          " beep contradict each other, so none of them counts. A loose clamp, or one was misread: read "
          "again, then undo the wrong one.");
  EXPECT_TRUE(live.state().findings().clusters.empty());
  SimulatedPanel panel(*live.drawing());
  (void)follow(job, live, panel);
  for (const ElementId e : first.proves)
    EXPECT_NE(live.state().findings().proven[index(e)], 0) << "planned further, by other readings";
  withdraw(job, open);
  must(live.catch_up());
  EXPECT_TRUE(contradictions(live.state()).empty());
  for (const ElementId e : first.proves) EXPECT_NE(live.state().findings().proven[index(e)], 0);
  expect_all_done(live);
}

TEST_F(ReadNext, AMeterAddedLaterIsPlannedFor) {
  Job job = job_of(RINGTRUE_NETLISTS "/grain-dryer");
  LiveJob live = this->live();
  const auto lines = [](LiveJob& of) {
    std::string text;
    for (const Upcoming& reading : of.upcoming(1000)) text += line_of(reading) + "\n";
    return text;
  };
  const std::string before = lines(live);
  must(job.append(one_meter("M1", "10")));
  must(live.catch_up());
  LiveJob afresh = this->live();
  EXPECT_EQ(lines(live), lines(afresh));
  EXPECT_NE(lines(live), before) << "a buzzer with another threshold proves otherwise";
}

}  // namespace
}  // namespace ringtrue::testing
