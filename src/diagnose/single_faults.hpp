#pragma once
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "workplace.hpp"

namespace ringtrue {

/// What single faults would do to the readings: each question is asked once and the answer kept while
/// readings are added. For one thread.
class SingleFaults {
 public:
  enum class Id : std::uint32_t {};

  explicit SingleFaults(const Workplace& own)
      : own_(own), candidates_(own.candidates), consistency_(own.consistency) {}

  struct Priced {
    Id id;
    double cost = 0;
  };
  /// Finds by several threads what `that_may_explain` will be asked for.
  struct Question {
    ReadingId reading;
    double max_cost;
  };
  void look_ahead(const std::vector<Question>& questions, Threads threads);
  /// The faults up to that cost of which one alone may explain the reading, cheapest first; up to less where
  /// there are very many.
  [[nodiscard]] std::span<const Priced> that_may_explain(ReadingId reading, double max_cost);
  /// The same, if it was found before and is all there is up to that cost. For any number of threads as long
  /// as none asks for anything else.
  [[nodiscard]] std::optional<std::vector<Candidate>> known_to_explain(ReadingId reading,
                                                                       double max_cost) const;
  [[nodiscard]] Id id(const Fault& fault);
  [[nodiscard]] const Fault& fault(Id id) const { return known_[index(id)].fault; }
  [[nodiscard]] bool explains(Id id, ReadingId reading);
  /// Contradicts no agreeing reading.
  [[nodiscard]] bool is_unrefuted(Id id);

  /// Takes in a further agreeing reading; true if it is possible, and no matter of a load's unknown value,
  /// with each fault that was said to be unrefuted.
  [[nodiscard]] bool take_in(ReadingId reading);
  /// There are more faults to choose from: what may explain a reading is asked anew.
  void forget_choices() { choices_.clear(); }

  [[nodiscard]] const Consistency& consistency() const { return consistency_; }
  [[nodiscard]] double cost_of_bad(ReadingId reading) const { return candidates_.cost_of_bad(reading); }

 private:
  enum class Refuted : std::uint8_t { not_asked, no, yes };
  struct Known {
    Fault fault;
    Refuted refuted = Refuted::not_asked;
  };
  struct Choices {
    double known_up_to = 0;  ///< all up to this cost are there
    double too_many_from =
        std::numeric_limits<double>::infinity();  ///< very many up to this cost, so not all
    std::vector<Priced> faults;                   ///< cheapest first

    [[nodiscard]] std::span<const Priced> up_to(double max_cost) const;
    [[nodiscard]] bool answer(double max_cost) const {
      return known_up_to >= max_cost || too_many_from <= max_cost;
    }
  };
  struct Found {
    std::vector<Candidate> candidates;
    double up_to = 0;  ///< this cost; less than was asked for where there are very many
  };
  [[nodiscard]] bool is_answered(ReadingId reading, double max_cost) const;
  [[nodiscard]] static Found find_choices(ReadingId reading, double max_cost, const Candidates& candidates);
  void keep(ReadingId reading, double max_cost, const Found& found);
  void widen_table();
  [[nodiscard]] static std::uint32_t index(Id id) { return static_cast<std::uint32_t>(id); }

  const Workplace& own_;
  const Candidates& candidates_;
  const Consistency& consistency_;
  std::vector<Known> known_;
  /// Where faults are looked for first: open addressing, since there are many and each is asked for often.
  struct Slot {
    std::uint32_t tag = 0;  ///< upper half of the hash, compared before the fault
    std::uint32_t id = k_free;
  };
  static constexpr std::uint32_t k_free = 0xFFFFFFFFu;
  std::vector<Slot> slots_;  ///< a power of two
  std::unordered_map<ReadingId, Choices> choices_;
  std::unordered_map<std::uint64_t, bool> explains_;              ///< by fault and reading
  std::unordered_map<NetId, std::vector<std::uint32_t>> by_net_;  ///< those that are unrefuted
};

}  // namespace ringtrue
