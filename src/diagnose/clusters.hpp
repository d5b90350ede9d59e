#pragma once
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "single_faults.hpp"

namespace ringtrue {

/// Readings that may have to be explained together.
struct LinkedScope {
  Scope readings;
  /// What explaining its parts apart costs at most; a part has one fault that explains it. One part: nothing
  /// to win.
  double cost_apart = 0;
  std::vector<Scope> parts;
};

struct Clustering {
  std::vector<LinkedScope> scopes;       ///< in the order of their first reading
  std::vector<Candidate> faults_across;  ///< that explain two or more scopes whole, cheapest first
  /// That explain readings of two or more scopes, best first: with another fault they may explain them whole.
  /// Shifts that a beep refutes at sight aren't among them.
  std::vector<Candidate> wide;
  /// Nets at rest where a further agreeing reading may change which these are.
  std::vector<NetId> wide_rest_on;
};

/// Divides the disagreeing readings into groups that can be explained apart.
///
/// Groups are joined by a fault that contradicts no agreeing reading, explains readings of each, and may cost
/// less than explaining them apart: less than the cheapest faults that explain two of the readings, or than
/// all it saves. Faults that cost more, but are at least `least_share` as likely, are given aside. Cost: one
/// branch set per reading, one trial per fault that two readings share. A further agreeing reading changes
/// nothing but `wide` as long as the faults that were unrefuted stay so.
[[nodiscard]] Clustering cluster(SingleFaults& singles, const Costs& costs, const DiagnoseOptions& options);

}  // namespace ringtrue
