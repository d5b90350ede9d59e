// Times the diagnosis of one panel: loading, the whole diagnosis, and one more reading.
//
//   diagnose_bench NETLIST READINGS [LAST]     by default the last 200 readings are added one by one
//
// Prints seconds; asserts nothing but that adding one by one ends with as many findings.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "bench_readings.hpp"
#include "ringtrue/diagnose/state.hpp"
#include "ringtrue/load/load.hpp"

namespace {

using namespace ringtrue;
using namespace bench;

double seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const double start = seconds();
  const auto panel = load_panel({argv[1], argv[2], {}});
  if (!panel) return 2;
  const double loaded = seconds();
  const ConductionGraph graph(panel->netlist);
  const auto comparison = compare(graph, panel->readings, panel->events, panel->meters).value();
  const double compared = seconds();
  const Findings findings = diagnose(graph, panel->readings, comparison);
  const double diagnosed = seconds();
  std::printf("readings            %zu, %zu disagree, %zu findings\n", panel->readings.rows.size(),
              comparison.disagree, findings.clusters.size());
  std::printf("sets tried          %zu, nets labelled anew %zu\n", findings.nodes_expanded,
              findings.nets_relabelled);
  std::printf("load                %.1f ms\ncompare             %.1f ms\n", 1e3 * (loaded - start),
              1e3 * (compared - loaded));
  std::printf("whole diagnosis     %.1f ms, %.1f times loading\n", 1e3 * (diagnosed - compared),
              (diagnosed - compared) / (loaded - start));

  const std::size_t count = panel->readings.rows.size();
  const std::size_t last = std::min<std::size_t>(count, argc > 3 ? std::strtoul(argv[3], nullptr, 10) : 200);
  auto state = begin_diagnosis(graph, first_of(panel->readings, count - last)).value();
  std::vector<double> quick, slow;
  std::string value;
  for (std::size_t i = count - last; i < count; ++i) {
    const double before = seconds();
    state = diagnose(std::move(state), row_of(panel->readings, i, value)).value();
    (comparison.standing[i] == Standing::disagrees ? slow : quick).push_back(seconds() - before);
  }
  for (auto* times : {&quick, &slow}) {
    if (times->empty()) continue;
    std::sort(times->begin(), times->end());
    std::printf("one more that %s  median %.2f ms, greatest %.2f ms, of %zu\n",
                times == &quick ? "agrees   " : "disagrees", 1e3 * (*times)[times->size() / 2],
                1e3 * times->back(), times->size());
  }
  return state.findings().clusters.size() == findings.clusters.size() ? 0 : 1;
}
