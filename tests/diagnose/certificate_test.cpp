#include "ringtrue/diagnose/certificate.hpp"

#include <gtest/gtest.h>

#include <numeric>

#include "ringtrue/load/load.hpp"
#include "tests/support/oracle_universe.hpp"

namespace ringtrue {
namespace {

TEST(CertificateOptions, AskingOnlyWhatIsRevealedRevealsTheSame) {
  const std::string folder = std::string(RINGTRUE_NETLISTS) + "/quickstart";
  const Netlist net = std::move(load_netlist(folder).value());
  const ConductionGraph graph(net);
  Readings readings = load_readings(folder + "/readings-good.csv").value();
  ASSERT_GT(readings.rows.size(), 20u);
  readings.rows.resize(20);  // some faults have to be left
  const Comparison comparison = compare(graph, readings, {}).value();
  const Certificate whole = certify(graph, readings, comparison);
  CertifyOptions options;
  options.revealed_only = true;
  const Certificate asked = certify(graph, readings, comparison, options);
  std::size_t revealed = 0, left = 0;
  for (std::size_t kind = 0; kind < k_fault_kinds; ++kind) {
    const auto of = [kind](const Certificate& made, Fate fate) {
      return made.counts[kind][static_cast<std::size_t>(fate)];
    };
    EXPECT_EQ(of(whole, Fate::revealed), of(asked, Fate::revealed)) << kind;
    EXPECT_EQ(of(asked, Fate::left_out),
              of(whole, Fate::left_out) + of(whole, Fate::uncertain) + of(whole, Fate::hidden))
        << kind;
    revealed += of(asked, Fate::revealed), left += of(asked, Fate::left_out);
  }
  EXPECT_GT(revealed, 0u);
  EXPECT_GT(left, 0u);
  EXPECT_TRUE(asked.proposed.empty());
}

/// One part off at most, by designations: the part is what stands before the pin, a neighbour has the next
/// pin.
bool is_near_by_name(const Fault& fault, const ConductionGraph& graph) {
  const auto name = [&](PointId p) { return graph.netlist().points.name(p); };
  const auto part = [&](PointId p) { return name(p).substr(0, name(p).rfind(':')); };
  const auto drawn = [&](ElementId e, End end) { return end == End::a ? graph.end_a(e) : graph.end_b(e); };
  switch (fault.kind) {
    case FaultKind::miswire:
      return part(drawn(fault.element, fault.end)) == part(fault.p);
    case FaultKind::swap:
      return part(drawn(fault.element, fault.end)) == part(drawn(fault.element2, fault.end2));
    case FaultKind::short_circuit: {
      const testing::NamedPoint one(name(fault.p));
      return one.number >= 0 && (one.beside(1) == name(fault.q) || one.beside(-1) == name(fault.q));
    }
    default:
      return true;
  }
}

TEST(CertificateOptions, AskingOnlyWhatIsOnePartOffJudgesItAlikeAndCountsTheRest) {
  const std::string folder = std::string(RINGTRUE_NETLISTS) + "/quickstart";
  const Netlist net = std::move(load_netlist(folder).value());
  const ConductionGraph graph(net);
  Readings readings = load_readings(folder + "/readings-good.csv").value();
  readings.rows.resize(20);
  const Comparison comparison = compare(graph, readings, {}).value();
  FateCounts near{};
  std::size_t others = 0;
  CertifyOptions options;
  options.each = [&](const CertifiedFault& one) {
    if (is_near_by_name(one.fault, graph))
      ++near[static_cast<std::size_t>(one.fault.kind)][static_cast<std::size_t>(one.fate)];
    else
      ++others;
  };
  (void)certify(graph, readings, comparison, options);
  ASSERT_GT(others, 100u);

  options = {};
  options.comes_first = [&](const Fault& fault) { return is_near(fault, graph); };
  options.first_only = true;
  const Certificate asked = certify(graph, readings, comparison, options);
  EXPECT_EQ(asked.counts, near);
  EXPECT_EQ(asked.not_asked, others);
}

}  // namespace
}  // namespace ringtrue
