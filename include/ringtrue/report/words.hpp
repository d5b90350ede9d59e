#pragma once
#include <span>
#include <string>
#include <vector>

#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

/// A fault as it is said at the panel. Every member is one or more whole sentences.
struct FaultWords {
  std::string text;    ///< what is wrong, with the wire number, both points and the sheet
  std::string action;  ///< what to do, and which readings to take again afterwards
  /// What the drawing would have to say if the panel is right, with file and line; empty for a bad reading.
  std::string drawing;
};

/// Says a fault in words.
///
/// Claims no more than readings can show: the place where a moved conductor was found, and the place of a
/// short, is the likeliest point of a net, and the text says that it may be another point of that net.
/// `readings` are those that a bad reading is one of.
[[nodiscard]] FaultWords fault_words(const Fault& fault, const ConductionGraph& graph,
                                     const Readings& readings = {});

/// The words of several faults that hold together, in their order, as running text.
[[nodiscard]] FaultWords fault_words(std::span<const Fault> faults, const ConductionGraph& graph,
                                     const Readings& readings = {});

/// A fault taken apart into names, for programs. Points name their side and carry no leading `-`.
struct FaultParts {
  /// A row of the drawing that the fault touches.
  struct Row {
    bool is_conductor = true;  ///< `name` is a wire, else a part
    std::string name, from, to, sheet, file;
    std::uint32_t line = 0;
  };
  std::vector<std::string> elements;  ///< wire numbers or parts
  std::vector<std::string> ends;      ///< as drawn
  std::vector<std::string> points;    ///< as found
  std::vector<Row> rows;              ///< none where the drawing has no such row
};
[[nodiscard]] FaultParts fault_parts(const Fault& fault, const ConductionGraph& graph,
                                     const Readings& readings = {});

/// `wire 214`, `core W3/2`, `bridge X1:4-X1:5`, `fuse F3:1-2`, `terminal X1:5`, `contact K1:13-14`.
[[nodiscard]] std::string element_noun(ElementId element, const ConductionGraph& graph);

/// Of a field device or its cable: not there in the shop, so that no reading can prove it.
[[nodiscard]] bool is_absent_field(ElementId element, const ConductionGraph& graph);

/// `Panel GD1, revision B`, for the heading of a report.
[[nodiscard]] std::string panel_label(const PanelInfo& panel);

}  // namespace ringtrue
