#pragma once
#include <span>
#include <vector>

#include "power_state.hpp"
#include "ringtrue/power/power_up.hpp"

namespace ringtrue::power {

/// A protective device with all its poles.
struct Device {
  std::string_view part, sheet;
  PartKind kind = PartKind::breaker;
  std::vector<ElementId> poles;
};
/// In the order of the drawing.
[[nodiscard]] std::vector<Device> protective_devices(const ConductionGraph& graph);
/// Parts with electronics, and the modules of channels, in the order of the drawing.
[[nodiscard]] std::vector<std::string_view> electronics(const ConductionGraph& graph);

/// Pins by which a part takes its supply: those of its electronics and coils, and commons of its channels.
[[nodiscard]] std::vector<PointId> supply_pins(const ConductionGraph& graph, std::string_view part);

/// What is measured after a step, by what it changed.
class Measuring {
 public:
  Measuring(const ConductionGraph& graph, const Sources& sources, const std::vector<Device>& devices,
            std::span<const std::string_view> unplugged);

  /// Fills in what changed from `before` (null: nothing was live) to `after`. `closed`: the device of the
  /// step, or null.
  void measure(const PowerState* before, const PowerState& after, const Device* closed,
               PowerStep& step) const;

 private:
  void find_joined(const PowerState* before, const PowerState& after, PowerStep& step) const;
  void read_new_nets(const PowerState* before, const PowerState& after, const Device* closed,
                     PowerStep& step) const;
  void read_between_lines(const PowerState& after, const Device* closed, PowerStep& step) const;
  void read_pins(const PowerState* before, const PowerState& after, PowerStep& step) const;
  void read_from_source(const PowerState* before, const PowerState& after, PointId pin,
                        PowerStep& step) const;
  [[nodiscard]] bool is_on_reference(const PowerState& state, PointId p) const;
  void read_zeros(const PowerState* before, const PowerState& after, PowerStep& step) const;
  [[nodiscard]] std::vector<MustBeZero> that_must_be_zero(const PowerState* before,
                                                          const PowerState& after) const;
  [[nodiscard]] bool is_new(const PowerState* before, const PowerState& after, PointId p) const;
  [[nodiscard]] ExpectedVolts expected(const PowerState& state, PointId red, PointId black) const;
  [[nodiscard]] PointId reference_of(const PowerState& state, PointId p) const;

  const ConductionGraph& graph_;
  const Sources& sources_;
  const std::vector<Device>& devices_;
  std::vector<std::pair<std::string_view, std::vector<PointId>>> pins_;  ///< by unplugged part
};

}  // namespace ringtrue::power
