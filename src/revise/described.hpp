#pragma once
#include <string>
#include <vector>

#include "ringtrue/graph/graph.hpp"

// Elements as texts that are the same in both revisions if what they say is.

namespace ringtrue {

struct DescribedConductor {
  ElementId element = ElementId::none;
  std::string from, to;  ///< in the order of their names; `to` is empty for a spare core
  std::string number;    ///< wire, cable and core
  std::string id;        ///< empty if none is given
  std::string make;      ///< kind, size, length, colour

  [[nodiscard]] std::string ends() const { return from + "\n" + to; }
};
/// By number and ends, so that the order of rows plays no part.
[[nodiscard]] std::vector<DescribedConductor> described_conductors(const ConductionGraph& graph);

struct DescribedElement {
  ElementId element = ElementId::none;
  std::string place;  ///< what it is a path of, and its ends; not what kind of path it is
  std::string make;   ///< its kind, values and what moves it
};
/// All but the conductors, by place and make.
[[nodiscard]] std::vector<DescribedElement> described_elements(const ConductionGraph& graph);

}  // namespace ringtrue
