#pragma once
#include <array>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "ringtrue/base/ids.hpp"
#include "ringtrue/base/interval.hpp"
#include "ringtrue/base/threads.hpp"
#include "ringtrue/graph/copper.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// What an element of the graph is, as far as conduction and faults care.
enum class ElementKind : std::uint8_t {
  conductor,  ///< wire or core
  link,       ///< bridge or busbar
  body,       ///< a terminal between its sides
  joint,      ///< a terminal's foot on the PE rail, or a permanent path inside a part
  breakable,  ///< fuse, breaker, isolator, disconnect terminal, plug: opened by a condition
  contact,    ///< moved by a part or selector
  load,       ///< coil, lamp, resistor, diode, supply, electronics...: conducts through a resistance
};

/// Bridge, terminal, link, plug, path, closed contact, breaker or isolator pole, temporary lead; estimate.
inline constexpr OhmInterval k_joint_interval{Ohms{0}, Ohms{0.1}};

/// Where an element stands in the input.
struct ElementOrigin {
  enum class From : std::uint8_t { conductor, part, implied_terminal, pe_rail, channel } from;
  std::uint32_t row;  ///< index into the netlist's conductors, parts, implied_terminals, parts, channels
};

/// The netlist as a graph: points are vertices, elements are edges, parallel edges stay. Immutable;
/// everything that can change (condition, fault, lifted end, temporary lead) is an Overlay on top of it.
///
/// Element i is conductor i of the netlist for i < conductors.size(), then come the parts' rows in order,
/// then implied terminal bodies, PE rail joints and the electronics between a channel's point and common. All
/// arrays are flat and indexed by id, with no allocation per element.
///
/// "Hard" elements (conductors and closed copper) make the nets; "soft" ones are loads. Source of the split
/// and of the default intervals: estimates of this project, all conservative (see DEVELOPERS.md, Conduction).
class ConductionGraph {
 public:
  /// The netlist must outlive the graph. Cost: linear in conductors and parts.
  explicit ConductionGraph(const Netlist& netlist, const CopperSettings& copper = {}, Threads threads = {});

  [[nodiscard]] const Netlist& netlist() const { return *netlist_; }
  [[nodiscard]] std::uint32_t point_count() const { return static_cast<std::uint32_t>(net_of_.size()); }
  [[nodiscard]] std::uint32_t element_count() const { return static_cast<std::uint32_t>(ends_.size()); }
  [[nodiscard]] std::uint32_t net_count() const { return static_cast<std::uint32_t>(net_start_.size() - 1); }

  /// Where the row has it: `from` of a conductor, `a` of a part (`.int`; the anode, the plus).
  [[nodiscard]] PointId end_a(ElementId e) const { return ends_[index(e)].a; }
  [[nodiscard]] PointId end_b(ElementId e) const { return ends_[index(e)].b; }
  /// `p` must be one of the two ends.
  [[nodiscard]] PointId other_end(ElementId e, PointId p) const {
    const Ends& ends = ends_[index(e)];
    return ends.a == p ? ends.b : ends.a;
  }
  [[nodiscard]] ElementKind kind(ElementId e) const { return kind_[index(e)]; }
  /// Makes nets while it conducts.
  [[nodiscard]] bool is_hard(ElementId e) const { return kind(e) != ElementKind::load; }
  /// Conducts from `end_a` (anode) to `end_b` only.
  [[nodiscard]] bool is_diode(ElementId e) const;
  [[nodiscard]] bool has_diodes() const { return has_diodes_; }
  /// Conducts at rest (for a load: is present at rest).
  [[nodiscard]] bool is_on_at_rest(ElementId e) const { return on_[index(e)] != 0; }
  /// Has two ends that someone landed: can be miswired or swapped.
  [[nodiscard]] bool is_conductor(ElementId e) const { return index(e) < conductor_count_; }
  /// Elements below it are the conductors, in the order of the netlist.
  [[nodiscard]] std::uint32_t conductor_count() const { return conductor_count_; }
  [[nodiscard]] ElementOrigin origin(ElementId e) const;
  [[nodiscard]] ElementId element_of_part(std::uint32_t part_row) const {
    return ElementId{conductor_count_ + part_row};
  }
  /// Resistance of the element while it conducts.
  [[nodiscard]] OhmInterval interval(ElementId e) const;
  /// The share of a hard element's upper value that rests on what the drawing states (ohms, length and size);
  /// the rest is a default of its kind. Zero for loads.
  [[nodiscard]] Ohms stated_ohms(ElementId e) const;

  /// All elements with an end on the point, whether they conduct or not.
  [[nodiscard]] std::span<const ElementId> elements_at(PointId p) const {
    return {adjacent_.data() + adjacent_start_[index(p)], adjacent_.data() + adjacent_start_[index(p) + 1]};
  }

  /// Net at rest; nets are numbered by their first point.
  [[nodiscard]] NetId net_at_rest(PointId p) const { return net_of_[index(p)]; }
  /// At rest, by number.
  [[nodiscard]] std::span<const PointId> points_of_net(NetId net) const {
    return {net_points_.data() + net_start_[index(net)], net_points_.data() + net_start_[index(net) + 1]};
  }
  /// All points of the same part (strip, relay, module), `p` among them. Found when first asked for;
  /// thread-safe.
  [[nodiscard]] std::span<const PointId> points_of_part(PointId p) const;
  /// Sorts the points by part now, while another thread does something else.
  void find_parts() const;
  [[nodiscard]] bool on_one_part(PointId p, PointId q) const {
    return points_of_part(p).data() == points_of_part(q).data();
  }
  /// The points of the same part, side and letters whose number is one less and one more; `none` where there
  /// is none. Found when first asked for; thread-safe.
  [[nodiscard]] const std::array<PointId, 2>& beside(PointId p) const;
  /// Where the point stands within `points_of_net` of its net.
  [[nodiscard]] std::uint32_t rank_in_net(PointId p) const { return rank_in_net_[index(p)]; }
  /// Loads with an end on a net, for the bounds of soft paths.
  [[nodiscard]] std::span<const ElementId> loads_of_net(NetId net) const;
  /// Sum of `stated_ohms` over the net: no path through it has more.
  [[nodiscard]] Ohms stated_ohms_of_net(NetId net) const { return Ohms{stated_of_net_[index(net)]}; }
  /// Some hard element of the net has a lowest value above 0.
  [[nodiscard]] bool net_has_least_ohms(NetId net) const { return has_least_[index(net)]; }
  /// Every element of kind contact, by number.
  [[nodiscard]] std::span<const ElementId> contacts() const { return contacts_; }

  /// What people call the element: wire number, `X1:5` for a body, `K1:13-14` for a contact.
  [[nodiscard]] std::string element_name(ElementId e) const;
  /// Empty where the drawing does not say.
  [[nodiscard]] std::string_view element_sheet(ElementId e) const;
  /// The file's word: `wire`, `bridge`, `fuse`, `contact-no`...
  [[nodiscard]] std::string_view element_kind_word(ElementId e) const;

 private:
  struct PartIndex;
  struct Ends {
    PointId a, b;
  };
  void add(PointId a, PointId b, ElementKind kind, bool on);
  void add_conductors();
  void add_conductor_ohms(const CopperSettings& copper);
  void add_parts();
  void add_implied();
  void index_points();
  void label_nets();
  void index_loads(std::uint32_t nets);
  void sum_stated_ohms(std::uint32_t nets);
  [[nodiscard]] std::uint32_t element_count_so_far() const {
    return static_cast<std::uint32_t>(ends_.size());
  }

  const Netlist* netlist_;
  std::uint32_t conductor_count_ = 0;
  std::uint32_t implied_start_ = 0;  ///< first implied terminal body
  std::uint32_t rail_start_ = 0;     ///< first joint on the PE rail
  std::uint32_t channel_start_ = 0;  ///< first assumed channel electronics
  std::vector<std::uint32_t> rail_parts_, channel_rows_;
  std::vector<Ends> ends_;
  std::vector<ElementKind> kind_;
  std::vector<std::uint8_t> on_;
  std::vector<std::uint32_t> adjacent_start_;
  std::vector<ElementId> adjacent_;
  std::vector<NetId> net_of_;
  std::vector<std::uint32_t> net_start_;
  std::vector<PointId> net_points_;
  std::vector<std::uint32_t> rank_in_net_;
  std::vector<std::uint32_t> load_start_;
  std::vector<ElementId> loads_;
  /// What length and size make of a conductor: its greatest ohms, stated or (no size) assumed.
  struct ConductorOhms {
    double greatest = 0;
    enum class From : std::uint8_t { nothing, length, length_and_size } from = From::nothing;
  };
  std::vector<ConductorOhms> conductor_ohms_;  ///< by conductor; empty where no conductor has a length
  std::vector<OhmInterval> part_intervals_;    ///< by row of parts
  std::vector<double> stated_of_net_;
  std::vector<bool> has_least_;
  std::vector<ElementId> contacts_;
  bool has_diodes_ = false;
  std::shared_ptr<PartIndex> parts_;
};

}  // namespace ringtrue
