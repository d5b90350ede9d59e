// Prints the net at rest of every point, for the checks against other libraries: POINT<TAB>NET, one line per
// point.
#include <cstdio>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/load/load.hpp"

int main(int count, char** arguments) {
  using namespace ringtrue;
  if (count != 2) return 2;
  const Result<Netlist> netlist = load_netlist(arguments[1]);
  if (!netlist) {
    for (const Error& error : netlist.error()) std::fprintf(stderr, "%s\n", to_text(error).c_str());
    return 2;
  }
  const ConductionGraph graph(*netlist);
  for (std::uint32_t i = 0; i < graph.point_count(); ++i)
    std::printf("%s\t%u\n", netlist->points.name(PointId{i}).c_str(), index(graph.net_at_rest(PointId{i})));
  return 0;
}
