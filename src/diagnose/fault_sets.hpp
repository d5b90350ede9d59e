#pragma once
#include <algorithm>
#include <span>
#include <vector>

#include "landing.hpp"
#include "ringtrue/diagnose/fault.hpp"

namespace ringtrue {

/// The fault may stand together with the others: no conductor end, element, pair of blocks or reading is in
/// two faults.
[[nodiscard]] bool is_compatible(const Fault& fault, std::span<const Fault> faults, const Landing& landing);

[[nodiscard]] Fault miswire_fault(ElementId e, End end, PointId found);
/// Swaps have one form: the lower conductor first.
[[nodiscard]] Fault swap_fault(ElementId e, End end, ElementId f, End f_end);
/// An open, missing bridge, reversed part or wrong value.
[[nodiscard]] Fault element_fault(FaultKind kind, ElementId e);
/// Copper of too high a value, too high for a buzzer or not.
[[nodiscard]] Fault joint_value_fault(ElementId e, bool above);
[[nodiscard]] Fault contact_fault(ElementId contact, const Landing& landing);
[[nodiscard]] Fault joint_fault(PointId p, PointId q, const Landing& landing);
[[nodiscard]] Fault bad_reading_fault(ReadingId reading);

/// A fault that may come next, and what it costs.
struct Candidate {
  Fault fault;
  double cost = 0;
};

/// Gathers candidates that fit the faults already assumed, each once; once it holds more than `most`, it is
/// full.
class Collector {
 public:
  Collector(std::span<const Fault> held, double max_cost, std::size_t most, const Landing& landing)
      : held_(held), max_cost_(max_cost), most_(most), landing_(landing) {}

  [[nodiscard]] double max_cost() const { return max_cost_; }
  void add(const Fault& fault, double cost) {
    if (cost > max_cost_ || is_full_ || !is_compatible(fault, held_, landing_)) return;
    found_.push_back({fault, cost});
    // Most are offered more than once.
    if (found_.size() >= 2 * (kept_ + most_ + 1)) drop_twins();
  }
  [[nodiscard]] bool is_full() const { return is_full_; }
  /// Cheapest first.
  [[nodiscard]] std::vector<Candidate> take();

 private:
  void drop_twins();

  std::span<const Fault> held_;
  double max_cost_;
  std::size_t most_;
  const Landing& landing_;
  std::vector<Candidate> found_;
  std::size_t kept_ = 0;  ///< when twins were last dropped
  bool is_full_ = false;
};

}  // namespace ringtrue
