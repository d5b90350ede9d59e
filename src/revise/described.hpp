#pragma once
#include <array>
#include <string>
#include <vector>

#include "part_names.hpp"
#include "ringtrue/graph/graph.hpp"

// Elements as texts that are the same in both revisions if what they say is.

namespace ringtrue {

struct DescribedConductor {
  ElementId element = ElementId::none;
  std::string from, to;  ///< in the order of their names; `to` is empty for a spare core
  std::string number;    ///< wire, cable and core
  std::string id;        ///< empty if none is given
  std::string kind;
  std::array<std::string, 4> texture;  ///< colour, size in either unit, length; each may be empty

  [[nodiscard]] std::string ends() const { return from + "\n" + to; }
  [[nodiscard]] std::string make() const;
  /// Every `make` of which this one leaves nothing out but what was empty there, its own among them.
  [[nodiscard]] std::vector<std::string> makes_before() const;
};
[[nodiscard]] DescribedConductor described_conductor(const ConductionGraph& graph, std::uint32_t row,
                                                     const PartNames& names);
/// By number and ends, so that the order of rows plays no part.
[[nodiscard]] std::vector<DescribedConductor> described_conductors(const ConductionGraph& graph,
                                                                   const PartNames& names);

struct DescribedElement {
  ElementId element = ElementId::none;
  std::string place;  ///< what it is a path of, and its ends; not what kind of path it is
  std::string make;   ///< its kind, values and what moves it
};
[[nodiscard]] DescribedElement described_element(const ConductionGraph& graph, ElementId e,
                                                 const PartNames& names);
/// All but the conductors, by place and make.
[[nodiscard]] std::vector<DescribedElement> described_elements(const ConductionGraph& graph,
                                                               const PartNames& names);

}  // namespace ringtrue
