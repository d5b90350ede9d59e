// Loads a netlist, and readings if they are given, and does nothing with them.
//   load_bench NETLIST [READINGS]
#include <cstdio>
#include <filesystem>

#include "ringtrue/load/load.hpp"

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  ringtrue::PanelSource source{argv[1]};
  if (argc > 2) source.readings = argv[2];
  const auto panel = ringtrue::load_panel(source);
  if (!panel) return 2;
  std::printf("%zu conductors, %zu readings\n", panel->netlist.conductors.size(),
              panel->readings.rows.size());
  return 0;
}
