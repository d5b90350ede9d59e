// Prints the points over which a channel reaches its field terminal: trace_channel NETLIST CHANNEL
#include <cstdio>
#include <ringtrue/ringtrue.hpp>

int main(int count, char** arguments) {
  if (count != 3) return 2;
  const auto netlist = ringtrue::load_netlist(arguments[1]);
  if (!netlist) {
    for (const ringtrue::Error& error : netlist.error())
      std::fprintf(stderr, "%s\n", to_text(error).c_str());
    return 2;
  }
  const auto channels = find_channels(*netlist, arguments[2]);
  if (!channels) return 2;
  const ringtrue::ConductionGraph graph(*netlist);
  for (const std::size_t channel : *channels)
    for (const ringtrue::PointId point : trace_channel(graph, channel).signal.points)
      std::printf("%s\n", netlist->points.name(point).c_str());
  return 0;
}
