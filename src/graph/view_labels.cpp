// Most views are made for a fault or two, and most of a net stays as it was: so a net that may fall apart is
// walked from where it may have been cut, only until the last piece but one is known whole.
#include "ringtrue/base/classes.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// Labels the points of the touched nets.
///
/// Each piece into which a net falls once the changed elements are taken out of it holds an end of one of
/// them. From all these ends the net is walked at once, in steps of equal length, and where two walks meet
/// they are one. When one walk in a net is left, what it has not reached is its own. Then the elements of the
/// overlay join pieces. Points keep the node whose walk has reached them, and the nodes of a piece get its
/// net.
///
/// Nodes are for each touched net what is left of it, then the drawn ends of each change, then loose points.
class View::Labelling {
 public:
  explicit Labelling(View& view)
      : view_(view),
        graph_(*view.graph_),
        changes_(view.overlay_->changes()),
        first_loose_(static_cast<std::uint32_t>(view.touched_.size() + 2 * changes_.size())),
        nodes_(first_loose_ + view.overlay_->loose_points()),
        pieces_(nodes_),
        waiting_(nodes_, 0),
        walks_(view.touched_.size(), 0) {}

  void run() {
    make_room();
    start_walks();
    walk();
    join_by_overlay();
    deal_nets();
  }

 private:
  /// Where a walk has come to and has not gone on from.
  struct Reached {
    PointId point;
    std::uint32_t node;
    std::size_t place;  ///< of its net in `touched_`
  };

  void make_room() {
    std::uint32_t total = 0;
    for (std::size_t i = 0; i < view_.touched_.size(); ++i) {
      view_.reached_start_.push_back(total);
      if (view_.may_be_parted_[i])
        total += static_cast<std::uint32_t>(graph_.points_of_net(view_.touched_[i]).size());
    }
    view_.reached_from_.assign(total, k_not_reached);
  }

  void start_walks() {
    auto node = static_cast<std::uint32_t>(view_.touched_.size());
    for (const ElementChange& change : changes_)
      for (const PointId p : {graph_.end_a(change.element), graph_.end_b(change.element)}) {
        const std::uint32_t from = node++;
        if (!graph_.is_hard(change.element) || !graph_.is_on_at_rest(change.element)) continue;
        const std::size_t place = view_.place_of(graph_.net_at_rest(p));
        if (view_.may_be_parted_[place]) reach(p, from, place);
      }
  }

  void walk() {
    for (std::size_t i = 0; i < reached_.size(); ++i) {
      const auto [p, node, place] = reached_[i];
      // The last walk in a net has all that is left.
      if (walks_[place] <= 1) {
        pieces_.join(node, static_cast<std::uint32_t>(place));
        continue;
      }
      for (const ElementId e : graph_.elements_at(p))
        if (graph_.is_hard(e) && graph_.is_on_at_rest(e) && view_.change_of(e) == nullptr)
          reach(graph_.other_end(e, p), node, place);
      if (--waiting_[pieces_.of(node)] == 0) --walks_[place];
    }
  }

  void reach(PointId p, std::uint32_t node, std::size_t place) {
    std::uint32_t& from = view_.reached_from_[view_.reached_start_[place] + graph_.rank_in_net(p)];
    if (from != k_not_reached) return meet(node, from, place);
    from = node;
    if (waiting_[pieces_.of(node)]++ == 0) ++walks_[place];
    reached_.push_back({p, node, place});
  }

  void meet(std::uint32_t one, std::uint32_t other, std::size_t place) {
    const std::uint32_t x = pieces_.of(one), y = pieces_.of(other);
    if (x == y) return;
    if (waiting_[x] != 0 && waiting_[y] != 0) --walks_[place];
    const std::uint32_t waiting = waiting_[x] + waiting_[y];
    pieces_.join(x, y);
    waiting_[pieces_.of(x)] = waiting;
  }

  void join_by_overlay() {
    for (const ElementChange& change : changes_)
      if (change.on && graph_.is_hard(change.element)) pieces_.join(node_of(change.a), node_of(change.b));
    for (const AddedElement& added : view_.overlay_->added())
      if (added.hard) pieces_.join(node_of(added.a), node_of(added.b));
  }

  [[nodiscard]] std::uint32_t node_of(PointId p) const {
    if (index(p) >= graph_.point_count()) return first_loose_ + (index(p) - graph_.point_count());
    return view_.node_of(p, view_.place_of(graph_.net_at_rest(p)));
  }

  void deal_nets() {
    view_.net_of_node_.assign(nodes_, NetId::none);
    std::uint32_t next = graph_.net_count();
    for (std::uint32_t node = 0; node < nodes_; ++node) {
      NetId& of_piece = view_.net_of_node_[pieces_.of(node)];
      if (of_piece == NetId::none) of_piece = NetId{next++};
      view_.net_of_node_[node] = of_piece;
    }
    view_.new_nets_ = next - graph_.net_count();
  }

  View& view_;
  const ConductionGraph& graph_;
  std::span<const ElementChange> changes_;
  std::uint32_t first_loose_, nodes_;
  Classes pieces_;
  std::vector<Reached> reached_;
  std::vector<std::uint32_t> waiting_;  ///< by a walk's node in `pieces_`: points to go on from
  std::vector<std::uint32_t> walks_;    ///< by place: those with points to go on from
};

void View::label_touched() { Labelling(*this).run(); }

}  // namespace ringtrue
