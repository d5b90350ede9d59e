#pragma once
#include <optional>
#include <vector>

#include "consistency.hpp"
#include "ringtrue/diagnose/certificate.hpp"

namespace ringtrue {

/// What a single fault changes for two probes, whatever was read.
///
/// A fault's nets fall into cells: points that are on one net as drawn, and on one net with the fault. Where
/// there are as many cells as nets before and after, the same points stay joined; else some pair of cells is
/// joined before and not after, or the other way round. What a probe reads depends on the cell alone, but for
/// the few ohms of copper, so a point of each cell stands for all.
class Changes {
 public:
  /// The consistency, and what it refers to, must outlive it.
  explicit Changes(const Consistency& consistency);

  struct Found {
    Fate fate = Fate::hidden;
    WhyHidden why = WhyHidden::none;
    ProposedReading reading;  ///< unless hidden
  };
  /// Never `revealed`: left out, uncertain or hidden.
  [[nodiscard]] Found find(const Fault& fault) const;
  /// The reading comes out otherwise for certain, whatever the drawing lets it show.
  [[nodiscard]] bool is_certain(const ProposedReading& reading, const Fault& fault) const;

 private:
  struct Cell {
    NetId drawn = NetId::none, faulty = NetId::none;
    PointId probe = PointId::none;  ///< the handiest point; none if none of them is there
  };
  enum class Allowed : std::uint8_t { buzzer, ohms };
  struct Under;
  [[nodiscard]] Found find(const Fault& fault, Allowed allowed) const;
  [[nodiscard]] std::optional<Found> find_between_own_points(const Fault& fault) const;
  [[nodiscard]] std::optional<Found> find_under(std::uint16_t condition, const Fault& fault,
                                                Allowed allowed) const;
  [[nodiscard]] std::vector<PointId> points_concerned(std::uint16_t condition, const Fault& fault) const;
  [[nodiscard]] std::optional<Found> find_in_copper(const Under& under, const Fault& fault) const;
  [[nodiscard]] std::optional<Found> find_through_load(const Under& under, const Fault& fault) const;
  [[nodiscard]] std::optional<Found> find_in_joint(const Under& under, const Fault& fault) const;
  [[nodiscard]] bool is_certain(const Under& under, const ProposedReading& reading) const;
  [[nodiscard]] OhmInterval shown(const View& view, const ProposedReading& reading) const;
  [[nodiscard]] bool is_in_copper(const Fault& fault) const;
  [[nodiscard]] bool is_never_there(PointId p) const;
  [[nodiscard]] bool is_there(PointId p, std::uint16_t condition) const;
  [[nodiscard]] bool conducts(const Under& under, const Fault& fault) const;

  const Consistency& consistency_;
  const ConductionGraph& graph_;
  std::vector<bool> in_field_;        ///< by point: of a part in the field
  std::vector<bool> field_is_there_;  ///< by condition
};

}  // namespace ringtrue
