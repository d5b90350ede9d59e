#pragma once
#include <utility>

#include "ringtrue/graph/copper.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// One revision of a netlist with its graph. Never changes, so that several threads may ask it at once. Stays
/// where it is: the graph refers to the netlist.
struct Drawing {
  explicit Drawing(Netlist loaded, const CopperSettings& copper = {})
      : netlist(std::move(loaded)), graph(netlist, copper) {}
  Drawing(const Drawing&) = delete;
  Drawing& operator=(const Drawing&) = delete;

  Netlist netlist;
  ConductionGraph graph;
};

}  // namespace ringtrue
