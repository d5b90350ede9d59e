#pragma once
#include <unordered_map>
#include <vector>

#include "landing.hpp"
#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/priors.hpp"

namespace ringtrue {

/// What each fault costs: -ln(p / (1 - p)) of its prior. For one thread.
class Costs {
 public:
  Costs(const Landing& landing, const Priors& priors);

  [[nodiscard]] double of(const Fault& fault) const;

  [[nodiscard]] double open(ElementId e) const;
  [[nodiscard]] double wrong_value(ElementId e) const;
  [[nodiscard]] double contact() const { return contact_; }
  [[nodiscard]] double reversed() const { return reversed_; }
  [[nodiscard]] double miswire(PointId drawn, Nearness nearness) const;
  [[nodiscard]] double swap(PointId one, Nearness nearness) const;
  [[nodiscard]] double run() const { return run_; }
  [[nodiscard]] double shift(const Fault& fault) const { return fault.places != 0 ? run_ : connectors_; }
  [[nodiscard]] double join(PointId p, PointId q) const;
  /// A short between nets that have no neighbouring points: no fault that explains one closed reading need
  /// cost more.
  [[nodiscard]] double distant_short() const { return short_; }
  [[nodiscard]] double least_shift() const { return std::min(run_, connectors_); }

  /// No fault costs less.
  [[nodiscard]] double least() const { return least_; }
  /// No such fault on any part costs less; known without counting the points of a part.
  [[nodiscard]] double least_miswire(Nearness nearness) const;
  [[nodiscard]] double least_swap(Nearness nearness) const;

 private:
  const Landing& landing_;
  const ConductionGraph& graph_;
  Priors priors_;
  double contact_, reversed_, run_, connectors_, extra_bridge_, short_of_neighbours_, short_, least_;
};

/// What it costs not to believe a reading. A beep, or a value in ohms, is taken for that of a neighbouring
/// point where it would be right on the drawing; any other is rarer. No beep is easily had by a bad contact.
class ReadingCosts {
 public:
  ReadingCosts(const Landing& landing, const Comparison& comparison, const Readings& readings,
               const Priors& priors);
  [[nodiscard]] double of(ReadingId reading) const;

 private:
  [[nodiscard]] bool is_as_drawn_beside(ReadingId reading) const;

  const Landing& landing_;
  const Comparison& comparison_;
  const Readings& readings_;
  double bad_reading_, bad_value_;
  mutable std::unordered_map<ReadingId, double> known_;
};

}  // namespace ringtrue
