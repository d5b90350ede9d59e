#pragma once
#include <memory>
#include <span>
#include <string_view>
#include <vector>

#include "ringtrue/base/name_table.hpp"
#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// How near two points are to a hand that lands a wire.
enum class Nearness : std::uint8_t { neighbour, same_part, elsewhere };

/// Where conductor ends can be landed, in classes that no single-fault reading can tell apart, and what each
/// fault costs. A class ("block") is a set of points joined by copper that no condition opens: conductors,
/// bridges, terminal bodies and permanent paths.
class Landing {
 public:
  Landing(const ConductionGraph& graph, const Priors& priors);

  [[nodiscard]] const ConductionGraph& graph() const { return graph_; }
  [[nodiscard]] std::uint32_t block(PointId p) const {
    return own_blocks_ ? block_of_[index(p)] : index(graph_.net_at_rest(p));
  }
  [[nodiscard]] std::uint32_t block_count() const {
    return static_cast<std::uint32_t>(first_of_block_.size());
  }
  /// The first point of each block, by block number.
  [[nodiscard]] PointId first_of_block(std::uint32_t block) const { return first_of_block_[block]; }

  /// One form for faults that differ only in the point of a block on which something lands or that is joined.
  [[nodiscard]] Fault by_block(Fault fault) const;

  /// The pair of points at which a short between two blocks is likeliest looked for: on one part with the
  /// nearest numbers, else two terminals, else any. Ties by number of point.
  [[nodiscard]] std::pair<PointId, PointId> nearest_points(PointId in_one, PointId in_other) const;

  /// Points with the same part, side and letters whose number differs by one, lower number first.
  [[nodiscard]] std::vector<PointId> neighbours(PointId p) const;
  /// All points of the same part (strip, relay, module), nearest numbers first.
  [[nodiscard]] std::vector<PointId> on_same_part(PointId p) const;
  [[nodiscard]] std::size_t points_on_part(PointId p) const;
  [[nodiscard]] Nearness nearness(PointId a, PointId b) const;

  [[nodiscard]] double open_cost(ElementId e) const;
  [[nodiscard]] double wrong_value_cost(ElementId e) const;
  /// A load whose value can be wrong: a coil, lamp or resistor.
  [[nodiscard]] bool can_be_of_wrong_value(ElementId e) const;
  [[nodiscard]] double contact_cost() const { return contact_cost_; }
  [[nodiscard]] double miswire_cost(PointId drawn, Nearness nearness) const;
  [[nodiscard]] double swap_cost(PointId one, Nearness nearness) const;
  /// A bridge bar fits between neighbouring terminals of a strip; anything else that joins two points is a
  /// short.
  [[nodiscard]] FaultKind join_kind(PointId p, PointId q) const;
  [[nodiscard]] double join_cost(PointId p, PointId q) const;
  /// Cost of a short between nets that have no neighbouring points: no fault that explains one closed reading
  /// need cost more.
  [[nodiscard]] double short_cost() const { return short_cost_; }
  /// No fault costs less.
  [[nodiscard]] double least_cost() const { return least_cost_; }
  /// No such fault on any part costs less; known without counting the points of a part.
  [[nodiscard]] double least_miswire_cost(Nearness nearness) const;
  [[nodiscard]] double least_swap_cost(Nearness nearness) const;
  [[nodiscard]] double cost_of(const Fault& fault) const;
  [[nodiscard]] FaultKind open_kind(ElementId e) const {
    return graph_.kind(e) == ElementKind::link ? FaultKind::missing_bridge : FaultKind::open;
  }
  /// The other contact of a changeover: an NO and an NC row of one part sharing a pin; `none` if there is
  /// none.
  [[nodiscard]] ElementId other_contact(ElementId contact) const;
  [[nodiscard]] bool can_be_exchanged(ElementId contact) const;
  [[nodiscard]] PointId drawn(ElementId e, End end) const {
    return end == End::a ? graph_.end_a(e) : graph_.end_b(e);
  }
  /// A conductor that is in the panel: its ends can be landed wrongly.
  [[nodiscard]] bool is_movable(ElementId e) const {
    return graph_.is_conductor(e) && graph_.is_on_at_rest(e);
  }

 private:
  /// Points by part, made on first use: a diagnosis that stays among neighbours does not need it.
  struct PartIndex {
    NameTable names;
    std::vector<std::uint32_t> part_of_place;
    std::vector<std::uint32_t> start;
    std::vector<PointId> points;
  };
  [[nodiscard]] std::vector<PointId> points_of_block(PointId one) const;
  [[nodiscard]] std::uint32_t distance(PointId a, PointId b) const;
  void find_blocks();
  [[nodiscard]] const PartIndex& parts() const;
  [[nodiscard]] std::span<const PointId> points_beside(PointId p) const;
  void set_costs(const Priors& priors);

  const ConductionGraph& graph_;
  Priors priors_;
  bool own_blocks_ = false;
  std::vector<std::uint32_t> block_of_;
  std::vector<PointId> first_of_block_;
  double contact_cost_ = 0, extra_bridge_cost_ = 0, short_of_neighbours_cost_ = 0, short_cost_ = 0,
         least_cost_ = 0;
  mutable std::unique_ptr<PartIndex> parts_;
};

/// -ln(p / (1 - p)).
[[nodiscard]] double cost_of_prior(double prior);

}  // namespace ringtrue
