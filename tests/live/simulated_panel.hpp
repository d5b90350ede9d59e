#pragma once
#include <map>
#include <memory>
#include <string>

#include "ringtrue/live/live_job.hpp"
#include "tests/support/oracle_wiring.hpp"

namespace ringtrue::testing {

/// A panel as built, and what a meter shows on it: by OracleWiring alone. Loads of unknown value are high.
class SimulatedPanel {
 public:
  explicit SimulatedPanel(const Drawing& drawing) : drawing_(drawing), wiring_(drawing.netlist) {}

  void inject(const Fault& fault) {
    wiring_.inject(fault);
    under_.clear();
  }
  void mend() {
    wiring_ = OracleWiring(drawing_.netlist);
    under_.clear();
  }
  [[nodiscard]] const OracleWiring& wiring() const { return wiring_; }

  [[nodiscard]] std::string value(const Upcoming& reading) {
    return value(reading.from_point, reading.to_point, reading.conditions,
                 reading.expected == Expected::ohms);
  }
  [[nodiscard]] std::string value(PointId red, PointId black, const std::string& condition, bool in_ohms) {
    const OracleReadings& panel = under(condition);
    const std::uint32_t from = index(red), to = index(black);
    if (!in_ohms) return panel.can_be_silent(from, to, k_limit) ? "open" : "beep";
    const double low = panel.lowest(from, to), high = panel.highest(from, to);
    if (low == OracleBounds::infinite()) return "OL";
    return std::to_string(high < OracleBounds::infinite() ? (low + high) / 2 : 2 * low + 100);
  }
  /// Pairs where the buzzer tells this panel from the other for certain.
  [[nodiscard]] bool differs(SimulatedPanel& other, PointId p, PointId q, const std::string& condition) {
    const OracleReadings &mine = under(condition), &theirs = other.under(condition);
    const std::uint32_t from = index(p), to = index(q);
    return (!mine.can_beep(from, to, k_limit) && !theirs.can_be_silent(from, to, k_limit)) ||
           (!mine.can_be_silent(from, to, k_limit) && !theirs.can_beep(from, to, k_limit));
  }

 private:
  static constexpr double k_limit = 30;

  const OracleReadings& under(const std::string& text) {
    std::unique_ptr<OracleReadings>& readings = under_[text];
    if (readings) return *readings;
    const Condition condition = parse_condition(text, drawing_.netlist).value();
    const OracleCondition stated(text, overlay_of(condition, drawing_.graph), drawing_.netlist);
    readings = std::make_unique<OracleReadings>(wiring_, stated);
    return *readings;
  }

  const Drawing& drawing_;
  OracleWiring wiring_;
  std::map<std::string, std::unique_ptr<OracleReadings>> under_;
};

}  // namespace ringtrue::testing
