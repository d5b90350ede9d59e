#include "ringtrue/diagnose/certificate.hpp"

#include <gtest/gtest.h>

#include <numeric>

#include "ringtrue/load/load.hpp"

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

}  // namespace
}  // namespace ringtrue
