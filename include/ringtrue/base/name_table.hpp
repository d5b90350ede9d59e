#pragma once
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "ringtrue/base/text_list.hpp"

namespace ringtrue {

/// Interns names: each distinct text gets the next 32-bit number, in the order of first sight.
///
/// A plant has two million names, each looked up a few times, so the table is one flat array of (hash tag,
/// number) probed linearly; it may have any size, so that memory grows as the names do. Interning the two
/// million ends of a generated plant took 0.14 s, std::unordered_map with its node per name 1.1 s (processor
/// time, best of 7, g++ 12 -O2, two-core machine). Texts are views: whoever interns one keeps its bytes
/// alive.
class NameTable {
 public:
  static constexpr std::uint32_t k_absent = 0xFFFFFFFFu;

  explicit NameTable(std::size_t expected_names = 0) { reserve(expected_names); }

  /// Makes room for so many names in all.
  void reserve(std::size_t names);

  /// The number of `name`; `k_absent` if it was never interned.
  [[nodiscard]] std::uint32_t find(std::string_view name) const;
  /// `find` for many names at once: while one name's slot comes from memory, the next ones' are already asked
  /// for. Two million look-ups on that plant took 0.07 s instead of 0.11 s. `numbers` is as long as `names`.
  void find_all(std::span<const std::string_view> names, std::span<std::uint32_t> numbers) const;
  /// The number of `name`, a new one if it is new. `name` must outlive the table.
  std::uint32_t intern(std::string_view name);
  /// `intern` for many names at once, in their order, likewise: 0.09 s instead of 0.14 s.
  void intern_all(std::span<const std::string_view> names, std::span<std::uint32_t> numbers);
  [[nodiscard]] std::string_view name(std::uint32_t number) const { return names_[number]; }
  [[nodiscard]] std::size_t size() const { return names_.size(); }

 private:
  struct Slot {
    std::uint32_t tag = 0;  ///< lower half of the hash, compared before the text
    std::uint32_t number = k_absent;
  };
  /// Where a name with this hash is looked for first.
  [[nodiscard]] std::size_t home(std::uint64_t hash) const;
  [[nodiscard]] std::size_t after(std::size_t slot) const { return slot + 1 == slots_.size() ? 0 : slot + 1; }
  /// The slot that holds the name, or the free one where it would go.
  [[nodiscard]] std::size_t slot_of(std::string_view name, std::uint64_t hash) const;
  [[nodiscard]] std::uint32_t find(std::string_view name, std::uint64_t hash) const;
  std::uint32_t intern(std::string_view name, std::uint64_t hash);
  void spread_over(std::size_t slots);
  /// Calls `take(i, hash)` for each name, in order, while the memory for the next ones is on its way.
  template <class Take>
  void for_each_ahead(std::span<const std::string_view> names, Take take) const;

  std::vector<Slot> slots_;
  TextList names_;
};

}  // namespace ringtrue
