#pragma once
#include <cstdint>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "sources.hpp"

namespace ringtrue::power {

enum class Conducts : std::uint8_t { no, maybe, yes };

/// What is closed and plugged in at one moment.
struct Switching {
  std::unordered_set<std::string_view> closed;     ///< protective devices; all others are open
  std::unordered_set<std::string_view> unplugged;  ///< electronics
  bool supply_on = false;                          ///< from outside the panel
};

[[nodiscard]] bool is_protective_device(const Part& part);

/// By element: what conducts for certain. Contacts are at rest, field devices absent.
[[nodiscard]] std::vector<Conducts> conduction(const ConductionGraph& graph, const Switching& switching);

/// By point: a label that points joined by certain copper have in common, below `count`.
struct Nets {
  std::vector<std::uint32_t> of;
  std::uint32_t count = 0;
};
[[nodiscard]] Nets nets_of(const ConductionGraph& graph, const std::vector<Conducts>& conducts);

enum class Shows : std::uint8_t {
  not_stated,
  nothing,  ///< joined to nothing live: 0 V
  volts,    ///< the voltage of `origin`
};

struct Expectation {
  Shows shows = Shows::not_stated;
  bool is_hard = false;    ///< joined to `origin` by copper
  std::size_t origin = 0;  ///< where `shows` is volts, or the reference it hangs on
  bool has_origin = false;
  std::vector<ElementId> through;
};

/// What each point must show under a switching.
class PowerState {
 public:
  PowerState(const ConductionGraph& graph, const Sources& sources, const Switching& switching);

  [[nodiscard]] const Expectation& at(PointId p) const { return expectations_[net(p)]; }
  [[nodiscard]] std::uint32_t net(PointId p) const { return nets_.of[index(p)]; }
  [[nodiscard]] bool is_live(std::size_t origin) const { return live_[origin] == Conducts::yes; }
  /// Origins that may have voltage and that copper joins to the point.
  [[nodiscard]] std::vector<std::size_t> sources_at(PointId p) const;
  /// The point may have a voltage, or has one.
  [[nodiscard]] bool is_fed(PointId p) const;
  /// Parts whose coils may have voltage.
  [[nodiscard]] const std::vector<std::string_view>& may_pull() const { return may_pull_; }

 private:
  /// Origins that the net leads to, past whatever may conduct, not through the copper of another origin.
  using Reached = std::vector<std::size_t>;

  void settle(const Switching& switching);
  void label();
  void keep_one_reference(Reached& joined) const;
  bool feed_sources();
  bool pull_relays(const Switching& switching);
  [[nodiscard]] Conducts has_voltage(ElementId across) const;
  [[nodiscard]] Reached reach(PointId from, ElementId without) const;
  void expect();
  void expect_island(std::uint32_t root, std::vector<std::uint8_t>& done);
  void lead_on(std::vector<std::uint32_t> island);
  template <class Visit>
  void for_each_way(std::uint32_t net, Visit&& visit) const;

  const ConductionGraph& graph_;
  const Sources& sources_;
  std::vector<Conducts> conducts_;
  Nets nets_;
  std::vector<std::vector<PointId>> points_of_;  ///< by net
  std::vector<Conducts> live_;                   ///< by origin
  std::vector<Reached> fixed_;                   ///< by net: origins that copper joins it to
  std::vector<std::string_view> may_pull_;
  std::vector<Expectation> expectations_;  ///< by net
};

}  // namespace ringtrue::power
