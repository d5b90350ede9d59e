// Times tracing all channels beside connected components on the same graph, by turns; loading doesn't count.
//   trace_bench NETLIST [ROUNDS]      prints the seconds of each round: trace, components
#include <chrono>
#include <cstdio>
#include <cstdlib>

#include "copper_floor.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/load/load.hpp"

namespace {

template <class Work>
double seconds_of(Work&& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

}  // namespace

int main(int argc, char** argv) {
  using namespace ringtrue;
  if (argc < 2) return 2;
  const auto netlist = load_netlist(argv[1]);
  if (!netlist) return 2;
  const ConductionGraph graph(*netlist);
  const bench::CopperFloor copper = bench::copper_floor(graph);
  std::vector<int> label(graph.point_count());
  const int rounds = argc > 2 ? std::atoi(argv[2]) : 5;
  for (int round = 0; round < rounds; ++round) {
    bool all_arrive = true;
    int nets = 0;
    const double trace = seconds_of([&] {
      ChannelTracer(graph).trace(0, netlist->channels.size(), [&](const ChannelTrace& traced) {
        all_arrive = all_arrive && traced.signal.verdict == PathVerdict::complete;
      });
    });
    const double floor = seconds_of([&] { nets = bench::components(copper, label); });
    if (!all_arrive || nets != static_cast<int>(graph.net_count())) {
      std::fprintf(stderr, "trace_bench: a channel doesn't arrive, or %d nets are not %u\n", nets,
                   graph.net_count());
      return 1;
    }
    std::printf("%.6f %.6f\n", trace, floor);
  }
  return 0;
}
