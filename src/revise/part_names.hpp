#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/revise/difference.hpp"

// Parts that have another designation in the later revision and are the same for all that.

namespace ringtrue {

/// What things of one revision are called where the other one's names count.
struct PartNames {
  std::map<std::string, std::string, std::less<>> others;  ///< of parts; all that it lacks keep their names

  [[nodiscard]] std::string part(std::string_view name) const;
  [[nodiscard]] std::string place(std::string_view name) const;
  [[nodiscard]] std::string point(const PointTable& points, PointId p) const;  ///< empty for `none`
};

/// The parts of the earlier revision by their names in the later one.
[[nodiscard]] PartNames names_after(const std::vector<RenamedPart>& renamed);

/// Parts that are gone, each with the new one that has the very same rows, contacts to move and landings: the
/// same kinds of conductors to the same far ends, which may be renamed themselves. By name; only where no
/// other part would do as well.
///
/// What each part looks like is written down with its own name, and those of all that are undecided, left
/// open; what then has one match is decided, until nothing more is, and taken back where what was decided
/// later contradicts it. What lands on a part that stays undecided is gone and new itself, so that its clamps
/// are touched.
[[nodiscard]] std::vector<RenamedPart> renamed_parts(const ConductionGraph& before,
                                                     const ConductionGraph& after);

}  // namespace ringtrue
