#pragma once
#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "separation.hpp"

namespace ringtrue {

/// Tests each outcome of which is certain, of at most 64 hypotheses: what is left is a set of hypotheses, a
/// bit each, and many ways lead to the same. For `effort_with`.
class CertainTests {
 public:
  using Set = std::uint64_t;
  struct Left {
    Set who = 0;
    double total = 0;
  };

  /// Whether the tests are such.
  [[nodiscard]] static bool are_all(std::span<const Separator* const> tests);
  /// The tests must outlive this.
  CertainTests(std::span<const Hypothesis> hypotheses, std::span<const Separator* const> tests);

  [[nodiscard]] Left all() const { return all_; }
  [[nodiscard]] double effort(std::size_t test) const { return tests_[test].effort; }
  template <class Visit>
  void for_each_part(const Left& left, std::size_t test, Visit&& visit) const {
    for (const Set part : tests_[test].parts)
      if ((left.who & part) != 0) visit(Left{left.who & part, weight(left.who & part)});
  }
  [[nodiscard]] std::optional<std::size_t> best_by_one_step(const Left& left) const;
  template <class WorkOut>
  [[nodiscard]] double once(const Left& left, std::size_t depth, WorkOut&& work_out) {
    const auto known = efforts_.find({left.who, depth});
    if (known != efforts_.end()) return known->second;
    const double effort = work_out();
    efforts_.emplace(std::pair(left.who, depth), effort);
    return effort;
  }

 private:
  static constexpr unsigned k_bits = 64, k_bits_of_byte = 8;
  struct Test {
    std::vector<Set> parts;  ///< by outcome, those that have some
    double effort;
  };
  [[nodiscard]] double weight(Set who) const;
  [[nodiscard]] bool are_of_one_remedy(Set who) const;
  [[nodiscard]] static bool is_parted(Set who, const Test& test);
  [[nodiscard]] double unscaled_information(Set who, double plogp_of_all, const Test& test) const;
  [[nodiscard]] double parted_plogp(Set who, const Test& test) const;

  std::array<std::array<double, 1u << k_bits_of_byte>, k_bits / k_bits_of_byte>
      weights_{};                 ///< by byte of a set and its value, added up
  std::vector<Set> same_remedy_;  ///< by hypothesis
  std::vector<Set> shared_;       ///< those of remedies that several hypotheses have
  std::vector<Test> tests_;
  Left all_;
  std::map<std::pair<Set, std::size_t>, double> efforts_;  ///< to the end, by who is left and depth
};

}  // namespace ringtrue
