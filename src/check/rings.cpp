// An element is a single connection if without it its ends are joined no more. One depth-first search with
// low points finds them (Tarjan 1974, from memory; linear). All other copper lies in rings: two parallel
// conductors are the smallest. Boost.Graph 1.74's routine mishandles parallel edges, so the search is our
// own.
#include <algorithm>

#include "rules.hpp"

namespace ringtrue::check {

namespace {

class Rings {
 public:
  explicit Rings(const Drawing& drawing)
      : graph_(drawing.graph),
        is_copper_(drawing.is_copper),
        is_ringed_(drawing.is_copper),
        order_(graph_.point_count(), 0),
        low_(graph_.point_count(), 0) {
    for (std::uint32_t p = 0; p < graph_.point_count(); ++p)
      if (order_[p] == 0) search(PointId{p});
  }

  /// By element: copper, and no single connection.
  [[nodiscard]] const std::vector<bool>& is_ringed() const { return is_ringed_; }

 private:
  struct Step {
    PointId point;
    ElementId via;
    std::size_t next = 0;  ///< into `elements_at(point)`
  };

  void enter(PointId p, ElementId via) {
    order_[index(p)] = low_[index(p)] = ++entered_;
    way_.push_back({p, via});
  }

  void search(PointId root) {
    enter(root, ElementId::none);
    while (!way_.empty()) {
      Step& step = way_.back();
      const auto elements = graph_.elements_at(step.point);
      if (step.next == elements.size())
        leave();
      else
        look_along(step, elements[step.next++]);
    }
  }

  void look_along(const Step& step, ElementId e) {
    if (!is_copper_[index(e)] || e == step.via) return;
    const PointId to = graph_.other_end(e, step.point);
    std::uint32_t& low = low_[index(step.point)];
    if (to == step.point)
      is_ringed_[index(e)] = false;  // both ends on one point: no ring of two places
    else if (order_[index(to)] == 0)
      enter(to, e);
    else
      low = std::min(low, order_[index(to)]);
  }

  void leave() {
    const Step done = way_.back();
    way_.pop_back();
    if (way_.empty()) return;
    const std::uint32_t before = index(way_.back().point), low = low_[index(done.point)];
    low_[before] = std::min(low_[before], low);
    if (low > order_[before]) is_ringed_[index(done.via)] = false;
  }

  const ConductionGraph& graph_;
  const std::vector<bool>& is_copper_;
  std::vector<bool> is_ringed_;
  std::vector<std::uint32_t> order_, low_;  ///< by point; order 0 = not seen
  std::vector<Step> way_;
  std::uint32_t entered_ = 0;
};

}  // namespace

void conductors_in_a_ring(const Drawing& drawing, Found& found) {
  const Rings rings(drawing);
  const std::vector<std::uint32_t> ring_of = joined_by(drawing.graph, rings.is_ringed());
  Groups conductors;
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i)
    if (rings.is_ringed()[i]) conductors.emplace_back(ring_of[index(drawing.netlist.conductors[i].from)], i);
  std::sort(conductors.begin(), conductors.end());
  for_each_group(conductors, [&](auto first, auto last) {
    std::vector<ProblemRow> rows;
    for (auto at = first; at != last; ++at) rows.push_back(drawing.conductor_row(at->second));
    found.add(rows.size() == 1
                  ? "Other copper joins both ends of the conductor: no reading from end to end "
                    "shows its break."
                  : counted(rows.size(), "conductor") +
                        " lie parallel or in a ring: no reading from end to end shows a break of "
                        "one of them.",
              std::move(rows));
  });
}

}  // namespace ringtrue::check
