#include "report/text_layout.hpp"
#include "ringtrue/report/convert_report.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue {

std::string convert_text(const Netlist& netlist, const std::filesystem::path& out) {
  using report::counted;
  return panel_label(netlist.panel) + ": written to " + out.string() + "\n  " +
         counted(netlist.conductors.size(), "conductor") + ", " + counted(netlist.parts.size(), "part") +
         ", " + counted(netlist.channels.size(), "channel") + ", " +
         counted(netlist.potentials.size(), "potential") + "\n";
}

}  // namespace ringtrue
