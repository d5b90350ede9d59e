// Every single fault at every place of the quick-start panel, found again from the full set of readings: all
// pairs of points, at rest and under each single condition. The as-built panel is simulated by OraclePanel,
// which shares nothing with the engine but the model's types.
#include <gtest/gtest.h>

#include <cstdio>

#include "diagnose/costs.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/load/load.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/oracle_panel.hpp"

namespace ringtrue::testing {
namespace {

struct Taken {
  PointId from, to;
  std::size_t act;
};

class EverySingleFault : public ::testing::TestWithParam<FaultKind> {
 protected:
  EverySingleFault()
      : net_(std::move(load_netlist(RINGTRUE_NETLISTS "/quickstart").value())),
        graph_(net_),
        landing_(graph_),
        costs_(landing_, Priors{}),
        acts_(OraclePanel(net_).acts()) {
    for (std::size_t act = 0; act < acts_.size(); ++act)
      for (std::uint32_t p = 0; p < graph_.point_count(); ++p)
        for (std::uint32_t q = p + 1; q < graph_.point_count(); ++q)
          taken_.push_back({PointId{p}, PointId{q}, act});
    for (const Act& act : acts_) readings_.conditions.push_back(act.text());
    readings_.conditions.erase(readings_.conditions.begin());
    readings_.condition_lines.assign(readings_.conditions.size(), 1);
    for (const Taken& taken : taken_) {
      Reading reading;
      reading.from = names_.emplace_back(net_.points.name(taken.from));
      reading.to = names_.emplace_back(net_.points.name(taken.to));
      reading.condition = static_cast<std::uint16_t>(taken.act);
      readings_.rows.push_back(reading);
    }
    drawn_ = values({});
  }

  /// What the meter shows for each reading: 1 for a beep.
  std::vector<bool> values(const std::vector<Fault>& faults) const {
    OraclePanel panel(net_);
    for (const Fault& fault : faults) panel.inject(fault);
    std::vector<std::vector<std::uint32_t>> nets;
    for (const Act& act : acts_) nets.push_back(panel.nets(act));
    std::vector<bool> beeps;
    for (const Taken& taken : taken_)
      beeps.push_back(nets[taken.act][index(taken.from)] == nets[taken.act][index(taken.to)]);
    return beeps;
  }

  void check(const Fault& injected) {
    ++injected_;
    const std::vector<bool> beeps = values({injected});
    if (beeps == drawn_) return;
    ++changed_;
    for (std::size_t i = 0; i < beeps.size(); ++i)
      readings_.rows[i].value.kind = beeps[i] ? ValueKind::beep : ValueKind::open;
    const Comparison comparison = compare(graph_, readings_, {}).value();
    const Findings findings = diagnose(graph_, readings_, comparison);
    ASSERT_EQ(findings.clusters.size(), 1u) << text_of(injected, graph_);
    std::size_t position = 0;
    const std::vector<Diagnosis>& diagnoses = findings.clusters.front().diagnoses;
    while (position < diagnoses.size() && !lists(diagnoses[position], injected)) ++position;
    ASSERT_LT(position, diagnoses.size()) << "not listed: " << text_of(injected, graph_);
    if (position == 0)
      ++first_;
    else
      ++preceded_;
    for (std::size_t before = 0; before < position; ++before) {
      EXPECT_LE(diagnoses[before].cost, costs_.of(injected) + 1e-9) << text_of(injected, graph_);
      EXPECT_EQ(values(diagnoses[before].faults), beeps)
          << text_of(injected, graph_) << " behind " << text_of(diagnoses[before].faults.front(), graph_);
    }
  }

  bool lists(const Diagnosis& diagnosis, const Fault& fault) const {
    const auto is_it = [&](const std::vector<Fault>& faults) {
      return faults.size() == 1 && same_fault(faults.front(), fault, landing_);
    };
    return is_it(diagnosis.faults) ||
           std::any_of(diagnosis.equivalent.begin(), diagnosis.equivalent.end(), is_it);
  }

  using Act = OracleAct;
  Netlist net_;
  ConductionGraph graph_;
  Landing landing_;
  Costs costs_;
  std::vector<Act> acts_;
  std::vector<Taken> taken_;
  std::deque<std::string> names_;
  Readings readings_;
  std::vector<bool> drawn_;
  std::size_t injected_ = 0, changed_ = 0, first_ = 0, preceded_ = 0;
};

TEST_P(EverySingleFault, IsListedAndFirstOrIndistinguishable) {
  for (const Fault& fault : every_fault(graph_, landing_, true)) {
    if (fault.kind != GetParam()) continue;
    check(fault);
    if (HasFatalFailure()) return;
  }
  std::printf(
      "%-15s injected %zu, changed a reading %zu, first %zu, preceded by an indistinguishable cheaper one "
      "%zu (%zu readings each)\n",
      std::string(word(GetParam())).c_str(), injected_, changed_, first_, preceded_, readings_.rows.size());
  EXPECT_GT(changed_, 0u);
}

INSTANTIATE_TEST_SUITE_P(Kinds, EverySingleFault,
                         ::testing::Values(FaultKind::open, FaultKind::missing_bridge, FaultKind::miswire,
                                           FaultKind::swap, FaultKind::short_circuit, FaultKind::extra_bridge,
                                           FaultKind::wrong_contact),
                         [](const auto& kind) {
                           std::string name(word(kind.param));
                           name.erase(std::remove(name.begin(), name.end(), '-'), name.end());
                           return name;
                         });

}  // namespace
}  // namespace ringtrue::testing
