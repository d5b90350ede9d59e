#pragma once
#include <algorithm>
#include <cstdint>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/graph/overlay.hpp"

namespace ringtrue {

/// A graph under an overlay: the same questions as at rest, with only the touched nets labelled anew.
///
/// The overlay and the graph must outlive the view. Making one costs the size of the nets that the overlay
/// touches, nothing else; of a net that falls apart only all pieces but one are walked, the rest of it costs
/// room alone. An empty overlay costs nothing.
class View {
 public:
  View(const ConductionGraph& graph, const Overlay& overlay);

  [[nodiscard]] const ConductionGraph& graph() const { return *graph_; }
  [[nodiscard]] const Overlay& overlay() const { return *overlay_; }

  /// Net under the overlay. Numbers of untouched nets are those at rest; new ones start at
  /// `graph.net_count()`.
  [[nodiscard]] NetId net(PointId p) const;
  /// The net at rest whose points were labelled anew.
  [[nodiscard]] bool is_touched(NetId net_at_rest) const;
  [[nodiscard]] std::span<const NetId> touched_nets() const { return touched_; }  ///< nets at rest, sorted

  /// Loads with an end on the net, whether they are present or not, each once. Those of nets that were
  /// labelled anew are gathered when first asked for, so a view is for one thread.
  [[nodiscard]] std::span<const ElementId> loads_of_net(NetId net) const;

  /// One way to go on from a point.
  struct Edge {
    ElementId element = ElementId::none;  ///< `none` for an element that the overlay added
    std::uint32_t added = 0;              ///< then: index into `overlay().added()`
    PointId to = PointId::none;
  };
  /// Calls `visit(Edge)` for each conducting hard element at the point, base elements first, in order of
  /// element.
  template <class Visit>
  void for_each_hard(PointId p, Visit&& visit) const;
  /// The same for loads.
  template <class Visit>
  void for_each_load(PointId p, Visit&& visit) const;

  /// These four are as the overlay leaves the element; its interval holds while it conducts.
  [[nodiscard]] bool is_on(ElementId e) const;
  [[nodiscard]] PointId end_a(ElementId e) const;
  [[nodiscard]] PointId end_b(ElementId e) const;
  [[nodiscard]] OhmInterval interval(ElementId e) const;
  [[nodiscard]] OhmInterval interval(const Edge& edge) const {
    return edge.element == ElementId::none ? overlay_->added()[edge.added].interval : interval(edge.element);
  }
  /// The share of a hard element's upper value that doesn't rest on a default; see ConductionGraph.
  [[nodiscard]] Ohms stated_ohms(ElementId e) const;
  [[nodiscard]] Ohms stated_ohms(const Edge& edge) const {
    return edge.element == ElementId::none ? Ohms{0} : stated_ohms(edge.element);
  }
  /// No hard path inside the net has more of it.
  [[nodiscard]] Ohms stated_ohms_of_net(NetId net) const;
  /// Some hard element of the net has a lowest value above 0.
  [[nodiscard]] bool net_has_least_ohms(NetId net) const;

 private:
  [[nodiscard]] const ElementChange* change_of(ElementId e) const {
    return (mask_ >> (index(e) & 63u) & 1u) != 0 ? overlay_->find(e) : nullptr;
  }
  /// An edge that the overlay brought to a point: a moved end, or an added element.
  struct Arrival {
    PointId point;
    bool is_hard;
    Edge edge;
  };
  enum class Sort : std::uint8_t { hard, load };
  template <class Visit>
  void for_each(Sort sort, PointId p, Visit&& visit) const;
  [[nodiscard]] std::vector<Arrival>::const_iterator first_arrival(PointId p) const;
  void find_arrivals();
  void find_touched();
  [[nodiscard]] std::size_t place_of(NetId touched) const;  ///< in `touched_`
  class Labelling;
  void label_touched();
  /// The piece that holds a point of a touched net, by place of the net in `touched_`.
  [[nodiscard]] std::uint32_t node_of(PointId p, std::size_t place) const;

  const ConductionGraph* graph_;
  const Overlay* overlay_;
  std::uint64_t mask_ = 0;  ///< one bit per changed element number modulo 64: most elements are not changed
  std::vector<Arrival> arrivals_;  ///< sorted by point
  std::vector<NetId> touched_;
  std::vector<bool> may_be_parted_;  ///< by place in `touched_`: loses a hard element
  /// Nodes are for each touched net what no walk has reached of it, then where a walk began, then the loose
  /// points; see Labelling.
  static constexpr std::uint32_t k_not_reached = 0xFFFFFFFFu;
  std::vector<std::uint32_t> reached_start_;  ///< by place: of its points in `reached_from_`, if it's parted
  std::vector<std::uint32_t> reached_from_;   ///< by point: the node whose walk has come to it
  std::vector<NetId> net_of_node_;
  std::uint32_t new_nets_ = 0;  ///< that the view gave to nodes
  /// What all nets that the view labelled anew have together.
  struct OhmsTogether {
    Ohms stated;
    bool has_least;
  };
  [[nodiscard]] const OhmsTogether& ohms_together() const;
  mutable std::optional<OhmsTogether> ohms_together_;      ///< made when first asked for
  mutable std::vector<std::vector<ElementId>> new_loads_;  ///< by new label
};

inline std::size_t View::place_of(NetId touched) const {
  return static_cast<std::size_t>(std::lower_bound(touched_.begin(), touched_.end(), touched) -
                                  touched_.begin());
}

inline std::uint32_t View::node_of(PointId p, std::size_t place) const {
  const std::uint32_t from =
      may_be_parted_[place] ? reached_from_[reached_start_[place] + graph_->rank_in_net(p)] : k_not_reached;
  return from == k_not_reached ? static_cast<std::uint32_t>(place) : from;
}

inline NetId View::net(PointId p) const {
  if (index(p) >= graph_->point_count())
    return net_of_node_[net_of_node_.size() - overlay_->loose_points() + (index(p) - graph_->point_count())];
  const NetId rest = graph_->net_at_rest(p);
  const std::size_t place = place_of(rest);
  const bool is_touched = place < touched_.size() && touched_[place] == rest;
  return is_touched ? net_of_node_[node_of(p, place)] : rest;
}

inline bool View::is_touched(NetId net_at_rest) const {
  return !touched_.empty() && std::binary_search(touched_.begin(), touched_.end(), net_at_rest);
}

template <class Visit>
void View::for_each(Sort sort, PointId p, Visit&& visit) const {
  const bool wants_hard = sort == Sort::hard;
  if (index(p) < graph_->point_count()) {
    for (const ElementId e : graph_->elements_at(p)) {
      if (graph_->is_hard(e) != wants_hard) continue;
      if (const ElementChange* changed = change_of(e)) {
        // An element whose end was moved away from here is met again at its new end, below.
        if (changed->on && (changed->a == p || changed->b == p))
          visit(Edge{e, 0, changed->a == p ? changed->b : changed->a});
      } else if (graph_->is_on_at_rest(e)) {
        visit(Edge{e, 0, graph_->other_end(e, p)});
      }
    }
  }
  if (arrivals_.empty()) return;
  for (auto at = first_arrival(p); at != arrivals_.end() && at->point == p; ++at)
    if (at->is_hard == wants_hard) visit(at->edge);
}

template <class Visit>
void View::for_each_hard(PointId p, Visit&& visit) const {
  for_each(Sort::hard, p, visit);
}

template <class Visit>
void View::for_each_load(PointId p, Visit&& visit) const {
  for_each(Sort::load, p, visit);
}

}  // namespace ringtrue
