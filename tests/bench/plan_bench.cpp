// Times planning beside loading on netlists of growing size, in one run: the ratio is what counts.
//   plan_bench NETLIST...        a netlist alone, such as a folder with conductors.csv
#include <algorithm>
#include <chrono>
#include <cstdio>

#include "ringtrue/load/load.hpp"
#include "ringtrue/plan/plan.hpp"

namespace {

double seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

int main(int argc, char** argv) {
  using namespace ringtrue;
  std::printf("%12s %10s %12s %12s %8s %14s\n", "conductors", "readings", "load ms", "plan ms", "ratio",
              "ns/conductor");
  for (int i = 1; i < argc; ++i) {
    constexpr int k_rounds = 3;
    double load = 0, plan = 0;
    std::size_t conductors = 0, readings = 0;
    for (int round = 0; round < k_rounds; ++round) {
      const double start = seconds();
      const auto netlist = load_netlist(argv[i]);
      if (!netlist) {
        std::fprintf(stderr, "plan_bench: cannot load %s\n", argv[i]);
        return 2;
      }
      const ConductionGraph graph(*netlist);
      const double loaded = seconds();
      readings = make_plan(graph).readings.size();
      const double planned = seconds();
      conductors = netlist->conductors.size();
      load = round == 0 ? loaded - start : std::min(load, loaded - start);
      plan = round == 0 ? planned - loaded : std::min(plan, planned - loaded);
    }
    std::printf("%12zu %10zu %12.1f %12.1f %8.2f %14.0f\n", conductors, readings, 1e3 * load, 1e3 * plan,
                plan / load, 1e9 * plan / static_cast<double>(conductors));
  }
  return 0;
}
