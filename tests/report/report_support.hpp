#pragma once
#include <gtest/gtest.h>

#include <memory>
#include <string>
#include <string_view>

#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::testing_support {

inline bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

/// A panel put together row by row. All texts are literals, so nothing has to be kept alive.
class SmallPanel {
 public:
  SmallPanel() {
    conductors_ = builder_->add_file("conductors.csv");
    parts_ = builder_->add_file("parts.csv");
    channels_ = builder_->add_file("channels.csv");
    builder_->set_panel(
        {.panel = "GD1", .revision = "B", .drawing = "", .function = "", .location = "", .safety = ""}, {});
  }

  SmallPanel& conductor(std::string_view kind, std::string_view wire, std::string_view from,
                        std::string_view to, std::string_view sheet = "") {
    ConductorRow row;
    row.wire = wire;
    row.from = from;
    row.to = to;
    row.kind = kind;
    row.sheet = sheet;
    builder_->add(row, {next_conductor_++, conductors_});
    return *this;
  }
  SmallPanel& wire(std::string_view number, std::string_view from, std::string_view to,
                   std::string_view sheet = "") {
    return conductor("wire", number, from, to, sheet);
  }
  SmallPanel& part(std::string_view part, std::string_view kind, std::string_view a, std::string_view b,
                   std::string_view sheet = "", std::string_view place = "") {
    PartRow row;
    row.part = part;
    row.kind = kind;
    row.a = a;
    row.b = b;
    row.sheet = sheet;
    row.place = place;
    builder_->add(row, {next_part_++, parts_});
    return *this;
  }
  SmallPanel& channel(const ChannelRow& row) {
    builder_->add(row, {next_channel_++, channels_});
    return *this;
  }
  SmallPanel& potential(std::string_view name, std::string_view kind, std::string_view point) {
    builder_->add(PotentialRow{name, kind, "24", point}, {});
    return *this;
  }

  /// The graph; rows can't be added any more once it was asked for.
  const ConductionGraph& graph() {
    if (graph_) return *graph_;
    auto built = builder_->finish();
    EXPECT_TRUE(built) << (built ? "" : to_text(built.error().front()));
    netlist_ = std::make_unique<Netlist>(std::move(*built));
    graph_ = std::make_unique<ConductionGraph>(*netlist_);
    return *graph_;
  }
  PointId point(std::string_view name) {
    std::string storage;
    const PointName split = split_point_name(name, {}, storage);
    const auto place = graph().netlist().points.find_place(split.place);
    EXPECT_TRUE(place) << name;
    return graph().netlist().points.point(*place, split.side);
  }
  /// By the name people call it: wire number, `X1:5`, `K1:13-14`.
  ElementId element(std::string_view name) {
    for (std::uint32_t i = 0; i < graph().element_count(); ++i)
      if (graph().element_name(ElementId{i}) == name) return ElementId{i};
    ADD_FAILURE() << "no element " << name;
    return ElementId::none;
  }

 private:
  // Behind pointers, so that a panel can be returned from a function.
  std::unique_ptr<NetlistBuilder> builder_ = std::make_unique<NetlistBuilder>();
  std::uint16_t conductors_ = 0, parts_ = 0, channels_ = 0;
  std::uint32_t next_conductor_ = 2, next_part_ = 2, next_channel_ = 2;  // line 1 is the header
  std::unique_ptr<Netlist> netlist_;
  std::unique_ptr<ConductionGraph> graph_;
};

inline Fault fault_at(FaultKind kind, ElementId element, End end = End::a) {
  Fault fault;
  fault.kind = kind;
  fault.element = element;
  fault.end = end;
  return fault;
}

inline Fault miswire(ElementId element, End end, PointId found) {
  Fault fault = fault_at(FaultKind::miswire, element, end);
  fault.p = found;
  return fault;
}

inline Fault swap_of(ElementId one, End end_one, ElementId two, End end_two) {
  Fault fault = fault_at(FaultKind::swap, one, end_one);
  fault.element2 = two;
  fault.end2 = end_two;
  return fault;
}

inline Fault joined(FaultKind kind, PointId p, PointId q) {
  Fault fault;
  fault.kind = kind;
  fault.p = p;
  fault.q = q;
  return fault;
}

}  // namespace ringtrue::testing_support
