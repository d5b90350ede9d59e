#pragma once
#include <memory>
#include <unordered_map>
#include <vector>

#include "consistency.hpp"
#include "ringtrue/expect/load_cuts.hpp"

namespace ringtrue {

/// Faults that a reading reveals for certain, found by what it goes over and without trying them one by one.
///
/// A reading that goes over a conductor which is a single connection falls silent if one of its ends is
/// landed elsewhere, unless that is copper on the near side of the conductor, as the ends of the way are then
/// apart; and likewise if the end is exchanged with that of another single connection. What
/// loads let through beside it is bounded by a cut around either part. A reading that finds two nets apart
/// beeps if they are joined. Never falsely yes; what it doesn't know is to be tried.
class CertainFaults {
 public:
  /// The consistency must outlive it.
  explicit CertainFaults(const Consistency& consistency);
  ~CertainFaults();
  CertainFaults(const CertainFaults&) = delete;
  CertainFaults& operator=(const CertainFaults&) = delete;

  /// Takes in one more reading of the comparison.
  void add(ReadingId reading);
  /// A reading that the fault makes impossible; `none` if that isn't known.
  [[nodiscard]] ReadingId revealing(const Fault& fault) const;
  /// Where `revealing` finds none there is none.
  [[nodiscard]] bool is_known_to_be_missed(const Fault& fault) const;

 private:
  struct Under;
  struct Crossing {
    std::uint16_t condition;
    ReadingId reading;
  };
  [[nodiscard]] Ohms most_seen(ReadingId reading) const;
  [[nodiscard]] ReadingId by_landing(const Fault& fault) const;
  [[nodiscard]] ReadingId by_exchange(const Fault& fault) const;
  [[nodiscard]] bool is_parted_by_exchange(const Fault& fault, const Crossing& crossing, Ohms limit) const;
  [[nodiscard]] ReadingId by_net_joined(ElementId one, ElementId other, PointId to) const;
  [[nodiscard]] ReadingId by_joint(const Fault& fault) const;
  [[nodiscard]] ReadingId read_apart(const Under& under, PointId p, PointId q) const;

  const Consistency& consistency_;
  const ConductionGraph& graph_;
  std::vector<std::unique_ptr<Under>> under_;  ///< by condition
  /// A joint makes a reading impossible only where it lies between the very nets that it joins: no reading
  /// was in doubt or taken in ohms, and no load lets a buzzer sound for certain.
  bool joints_are_plain_ = true;
  std::vector<std::vector<Crossing>> crossings_;  ///< by conductor
};

}  // namespace ringtrue
