#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "ringtrue/base/ids.hpp"
#include "ringtrue/base/interval.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/condition.hpp"

namespace ringtrue {

/// Of an element: `end_a` or `end_b` of the graph.
enum class End : std::uint8_t { a, b };

/// One element as the overlay leaves it.
struct ElementChange {
  ElementId element = ElementId::none;
  bool on = true;
  bool taken_out = false;  ///< pulled, unplugged or switched off: stays off whatever contact it is
  PointId a = PointId::none, b = PointId::none;
  std::optional<OhmInterval> interval;  ///< replaces the graph's
};

/// What joins two points that nothing on the drawing joins there: a short, a temporary lead.
struct AddedElement {
  PointId a = PointId::none, b = PointId::none;
  OhmInterval interval;
  bool hard = true;
};

/// A small set of changes on an immutable graph: a condition, a fault, a lifted end, a temporary lead, or
/// several of them, one after the other. Points at and above `graph.point_count()` are loose ends that the
/// overlay made.
class Overlay {
 public:
  void switch_on(const ConductionGraph& graph, ElementId e) { change(graph, e).on = true; }
  void switch_off(const ConductionGraph& graph, ElementId e) { change(graph, e).on = false; }
  /// Off because its part is pulled, unplugged or switched off.
  void take_out(const ConductionGraph& graph, ElementId e);
  /// Conducts where it would not have, and the other way round, unless it is taken out.
  void invert(const ConductionGraph& graph, ElementId e);
  /// The end is landed on another point, which may be a loose one.
  void move_end(const ConductionGraph& graph, ElementId e, End end, PointId to);
  /// Exchanges its two ends: a diode then conducts the other way.
  void turn_round(const ConductionGraph& graph, ElementId e);
  /// While it conducts it has these ohms.
  void replace_interval(const ConductionGraph& graph, ElementId e, OhmInterval interval) {
    change(graph, e).interval = interval;
  }
  /// Adds an element that always conducts; `hard` makes it copper.
  void join(PointId a, PointId b, OhmInterval interval, bool hard = true) {
    added_.push_back({a, b, interval, hard});
  }
  /// A new point joined to nothing; number it from `graph.point_count()` up.
  PointId add_loose_point(const ConductionGraph& graph);

  [[nodiscard]] std::span<const ElementChange> changes() const { return changes_; }  ///< sorted by element
  [[nodiscard]] std::span<const AddedElement> added() const { return added_; }
  /// How many it made.
  [[nodiscard]] std::uint32_t loose_points() const { return loose_points_; }
  /// What became of the element; null where it is as the graph has it.
  [[nodiscard]] const ElementChange* find(ElementId e) const;
  [[nodiscard]] bool empty() const { return changes_.empty() && added_.empty(); }

 private:
  ElementChange& change(const ConductionGraph& graph, ElementId e);

  std::vector<ElementChange> changes_;
  std::vector<AddedElement> added_;
  std::uint32_t loose_points_ = 0;
};

/// A condition brought onto the graph, with the loose points of its lifted ends.
struct ConditionOverlay {
  /// An end off its clamp, and the loose point that it became.
  struct LiftedEnd {
    ElementId conductor;
    End end;
    PointId loose;
  };
  Overlay overlay;
  std::vector<LiftedEnd> lifted;
  bool power_on = false;

  /// Takes the conductor's end off its clamp. The loose end is a new point.
  void lift(const ConductionGraph& graph, ElementId conductor, End end);
};
/// Brings a condition onto the graph: what is operated moves its contacts, what is pulled or unplugged
/// conducts no more, whatever else moves it.
[[nodiscard]] ConditionOverlay overlay_of(const Condition& condition, const ConductionGraph& graph);

/// The same as of the graph's netlist, where a lifted end costs no walk through all conductors.
[[nodiscard]] Result<Condition> parse_condition(std::string_view text, const ConductionGraph& graph);

/// How a point is written under the condition: `X1:5.int`, a loose end as `12@X1:5.int`.
[[nodiscard]] std::string point_name(PointId p, const ConditionOverlay& overlay,
                                     const ConductionGraph& graph);

/// The conductor end that `WIRE@POINT` names: the loose point that the condition made, or the clamp itself on
/// an unplugged connector.
/// @errors bad_point or unknown_object for what the drawing lacks; state_does_not_fit if the end is neither
///         lifted nor unplugged under the condition.
[[nodiscard]] Result<PointId> find_lifted_end(std::string_view text, const Condition& condition,
                                              const ConditionOverlay& overlay, const ConductionGraph& graph);

}  // namespace ringtrue
