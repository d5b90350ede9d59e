#pragma once
#include <array>
#include <optional>
#include <span>
#include <unordered_map>
#include <utility>
#include <vector>

#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/expect/currents.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// How near two points are to a hand that lands a wire.
enum class Nearness : std::uint8_t { neighbour, same_part, elsewhere };

/// Where conductor ends can be landed and points joined. The universe has one landing per end and piece of
/// copper ("block"), and one joint per pair of blocks: no reading can tell the points of a block apart as
/// long as no fault parts it. A block is a set of points joined by copper that no condition of the readings
/// opens: conductors, bridges, terminal bodies and permanent paths.
///
/// For one thread: what is asked of parts and blocks is computed when first needed.
class Landing {
 public:
  /// `conditions`: those of the readings; what they lift or take out is no part of a block.
  explicit Landing(const ConductionGraph& graph, std::span<const ConditionOverlay> conditions = {});

  [[nodiscard]] const ConductionGraph& graph() const { return graph_; }
  [[nodiscard]] std::uint32_t block(PointId p) const {
    return own_blocks_ ? block_of_[index(p)] : index(graph_.net_at_rest(p));
  }
  [[nodiscard]] std::uint32_t block_count() const {
    return static_cast<std::uint32_t>(first_of_block_.size());
  }
  /// The first point of each block, by block number.
  [[nodiscard]] PointId first_of_block(std::uint32_t block) const { return first_of_block_[block]; }
  [[nodiscard]] std::vector<PointId> points_of_block(std::uint32_t block) const;

  /// Where an end drawn on `drawn` lands if it lands on the block: on a neighbour (the lower number first),
  /// else on the block's first point on the same part, else on its first point.
  [[nodiscard]] PointId landing(PointId drawn, std::uint32_t block) const;
  /// The first point on the part of `p` for each block that has one there, by number of block.
  struct BlockOnPart {
    std::uint32_t block;
    PointId first;
  };
  [[nodiscard]] std::span<const BlockOnPart> blocks_on_part(PointId p) const;

  /// Where two blocks get joined: at neighbours if they have any (terminals before pins of a device, lower
  /// numbers first), else at their first points.
  [[nodiscard]] Joint joint(std::uint32_t one, std::uint32_t other) const;
  /// Joints of the block at neighbours, by number of the other block.
  using BlockJoint = std::pair<std::uint32_t, Joint>;
  [[nodiscard]] const std::vector<BlockJoint>& joints_at_neighbours(std::uint32_t block) const;

  /// The pair of points at which a short between two blocks is likeliest looked for: on one part with the
  /// nearest numbers, else two terminals, else any. Ties by number of point.
  [[nodiscard]] std::pair<PointId, PointId> nearest_points(PointId in_one, PointId in_other) const;
  /// The point of the block of `found` nearest to `drawn` on the same part; `found` if there is none.
  [[nodiscard]] PointId nearest_landing(PointId drawn, PointId found) const;

  /// Points with the same part, side and letters whose number is one less and one more; `none` where there
  /// is none.
  [[nodiscard]] const std::array<PointId, 2>& neighbours(PointId p) const { return graph_.beside(p); }
  /// All points of the same part (strip, relay, module), `p` among them.
  [[nodiscard]] std::span<const PointId> points_beside(PointId p) const { return graph_.points_of_part(p); }
  [[nodiscard]] Nearness nearness(PointId a, PointId b) const;

  /// Some wire in the panel is drawn on the point.
  [[nodiscard]] bool has_wires(PointId p) const;
  /// Every shift that moves the wires drawn on `p`: runs of 3 to 32 wire ends one or two places off, and
  /// connectors of neighbouring parts exchanged.
  [[nodiscard]] std::vector<Fault> shifts_of(PointId p) const;
  /// Appends the latter alone.
  void add_connectors(PointId p, std::vector<Fault>& shifts) const;

  /// A bridge bar fits between neighbouring terminals of a strip; anything else that joins two points is a
  /// short.
  [[nodiscard]] FaultKind join_kind(PointId p, PointId q) const;
  [[nodiscard]] FaultKind open_kind(ElementId e) const {
    return graph_.kind(e) == ElementKind::link ? FaultKind::missing_bridge : FaultKind::open;
  }
  /// A load whose value can be wrong: a coil, lamp or resistor.
  [[nodiscard]] bool can_be_of_wrong_value(ElementId e) const;
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
  void find_blocks(std::span<const ConditionOverlay> conditions);
  [[nodiscard]] std::optional<std::size_t> pins_that_fit(PointId pin_of_one, PointId pin_of_other) const;

  const ConductionGraph& graph_;
  bool own_blocks_ = false;
  std::vector<std::uint32_t> block_of_;
  std::vector<PointId> first_of_block_;
  mutable std::unordered_map<PointId, std::vector<BlockOnPart>>
      blocks_on_part_;  ///< by first point of the part
  mutable std::unordered_map<std::uint32_t, std::vector<BlockJoint>> joints_;
};

}  // namespace ringtrue
