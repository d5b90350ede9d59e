#pragma once
#include <string>
#include <unordered_map>
#include <vector>

#include "switched_copper.hpp"

namespace ringtrue::io {

/// A potential that may be on a net.
struct Live {
  std::string name;
  const Potential* declared = nullptr;  ///< null: a source that the drawing gives no potential
};

/// Which potentials reach which net: where they originate, where a conductor is marked with one, and the pins
/// of supplies and transformers that no declared potential reaches.
class LiveNets {
 public:
  LiveNets(const ConductionGraph& graph, const SwitchedCopper& copper);

  /// A potential at one of the points that bring it to a net; one for each steady net there.
  struct Place {
    std::uint32_t live;  ///< index for `live()`
    PointId point;
  };
  [[nodiscard]] const Live& live(std::uint32_t number) const { return lives_[number]; }
  [[nodiscard]] const std::vector<Place>& on_closed(NetId net) const { return of(closed_, net); }
  [[nodiscard]] const std::vector<Place>& on_diodes(NetId net) const { return of(diodes_, net); }

 private:
  using ByNet = std::unordered_map<NetId, std::vector<Place>>;
  [[nodiscard]] static const std::vector<Place>& of(const ByNet& nets, NetId net);
  [[nodiscard]] std::uint32_t number_of(std::string name, const Potential* declared);
  void bring(std::uint32_t live, PointId point);
  void bring_where_none_is(const std::vector<Place>& places);
  void bring_labels(const Netlist& netlist);

  const SwitchedCopper& copper_;
  std::vector<Live> lives_;
  std::unordered_map<std::string, std::uint32_t> by_name_;
  ByNet closed_, diodes_;
};

}  // namespace ringtrue::io
