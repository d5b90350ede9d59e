#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace ringtrue {

/// Number of single-character insertions, deletions, replacements and exchanges of two neighbours that turn
/// `a` into `b`, without regard to case; stops counting above `limit` and then returns `limit + 1`.
/// Source: optimal string alignment distance; Damerau 1964, Levenshtein 1966 (from memory).
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t limit);

/// Collects the names nearest to a misspelt one while the caller walks over all names.
class NearestNames {
 public:
  explicit NearestNames(std::string_view wanted, std::size_t how_many = 3);
  /// Looks at one name; kept only if it is among the nearest so far.
  void offer(std::string_view name);
  /// Nearest first, equal distance by name; none that differs in more than a third of its letters (at least
  /// 1).
  [[nodiscard]] std::vector<std::string> take();

 private:
  struct Candidate {
    std::size_t distance;
    std::string name;
  };
  std::string wanted_;
  std::size_t how_many_;
  std::size_t limit_;
  std::vector<Candidate> best_;
};

}  // namespace ringtrue
