#pragma once
#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "ringtrue/graph/view.hpp"
#include "ringtrue/report/compare_report.hpp"

namespace ringtrue::report {

/// Readings put beside what the drawing lets one expect.
class ReadingWords {
 public:
  explicit ReadingWords(const CompareReport& report) : report_(report) {}

  /// `S1:13 to A1:0.1`, the points as they were written.
  [[nodiscard]] std::string points(ReadingId reading) const;
  /// The condition it was taken under, as `condition_words` says it; empty at rest.
  [[nodiscard]] std::string condition(ReadingId reading, Detail detail) const;
  /// `read open, drawn a beep`
  [[nodiscard]] std::string read_and_expected(ReadingId reading);
  /// Some reading so far was expected to show no beep only because of the resistance of loads.
  [[nodiscard]] bool rests_on_loads() const { return rests_on_loads_; }

 private:
  [[nodiscard]] std::string expected(ReadingId reading);
  [[nodiscard]] const View& view(std::uint16_t condition);

  const CompareReport& report_;
  bool rests_on_loads_ = false;
  std::map<std::uint16_t, std::unique_ptr<View>>
      views_;  ///< the graph under each condition that was asked for
};

/// `R015`; `line 16` for a reading without id.
[[nodiscard]] std::string reading_label(const Readings& readings, ReadingId reading);

/// `S1 operated; A0, A1, A2 and 13 more unplugged`: objects in the same state together.
[[nodiscard]] std::string condition_words(std::string_view condition, Detail detail);

}  // namespace ringtrue::report
