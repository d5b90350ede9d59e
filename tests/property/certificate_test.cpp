// What a certificate says of every single fault, against a plain simulation of that fault
// (tests/support/oracle_wiring.hpp), which shares nothing with it but the model's types.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <optional>
#include <random>
#include <set>

#include "ringtrue/diagnose/certificate.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/plan/plan.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_universe.hpp"
#include "tests/support/oracle_wiring.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

/// How many faults of each kind and fate are simulated; chosen at random.
struct Samples {
  std::size_t per_kind_and_fate = std::numeric_limits<std::size_t>::max();
  std::size_t against_every_reading = std::numeric_limits<std::size_t>::max();
  std::size_t against_every_pair = 0;
};

/// By fate; of `simulated` those that the test looked at one by one.
struct Tally {
  std::size_t faults = 0;
  std::array<std::size_t, k_fates> of_fate{}, simulated{};
  std::size_t against_every_pair = 0;

  void print(const char* what) const {
    std::printf("%s: %zu faults", what, faults);
    for (std::size_t i = 0; i < k_fates; ++i)
      std::printf(", %s %zu (%zu simulated)", std::string(word(static_cast<Fate>(i))).c_str(), of_fate[i],
                  simulated[i]);
    std::printf("; %zu uncertain ones tried on every pair\n", against_every_pair);
  }
};

class CertifiedPanel {
 public:
  CertifiedPanel(const Netlist& net, const ConductionGraph& graph, const Readings& readings,
                 std::size_t planned_from = static_cast<std::size_t>(-1))
      : net_(net), graph_(graph), readings_(readings), planned_from_(planned_from), drawn_(net) {
    comparison_ = compare(graph, readings, {}).value();
    for (std::size_t i = 0; i < readings.conditions.size(); ++i)
      conditions_.emplace_back(readings.conditions[i], comparison_.conditions.overlays[i], net);
    for (const OracleCondition& condition : conditions_) as_drawn_.emplace_back(drawn_, condition);
    CertifyOptions options;
    options.planned_from = planned_from;
    options.each = [this](const CertifiedFault& fault) { faults_.push_back(fault); };
    certificate_ = certify(graph, readings, comparison_, options);
  }

  [[nodiscard]] const std::vector<CertifiedFault>& faults() const { return faults_; }
  [[nodiscard]] bool is_planned_in_ohms(ReadingId reading) const {
    return index(reading) >= planned_from_ &&
           comparison_.probings.at(index(reading)).value.kind == ValueKind::ohms;
  }
  [[nodiscard]] bool is_shown_whatever_the_value(const Fault& fault, ReadingId reading) const {
    const Probing& probing = comparison_.probings.at(index(reading));
    const std::size_t condition = readings_.rows[index(reading)].condition;
    return comes_out_otherwise_in_ohms(as_drawn_.at(condition), with(fault, condition), index(probing.from),
                                       index(probing.to), 0);
  }

  void check(const Samples& samples, unsigned seed, Tally& tally) {
    check_universe();
    check_summary();
    std::shuffle(faults_.begin(), faults_.end(), std::mt19937(seed));
    std::map<std::pair<FaultKind, Fate>, std::size_t> seen;
    std::size_t on_every_reading = 0, on_every_pair = 0;
    tally.faults += faults_.size();
    for (const CertifiedFault& certified : faults_) {
      ++tally.of_fate[static_cast<std::size_t>(certified.fate)];
      if (++seen[{certified.fault.kind, certified.fate}] > samples.per_kind_and_fate) continue;
      SCOPED_TRACE(words_of(certified));
      ++tally.simulated[static_cast<std::size_t>(certified.fate)];
      check(certified);
      if (certified.fate == Fate::revealed) continue;
      if (on_every_reading++ < samples.against_every_reading) check_that_no_reading_reveals(certified.fault);
      if (certified.fate != Fate::uncertain || on_every_pair++ >= samples.against_every_pair) continue;
      check_that_no_pair_reveals(certified.fault);
      ++tally.against_every_pair;
    }
  }

  [[nodiscard]] std::string words_of(const CertifiedFault& certified) const {
    const Fault& fault = certified.fault;
    std::string text(word(fault.kind));
    for (const ElementId e : {fault.element, fault.element2})
      if (e != ElementId::none)
        text += " " + graph_.element_name(e) +
                ((e == fault.element ? fault.end : fault.end2) == End::a ? "/a" : "/b");
    for (const PointId p : {fault.p, fault.q})
      if (p != PointId::none) text += " " + net_.points.name(p);
    text += " places " + std::to_string(fault.places) + (fault.above ? " above" : "");
    return text + ": " + std::string(word(certified.fate)) + " " + std::string(word(certified.why));
  }

 private:
  /// All faults that explanations are made of but bad readings, each once.
  void check_universe() const {
    std::set<Fault> visited, expected;
    for (const CertifiedFault& certified : faults_) visited.insert(certified.fault);
    EXPECT_EQ(visited.size(), faults_.size()) << "some fault came twice";
    for (const PossibleFault& possible : possible_faults(graph_, readings_, comparison_))
      if (possible.fault.kind != FaultKind::bad_reading) expected.insert(possible.fault);
    EXPECT_TRUE(visited == expected) << visited.size() << " visited of " << expected.size();
  }

  /// The counts and the list of what is open say the same as the faults one by one.
  void check_summary() const {
    FateCounts counts{};
    std::vector<Fault> open;
    for (const CertifiedFault& certified : faults_) {
      ++counts[static_cast<std::size_t>(certified.fault.kind)][static_cast<std::size_t>(certified.fate)];
      const bool is_short_left_out =
          certified.fault.kind == FaultKind::short_circuit && certified.fate == Fate::left_out;
      if (certified.fate != Fate::revealed && !is_short_left_out) open.push_back(certified.fault);
    }
    EXPECT_EQ(certificate_.counts, counts);
    std::sort(open.begin(), open.end());
    std::vector<Fault> listed;
    for (const CertifiedFault& certified : certificate_.open) listed.push_back(certified.fault);
    EXPECT_TRUE(listed == open) << listed.size() << " listed of " << open.size();
  }

  [[nodiscard]] OracleReadings with(const Fault& fault, std::size_t condition) const {
    OracleWiring built = drawn_;
    built.inject(fault);
    return {built, conditions_.at(condition)};
  }

  [[nodiscard]] double limit() const { return beep_limit(MeterSettings{}).value; }

  static bool can_show(const OracleReadings& panel, const Probing& probing, const MeterSettings& meter) {
    const std::uint32_t red = index(probing.from), black = index(probing.to);
    const double limit = beep_limit(meter).value;
    if (probing.value.kind == ValueKind::beep) return panel.can_beep(red, black, limit);
    if (probing.value.kind == ValueKind::open) return panel.can_be_silent(red, black, limit);
    if (probing.value.kind != ValueKind::ohms) return true;
    const OhmInterval circuit = circuit_ohms(probing.value.number, meter);
    return panel.lowest(red, black) <= circuit.hi.value * (1 + 1e-9) &&
           panel.highest(red, black) >= circuit.lo.value * (1 - 1e-9);
  }
  [[nodiscard]] bool agrees(ReadingId reading) const {
    const Standing standing = comparison_.standing[index(reading)];
    return standing == Standing::agrees || standing == Standing::either;
  }
  /// With the bodies conducting of terminals whose side the reading doesn't name.
  [[nodiscard]] bool can_show(const Fault& fault, ReadingId reading) const {
    const Probing& probing = comparison_.probings.at(index(reading));
    OracleWiring built = drawn_;
    built.inject(fault);
    if (probing.from_either_side) built.join(probing.from, net_.points.other_side(probing.from));
    if (probing.to_either_side) built.join(probing.to, net_.points.other_side(probing.to));
    return can_show({built, conditions_.at(readings_.rows[index(reading)].condition)}, probing,
                    comparison_.meters.of(reading));
  }

  void check(const CertifiedFault& certified) const {
    switch (certified.fate) {
      case Fate::revealed:
        ASSERT_LT(index(certified.reading), readings_.rows.size());
        EXPECT_TRUE(agrees(certified.reading));
        if (is_planned_in_ohms(certified.reading))
          EXPECT_TRUE(is_shown_whatever_the_value(certified.fault, certified.reading))
              << "by " << readings_.name(certified.reading);
        else
          EXPECT_FALSE(can_show(certified.fault, certified.reading))
              << "by " << readings_.name(certified.reading);
        EXPECT_EQ(certified.why, WhyHidden::none);
        return;
      case Fate::left_out:
        EXPECT_TRUE(certified.proposed == k_own_points ? is_shown_at_its_points(certified.fault)
                                                       : is_shown_by_its_proposal(certified));
        EXPECT_TRUE(certified.proposed != k_own_points || certified.fault.kind == FaultKind::short_circuit);
        EXPECT_EQ(certified.why, WhyHidden::none);
        return;
      case Fate::uncertain:
        EXPECT_EQ(certified.why, WhyHidden::none);
        EXPECT_TRUE(changes_something(certified.fault));
        return;
      case Fate::hidden:
        return check_hidden(certified);
    }
  }

  [[nodiscard]] bool comes_out_otherwise(const OracleReadings& drawn, const OracleReadings& built,
                                         std::uint32_t red, std::uint32_t black) const {
    return (!drawn.can_be_silent(red, black, limit()) && !built.can_beep(red, black, limit())) ||
           (!drawn.can_beep(red, black, limit()) && !built.can_be_silent(red, black, limit()));
  }
  /// What an ohmmeter may show, disjoint by some ohms more than copper has.
  [[nodiscard]] static bool comes_out_otherwise_in_ohms(const OracleReadings& drawn,
                                                        const OracleReadings& built, std::uint32_t red,
                                                        std::uint32_t black, double apart) {
    const auto shown = [&](const OracleReadings& panel) {
      return shown_ohms({Ohms{panel.lowest(red, black)}, Ohms{panel.highest(red, black)}}, MeterSettings{});
    };
    const OhmInterval before = shown(drawn), after = shown(built);
    return before.hi.value + apart < after.lo.value || after.hi.value + apart < before.lo.value;
  }
  [[nodiscard]] bool is_shown_at_its_points(const Fault& fault) const {
    for (std::size_t c = 0; c < conditions_.size(); ++c) {
      const OracleReadings built = with(fault, c);
      for (const auto& [from, to] : {std::pair(fault.p, fault.q), std::pair(fault.q, fault.p)})
        if (comes_out_otherwise(as_drawn_[c], built, index(from), index(to)) ||
            comes_out_otherwise_in_ohms(as_drawn_[c], built, index(from), index(to), 0))
          return true;
    }
    return false;
  }
  [[nodiscard]] bool is_shown_by_its_proposal(const CertifiedFault& certified) const {
    const ProposedReading& proposed = certificate_.proposed.at(certified.proposed);
    const std::uint32_t red = index(proposed.from), black = index(proposed.to);
    if (!drawn_.is_there(red) || !drawn_.is_there(black)) return false;
    const OracleReadings& drawn = as_drawn_.at(proposed.condition);
    if (proposed.expected == ValueKind::ohms)
      return comes_out_otherwise_in_ohms(drawn, with(certified.fault, proposed.condition), red, black, 0);
    const bool beeps = proposed.expected == ValueKind::beep;
    if (beeps ? drawn.can_be_silent(red, black, limit()) : drawn.can_beep(red, black, limit())) return false;
    return comes_out_otherwise(drawn, with(certified.fault, proposed.condition), red, black);
  }

  /// The nets of points where a probe can be put: which of them are one. `everywhere` asks for all points.
  [[nodiscard]] std::vector<std::uint32_t> nets(const OracleReadings& panel, bool everywhere) const {
    std::map<std::uint32_t, std::uint32_t> first;
    std::vector<std::uint32_t> nets;
    for (std::uint32_t p = 0; p < panel.points(); ++p)
      if (everywhere || drawn_.is_there(p))
        nets.push_back(first.try_emplace(panel.nets()[p], p).first->second);
    return nets;
  }

  /// What a meter reads may change, whatever it is: nets, what loads join, or the ohms of what lies between.
  [[nodiscard]] bool changes_something(Fault fault) const {
    const bool is_of_value = fault.kind == FaultKind::wrong_value;
    if (is_of_value) fault.kind = FaultKind::open;  // nothing else runs beside it only if its break shows
    for (std::size_t c = 0; c < conditions_.size(); ++c) {
      const OracleReadings built = with(fault, c);
      if (nets(built, false) != nets(as_drawn_[c], false) || built.loads() != as_drawn_[c].loads())
        return true;
    }
    return false;
  }

  void check_hidden(const CertifiedFault& certified) const {
    const Fault& fault = certified.fault;
    bool all_points_stay = true, conducts = false;
    for (std::size_t c = 0; c < conditions_.size(); ++c) {
      const OracleReadings built = with(fault, c);
      EXPECT_EQ(nets(built, false), nets(as_drawn_[c], false)) << readings_.conditions[c];
      all_points_stay = all_points_stay && nets(built, true) == nets(as_drawn_[c], true);
      EXPECT_TRUE(!all_points_stay || built.loads() == as_drawn_[c].loads()) << readings_.conditions[c];
      conducts =
          conducts || (fault.element != ElementId::none && drawn_.conducts(fault.element, conditions_[c]));
    }
    if (fault.kind == FaultKind::wrong_value) check_that_copper_runs_beside(fault);
    switch (certified.why) {
      case WhyHidden::none:
        ADD_FAILURE() << "no reason";
        return;
      case WhyHidden::same_copper:
        EXPECT_TRUE(all_points_stay);
        return;
      case WhyHidden::no_probe_point:
        EXPECT_FALSE(all_points_stay);
        return;
      case WhyHidden::does_not_conduct:
        EXPECT_FALSE(conducts);
        return;
    }
  }
  /// A joint of some ohms shows nowhere only if its break parts nothing.
  void check_that_copper_runs_beside(Fault fault) const {
    if (drawn_.items()[index(fault.element)].is_load) return;  // compared as a load
    fault.kind = FaultKind::open;
    for (std::size_t c = 0; c < conditions_.size(); ++c)
      EXPECT_EQ(nets(with(fault, c), false), nets(as_drawn_[c], false));
  }

  void check_that_no_reading_reveals(const Fault& fault) const {
    for (std::uint32_t i = 0; i < readings_.rows.size(); ++i)
      EXPECT_TRUE(!agrees(ReadingId{i}) || can_show(fault, ReadingId{i}))
          << readings_.name(ReadingId{i}) << " reveals it";
  }

  /// More than the copper of one of these panels between two points of one piece.
  static constexpr double k_some_copper = 2;

  void check_that_no_pair_reveals(const Fault& fault) const {
    for (std::size_t c = 0; c < conditions_.size(); ++c) {
      const OracleReadings built = with(fault, c);
      for (std::uint32_t red = 0; red < built.points(); ++red)
        for (std::uint32_t black = 0; black < built.points(); ++black) {
          if (!drawn_.is_there(red) || !drawn_.is_there(black)) continue;
          const bool in_ohms = comes_out_otherwise_in_ohms(as_drawn_[c], built, red, black, k_some_copper);
          if (!in_ohms && !comes_out_otherwise(as_drawn_[c], built, red, black)) continue;
          ADD_FAILURE() << "point " << red << " to " << black << " " << readings_.conditions[c]
                        << " reveals it" << (in_ohms ? " in ohms" : "");
          return;
        }
    }
  }

  const Netlist& net_;
  const ConductionGraph& graph_;
  const Readings& readings_;
  std::size_t planned_from_;
  OracleWiring drawn_;
  Comparison comparison_;
  std::vector<OracleCondition> conditions_;
  std::vector<OracleReadings> as_drawn_;
  Certificate certificate_;
  std::vector<CertifiedFault> faults_;
};

Readings planned_readings(const ConductionGraph& graph, Goal goal, bool all_elements = false) {
  PlanOptions options;
  options.goal = goal, options.all_elements = all_elements;
  Plan plan = make_plan(graph, options);
  for (PlannedReading& reading : plan.readings)  // of a load of unknown ohms: some value that it may have
    if (reading.ohms.hi == k_infinite_ohms) reading.ohms.hi.value = 3 * reading.ohms.lo.value;
  return as_readings(plan, graph);
}

Tally check_demo(const std::string& folder, const Readings* taken, Goal goal, const Samples& samples) {
  const Netlist net = load_netlist(RINGTRUE_NETLISTS "/" + folder).value();
  const ConductionGraph graph(net);
  const Readings readings = taken != nullptr ? *taken : planned_readings(graph, goal);
  Tally tally;
  CertifiedPanel panel(net, graph, readings);
  panel.check(samples, test_seed(), tally);
  tally.print(folder.c_str());
  return tally;
}

std::size_t of(const Tally& tally, Fate fate) { return tally.simulated[static_cast<std::size_t>(fate)]; }

TEST(Certificate, EveryFaultOfTheQuickstartHasTheFateThatSimulationGivesIt) {
  for (const Goal goal : {Goal::detect, Goal::identify}) {
    SCOPED_TRACE(word(goal));
    Samples samples;
    samples.against_every_pair = 300;
    const Tally tally = check_demo("quickstart", nullptr, goal, samples);
    EXPECT_GT(of(tally, Fate::revealed), 300u);
    EXPECT_GT(of(tally, Fate::hidden), 10u);
  }
}

TEST(Certificate, ReadingsTakenOfTheQuickstartAreCertifiedLikeThoseOfAPlan) {
  const Readings taken = load_readings(RINGTRUE_NETLISTS "/quickstart/readings-good.csv").value();
  Samples samples;
  samples.against_every_reading = 400;
  const Tally tally = check_demo("quickstart", &taken, Goal::detect, samples);
  EXPECT_GT(of(tally, Fate::revealed), 500u);
  EXPECT_GT(of(tally, Fate::left_out), 20u);
}

/// A planned reading in ohms has no value yet: what it reveals has to lie beyond all that the drawing allows.
TEST(Certificate, PlannedReadingsInOhmsCountForEveryValueThatTheDrawingAllows) {
  std::size_t by_ohms = 0;
  for (const char* folder : {"quickstart", "grain-dryer"}) {
    const Netlist net = load_netlist(std::string(RINGTRUE_NETLISTS "/") + folder).value();
    const ConductionGraph graph(net);
    const Readings readings = planned_readings(graph, Goal::detect, true);
    CertifiedPanel panel(net, graph, readings, 0);
    for (const CertifiedFault& certified : panel.faults())
      if (certified.fate == Fate::revealed && panel.is_planned_in_ohms(certified.reading)) {
        ++by_ohms;
        EXPECT_TRUE(panel.is_shown_whatever_the_value(certified.fault, certified.reading))
            << panel.words_of(certified);
      }
  }
  std::printf("%zu faults revealed by planned readings in ohms\n", by_ohms);
  EXPECT_GT(by_ohms, 20u);
}

TEST(Certificate, FaultsOfTheGrainDryerHaveTheFateThatSimulationGivesThem) {
  Samples samples;
  // With RINGTRUE_TEST_ALL=1 in the environment every fault is simulated, which takes some minutes.
  if (std::getenv("RINGTRUE_TEST_ALL") == nullptr) samples.per_kind_and_fate = 250;
  samples.against_every_reading = 20;
  const Tally tally = check_demo("grain-dryer", nullptr, Goal::detect, samples);
  EXPECT_GT(tally.faults, 100'000u);
  EXPECT_GT(of(tally, Fate::revealed), 800u);
  EXPECT_GT(of(tally, Fate::left_out), 300u);
}

/// Readings between points chosen at random whose outcome is certain as drawn.
Readings random_readings(const Netlist& net, unsigned seed) {
  std::mt19937 random(seed);
  const OracleWiring drawn(net);
  std::string lines;
  for (const char* text : {"", "K1=operated", "X1:1=out"}) {
    const OracleReadings panel(drawn, OracleCondition(text, {}, net));
    for (int i = 0; i < 8; ++i) {
      const auto p = static_cast<std::uint32_t>(random() % panel.points());
      const auto q = static_cast<std::uint32_t>(random() % panel.points());
      const bool beeps = panel.can_beep(p, q, 30), is_silent = panel.can_be_silent(p, q, 30);
      if (p == q || beeps == is_silent) continue;
      lines += net.points.name(PointId{p}) + " " + net.points.name(PointId{q}) +
               (beeps ? " beep " : " open ") + text + "\n";
    }
  }
  return readings(lines);
}

TEST(Certificate, EveryFaultOf400PanelsHasTheFateThatSimulationGivesIt) {
  const unsigned base = test_seed() * 100'000;
  Tally tally;
  for (unsigned seed = base; seed < base + 400; ++seed) {
    const std::string text = random_small_panel(seed);
    SCOPED_TRACE("seed " + std::to_string(seed) + "\n" + text);
    const Netlist net = netlist(text);
    const ConductionGraph graph(net);
    const Readings readings = seed % 4 == 0   ? random_readings(net, seed)
                              : seed % 4 == 1 ? planned_readings(graph, Goal::detect, true)
                              : seed % 4 == 2 ? planned_readings(graph, Goal::detect)
                                              : planned_readings(graph, Goal::identify);
    Samples samples;
    samples.against_every_pair = 20;
    CertifiedPanel(net, graph, readings).check(samples, seed, tally);
    if (HasFailure()) return;
  }
  tally.print("400 panels");
  EXPECT_GT(of(tally, Fate::revealed), 20'000u);
  EXPECT_GT(of(tally, Fate::left_out), 4000u);
  EXPECT_GT(of(tally, Fate::uncertain), 500u);
  EXPECT_GT(of(tally, Fate::hidden), 4000u);
  EXPECT_GT(tally.against_every_pair, 400u);
}

/// Beside each other in a row, by their names.
bool are_neighbours(const Netlist& net, PointId p, PointId q) {
  const NamedPoint one(net.points.name(p)), other(net.points.name(q));
  if (one.number < 0 || other.number < 0) return false;
  return one.beside(1) == net.points.name(q) || other.beside(1) == net.points.name(p);
}

TEST(Certificate, APlanThatIdentifiesLeavesOutNoMistakeOfAHand) {
  const unsigned base = test_seed() * 100'000 + 1000;
  std::size_t asked = 0, revealed = 0;
  for (unsigned seed = base; seed < base + 200; ++seed) {
    const std::string text = random_small_panel(seed);
    SCOPED_TRACE("seed " + std::to_string(seed) + "\n" + text);
    const Netlist net = netlist(text);
    const ConductionGraph graph(net);
    const Readings readings = planned_readings(graph, Goal::identify);
    const CertifiedPanel panel(net, graph, readings);
    for (const CertifiedFault& certified : panel.faults()) {
      const FaultKind kind = certified.fault.kind;
      const bool joins =
          kind == FaultKind::extra_bridge ||
          (kind == FaultKind::short_circuit && are_neighbours(net, certified.fault.p, certified.fault.q));
      if (!joins && kind != FaultKind::miswire && kind != FaultKind::swap && kind != FaultKind::shift)
        continue;
      ++asked, revealed += certified.fate == Fate::revealed ? 1 : 0;
      EXPECT_NE(word(certified.fate), word(Fate::left_out)) << panel.words_of(certified);
    }
    if (HasFailure()) return;
  }
  std::printf("%zu miswires, swaps, shifts and joined neighbours, %zu revealed\n", asked, revealed);
  EXPECT_GT(asked, 5000u);
  EXPECT_GT(revealed, asked / 2);
}

}  // namespace
}  // namespace ringtrue::testing
