#pragma once
#include <optional>
#include <unordered_set>
#include <vector>

#include "ringtrue/expect/judge.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// Which end of the loads' intervals a cut counts.
enum class CutValues : std::uint8_t { lowest, highest };

/// A set of nets that holds one probe and not the other, and around which the loads conduct so little that
/// the resistance between the probes is above a limit whatever is inside and outside (Nash-Williams 1959,
/// from memory). A diode that would have to carry current backwards doesn't count: all of it has to come out
/// of the red probe's set and into the black one's. So only what joins an inner net to an outer one, or
/// lowers or turns round a load on the way out, can bring the resistance to the limit.
class Cut {
 public:
  /// Grows from the net at `from` over the loads that conduct best; nothing if it meets a net at `to` first.
  static std::optional<Cut> around(const View& view, const Probing& reading, PointId Probing::*from,
                                   Ohms limit, CutValues values);

  /// All that loads join to the net at `from`, if nothing conducts from there to `to`.
  static std::optional<Cut> of_all_joined(const View& view, const Probing& reading, PointId Probing::*from);

  [[nodiscard]] bool holds(PointId p) const { return holds(view_->net(p)); }
  [[nodiscard]] bool holds(NetId net) const { return known_.count(net) != 0; }
  [[nodiscard]] const std::vector<NetId>& nets() const { return nets_; }
  /// All points of the nets, by number.
  [[nodiscard]] std::vector<PointId> points() const;
  /// Loads that lead out, diodes of either direction among them.
  [[nodiscard]] std::vector<ElementId> loads_out() const;
  /// Of the loads that lead from a net elsewhere than into the set.
  [[nodiscard]] double siemens_out(NetId net) const;
  /// With nets inside as well that let out so much more, the set would still be such a cut, if none of them
  /// is at a probe.
  [[nodiscard]] bool bears(double siemens) const;

 private:
  Cut(const View& view, Ohms limit, CutValues values, bool is_red)
      : view_(&view), limit_(limit), values_(values), is_red_(is_red) {}
  /// Of a load that leads out of an inner net.
  [[nodiscard]] double siemens(ElementId load, NetId inner) const;
  void add(NetId net);

  const View* view_;
  Ohms limit_;
  CutValues values_;
  bool is_red_;  ///< around the red probe: current leaves it
  std::unordered_set<NetId> known_;
  std::vector<NetId> nets_;
  double siemens_ = 0;  ///< of the loads that lead out
};

/// The nets under one lead: two where a bare terminal name leaves the side open.
[[nodiscard]] std::vector<NetId> nets_under(const View& view, const Probing& reading, PointId Probing::*lead);
/// All points of nets under a view, by number.
[[nodiscard]] std::vector<PointId> points_of(const View& view, const std::unordered_set<NetId>& nets);

}  // namespace ringtrue
