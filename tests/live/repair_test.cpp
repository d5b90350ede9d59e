// Repairs: which clamps they open, and that afterwards nothing of the fault is left but the rows that tell of
// it.
#include "ringtrue/live/repair.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>

#include "live/live_support.hpp"
#include "live/simulated_panel.hpp"
#include "ringtrue/diagnose/possible_faults.hpp"
#include "ringtrue/live/entry.hpp"
#include "ringtrue/load/load.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue::testing {
namespace {

/// The clamps between the panel as drawn and as built: of each element that isn't the same, the ends that
/// were moved, or both where it is the element itself that is wrong.
std::set<std::string> clamps_between(const Netlist& net, const Fault& fault) {
  const OracleWiring drawn(net);
  OracleWiring built(net);
  built.inject(fault);
  std::set<std::string> clamps;
  const auto add = [&](std::uint32_t p) { clamps.insert(net.points.name(PointId{p})); };
  for (std::size_t i = 0; i < built.items().size(); ++i) {
    const OracleWiring::Item& is = built.items()[i];
    if (i >= drawn.items().size()) {
      add(is.a), add(is.b);
      continue;
    }
    const OracleWiring::Item& was = drawn.items()[i];
    if (was.a != is.a) add(was.a), add(is.a);
    if (was.b != is.b) add(was.b), add(is.b);
    if (was.is_broken != is.is_broken || was.is_exchanged != is.is_exchanged || was.lo != is.lo ||
        was.hi != is.hi)
      add(is.a), add(is.b);
  }
  return clamps;
}

class Repairs : public LiveTest {
 protected:
  static Fault reversed(ElementId e) {
    Fault fault;
    fault.kind = FaultKind::reversed, fault.element = e;
    return fault;
  }
  static std::map<FaultKind, std::vector<Fault>> faults_of(const Drawing& drawing) {
    const Readings none;
    std::map<FaultKind, std::vector<Fault>> by_kind;
    const Comparison comparison = compare(drawing.graph, none, {}).value();
    for (const PossibleFault& possible : possible_faults(drawing.graph, none, comparison))
      by_kind[possible.fault.kind].push_back(possible.fault);
    // A diode fitted the wrong way round and a wrong load are only considered beside readings of them.
    for (std::uint32_t i = 0; i < drawing.graph.element_count(); ++i) {
      const ElementId e{i};
      if (drawing.graph.is_diode(e) && drawing.graph.is_on_at_rest(e))
        by_kind[FaultKind::reversed].push_back(reversed(e));
    }
    return by_kind;
  }
};

TEST_F(Repairs, OpenEveryClampBetweenThePanelAsDrawnAndAsBuilt) {
  std::mt19937 random(test_seed());
  std::set<FaultKind> kinds;
  for (const char* name : {"/quickstart", "/grain-dryer"}) {
    const Drawing drawing(std::move(load_netlist(std::string(RINGTRUE_NETLISTS) + name).value()));
    for (auto& [kind, faults] : faults_of(drawing)) {
      if (kind == FaultKind::bad_reading) continue;
      kinds.insert(kind);
      std::shuffle(faults.begin(), faults.end(), random);
      for (std::size_t i = 0; i < std::min<std::size_t>(faults.size(), 40); ++i) {
        Diagnosis diagnosis;
        diagnosis.faults = {faults[i]};
        const std::vector<std::string> opened = clamps_to_open(diagnosis, drawing.graph);
        const std::set<std::string> as_set(opened.begin(), opened.end());
        EXPECT_EQ(as_set, clamps_between(drawing.netlist, faults[i])) << text_of(faults[i], drawing.graph);
        EXPECT_EQ(as_set.size(), opened.size()) << "each once";
      }
    }
  }
  EXPECT_EQ(kinds.size(), 10u) << "every kind but a bad reading";
}

/// A panel with one fault that is read, repaired, and read again.
class OneRepair : public Repairs {
 protected:
  struct Tally {
    std::size_t repaired = 0, invisible = 0, read_again = 0;
  };

  /// All pairs of the fault's clamps and of points beside them, at rest and with something done: as somebody
  /// who hunts it reads.
  void read_all_about(Job& job, SimulatedPanel& panel, const Drawing& drawing, const Fault& fault,
                      const std::vector<std::string>& conditions) {
    std::set<PointId> points;
    for (const std::string& clamp : clamps_between(drawing.netlist, fault)) {
      const PointId p = point(drawing.netlist, clamp);
      points.insert(p);
      const auto net = drawing.graph.points_of_net(drawing.graph.net_at_rest(p));
      for (std::size_t i = 0; i < std::min<std::size_t>(net.size(), 3); ++i) points.insert(net[i]);
    }
    for (const std::string& condition : conditions)
      for (const PointId p : points)
        for (const PointId q : points) {
          if (p == q || !panel.wiring().is_there(index(p)) || !panel.wiring().is_there(index(q))) continue;
          const bool in_ohms = fault.kind == FaultKind::wrong_value || fault.kind == FaultKind::reversed;
          if (q < p && !in_ohms) continue;
          take(job, {drawing.netlist.points.name(p), drawing.netlist.points.name(q),
                     panel.value(p, q, condition, in_ohms), condition});
        }
  }

  void repair(const std::filesystem::path& netlist_path, const Fault& fault,
              const std::vector<std::string>& conditions, Tally& tally) {
    (void)std::filesystem::remove(at("a.rtj"));
    Job job = job_of(netlist_path);
    const Drawing drawing(std::move(load_netlist(netlist_path).value()));
    SCOPED_TRACE(text_of(fault, drawing.graph));
    SimulatedPanel panel(drawing);
    panel.inject(fault);
    read_all_about(job, panel, drawing, fault, conditions);
    LiveJob live = this->live();
    if (live.state().comparison().disagree == 0) {
      ++tally.invisible;
      return;
    }
    const std::size_t rows = live.state().readings().rows.size();
    Cluster as_found;
    as_found.diagnoses.emplace_back().faults = {fault};
    const Repair repair = must(repair_of(as_found, drawing.graph, live.state().readings()));
    EXPECT_FALSE(repair.text.empty());
    happen(job, "repair", repair.points);
    panel.mend();
    must(live.catch_up());
    EXPECT_EQ(live.state().comparison().disagree, 0u) << "of the panel as it was";
    EXPECT_TRUE(live.state().findings().clusters.empty());
    while (true) {
      const std::vector<Upcoming> all = live.upcoming(1);
      if (all.empty() || all.front().why != Upcoming::Why::again) break;
      const Upcoming& one = all.front();
      take(job, {one.from, one.to, panel.value(one), one.conditions});
      must(live.catch_up());
      if (++tally.read_again > 20'000) FAIL() << "no end to it";
    }
    EXPECT_TRUE(live.state().findings().clusters.empty());
    EXPECT_EQ(live.state().comparison().disagree, 0u);
    EXPECT_EQ(live.state().comparison().unstable, 0u);
    EXPECT_GE(must(job.journal(100'000)).size(), rows) << "no row is lost";
    ++tally.repaired;
  }
};

TEST_F(OneRepair, OfEveryKindLeavesNothingOfTheFault) {
  const std::filesystem::path path = RINGTRUE_NETLISTS "/quickstart";
  const Drawing drawing(std::move(load_netlist(path).value()));
  std::mt19937 random(test_seed());
  for (auto& [kind, faults] : faults_of(drawing)) {
    if (kind == FaultKind::bad_reading) continue;
    std::shuffle(faults.begin(), faults.end(), random);
    Tally tally;
    for (std::size_t i = 0; i < std::min<std::size_t>(faults.size(), 25) && tally.repaired < 6; ++i)
      repair(path, faults[i], {"", "K1=operated", "S1=operated", "A1=unplugged"}, tally);
    std::printf("%s: %zu repaired, %zu invisible, %zu read again\n", std::string(word(kind)).c_str(),
                tally.repaired, tally.invisible, tally.read_again);
    EXPECT_GT(tally.repaired, 0u) << word(kind);
  }
}

TEST_F(OneRepair, OfDiodesAndConnectorsOfTheGrainDryer) {
  const std::filesystem::path path = RINGTRUE_NETLISTS "/grain-dryer";
  const Drawing drawing(std::move(load_netlist(path).value()));
  std::mt19937 random(test_seed());
  auto by_kind = faults_of(drawing);
  for (const FaultKind kind : {FaultKind::reversed, FaultKind::shift}) {
    std::vector<Fault>& faults = by_kind[kind];
    std::shuffle(faults.begin(), faults.end(), random);
    Tally tally;
    for (std::size_t i = 0; i < std::min<std::size_t>(faults.size(), 6) && tally.repaired < 1; ++i)
      repair(path, faults[i], {""}, tally);
    EXPECT_GT(tally.repaired, 0u) << word(kind);
  }
}

class SwappedWires : public LiveTest {};

TEST_F(SwappedWires, AreFoundRepairedAndReadAgain) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  LiveJob live = this->live();
  const Netlist& net = live.drawing()->netlist;
  Fault swap;
  swap.kind = FaultKind::swap;
  for (std::uint32_t i = 0; i < net.conductors.size(); ++i) {
    if (net.conductor_name(i) == "5") swap.element = ElementId{i}, swap.end = End::a;
    if (net.conductor_name(i) == "14") swap.element2 = ElementId{i}, swap.end2 = End::b;
  }
  SimulatedPanel panel(*live.drawing());
  panel.inject(swap);
  const auto read = [&](const char* from, const char* to) {
    const std::string value = panel.value(point(net, from), point(net, to), "", false);
    const std::string id = take(job, {from, to, value});
    must(live.catch_up());
    return id;
  };
  read("X1:4.int", "X1:4.ext"), read("X1:5.int", "X1:5.ext");
  EXPECT_TRUE(live.state().findings().clusters.empty());
  std::vector<std::string> bad{read("A1:0.0", "X1:4.int")};
  ASSERT_EQ(live.state().findings().clusters.size(), 1u);
  bad.push_back(read("A1:0.0", "X1:5.int"));
  ASSERT_EQ(live.state().findings().clusters.size(), 1u);
  bad.push_back(read("K1:14", "X1:4.int"));
  ASSERT_EQ(live.state().findings().clusters.size(), 1u);
  const Cluster& finding = live.state().findings().clusters.front();
  ASSERT_FALSE(finding.diagnoses.empty());
  ASSERT_EQ(finding.diagnoses.front().faults.size(), 1u);
  EXPECT_TRUE(same_fault(finding.diagnoses.front().faults.front(), swap, Landing(live.drawing()->graph)));

  const Repair repair = must(repair_of(finding, live.drawing()->graph, live.state().readings()));
  std::set<std::string> clamps;
  std::string rest = repair.points;
  for (std::size_t end = rest.find("; "); end != std::string::npos; end = rest.find("; "))
    clamps.insert(rest.substr(0, end)), rest.erase(0, end + 2);
  clamps.insert(rest);
  EXPECT_EQ(clamps, (std::set<std::string>{"X1:4.int", "X1:5.int"}));
  EXPECT_NE(repair.text.find("X1:4.int"), std::string::npos) << repair.text;

  happen(job, "repair", repair.points);
  panel.mend();
  must(live.catch_up());
  EXPECT_TRUE(live.state().findings().clusters.empty());
  const std::vector<Upcoming> all = live.upcoming(100);
  ASSERT_GE(all.size(), 3u);
  std::size_t again = 0;
  while (again < all.size() && all[again].why == Upcoming::Why::again) ++again;
  EXPECT_GE(again, 3u) << "what contradicted is offered first";
  for (std::size_t i = again; i < all.size(); ++i) EXPECT_NE(word(all[i].why), "again");
  for (std::size_t i = 0; i < again; ++i)
    take(job, {all[i].from, all[i].to, panel.value(all[i]), all[i].conditions}), must(live.catch_up());
  EXPECT_TRUE(live.state().findings().clusters.empty());
  for (const Upcoming& reading : live.upcoming(100)) EXPECT_NE(word(reading.why), "again");
  for (const std::string& id : bad) {
    const auto row = must(job.find_reading(id));
    ASSERT_TRUE(row);
    EXPECT_EQ(row->superseded_by, "");
  }
}

TEST_F(SwappedWires, ATemporaryChangeThatIsUndoneLeavesTheReadingsAsTheyWere) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  take(job, {"A1:0.0", "X1:4.int", "beep"});
  LiveJob live = this->live();
  const std::string before = everything(live, {});
  happen(job, "temporary-made", "X1:4.int");
  must(live.catch_up());
  EXPECT_EQ(live.state().comparison().stale, 1u);
  for (const Upcoming& reading : live.upcoming(100))
    EXPECT_NE(word(reading.why), "again") << "it counts again once the change is undone";
  happen(job, "temporary-undone", "X1:4.int");
  must(live.catch_up());
  EXPECT_EQ(live.state().comparison().stale, 0u);
  EXPECT_EQ(everything(live, {}).substr(0, 500), before.substr(0, 500));
  for (const Upcoming& reading : live.upcoming(100)) EXPECT_NE(word(reading.why), "again");
}

TEST_F(SwappedWires, AMisreadValueIsNotRepaired) {
  Cluster finding;
  const Drawing drawing(netlist("1 K1:A1 X1:1.int\n"));
  EXPECT_FALSE(repair_of(finding, drawing.graph, readings("")));
  Fault misread;
  misread.kind = FaultKind::bad_reading, misread.reading = ReadingId{0};
  finding.diagnoses.emplace_back().faults = {misread};
  EXPECT_EQ(testing_support::first_code(repair_of(finding, drawing.graph, readings("K1:A1 X1:1.int open\n"))),
            ErrorCode::bad_call);
}

/// Keys of diagnoses.
class Keys : public LiveTest {
 protected:
  static Diagnosis of(const std::vector<Fault>& faults) {
    Diagnosis diagnosis;
    diagnosis.faults = faults;
    return diagnosis;
  }
};

TEST_F(Keys, TellAllDiagnosesOfTheDemoApart) {
  Job job = must(create_job(at("a.rtj"),
                            {RINGTRUE_NETLISTS "/grain-dryer", RINGTRUE_NETLISTS "/grain-dryer/readings.csv",
                             RINGTRUE_NETLISTS "/grain-dryer/meters.csv"}));
  LiveJob live = this->live();
  std::map<std::string, std::vector<Fault>> by_key;
  std::size_t diagnoses = 0;
  for (const Cluster& cluster : live.state().findings().clusters)
    for (const Diagnosis& diagnosis : cluster.diagnoses) {
      ++diagnoses;
      const std::string key = diagnosis_key(diagnosis);
      EXPECT_EQ(key.size(), 8u);
      EXPECT_EQ(key.find_first_not_of("0123456789abcdef"), std::string::npos) << key;
      const auto [at, is_new] = by_key.try_emplace(key, diagnosis.faults);
      EXPECT_TRUE(is_new || at->second == diagnosis.faults) << key;
    }
  EXPECT_GT(diagnoses, 20u);
  std::printf("%zu diagnoses, %zu keys\n", diagnoses, by_key.size());
}

TEST_F(Keys, AreTheSameHoweverADiagnosisIsReached) {
  Job job = job_of(RINGTRUE_NETLISTS "/quickstart");
  LiveJob live = this->live();
  take(job, {"S1:14", "A1:0.1", "open"});
  must(live.catch_up());
  const auto keys = [&](LiveJob& of) {
    std::set<std::string> all;
    for (const Diagnosis& diagnosis : of.state().findings().clusters.back().diagnoses)
      if (diagnosis.faults.front().kind != FaultKind::bad_reading) all.insert(diagnosis_key(diagnosis));
    return all;
  };
  const std::set<std::string> before = keys(live);
  ASSERT_FALSE(before.empty());
  EXPECT_NE(live.state().findings().clusters.back().diagnoses.front().faults.size(), 0u);
  take(job, {"S1:13", "X1:3.int", "beep"});
  take(job, {"X1:4.int", "A1:1.1", "beep"});
  must(live.catch_up());
  ASSERT_EQ(live.state().findings().clusters.size(), 2u);
  LiveJob afresh = this->live();
  Cluster first = live.state().findings().clusters.front();
  EXPECT_EQ(diagnosis_key(first.diagnoses.front()),
            diagnosis_key(afresh.state().findings().clusters.front().diagnoses.front()));
  EXPECT_EQ(before.count(diagnosis_key(first.diagnoses.front())), 1u)
      << "another finding changes nothing of it";
}

TEST_F(Keys, TellEveryTwoFaultsApart) {
  const Drawing drawing(std::move(load_netlist(RINGTRUE_NETLISTS "/quickstart").value()));
  std::map<std::string, Fault> by_key;
  const Readings none;
  const Comparison comparison = compare(drawing.graph, none, {}).value();
  for (const PossibleFault& possible : possible_faults(drawing.graph, none, comparison)) {
    const auto [at, is_new] = by_key.try_emplace(diagnosis_key(of({possible.fault})), possible.fault);
    EXPECT_TRUE(is_new) << text_of(possible.fault, drawing.graph) << " and "
                        << text_of(at->second, drawing.graph);
  }
  EXPECT_GT(by_key.size(), 900u);
  Fault low;
  low.kind = FaultKind::wrong_value, low.element = ElementId{3};
  Fault high = low;
  high.above = true;
  EXPECT_NE(diagnosis_key(of({low})), diagnosis_key(of({high})));
  EXPECT_NE(diagnosis_key(of({low})), diagnosis_key(of({low, low})));
  EXPECT_EQ(diagnosis_key(of({low})), diagnosis_key(of({low})));
  EXPECT_EQ(diagnosis_key(of({})).size(), 8u);
}

}  // namespace
}  // namespace ringtrue::testing
