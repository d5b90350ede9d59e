#pragma once
#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "ringtrue/graph/view.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/panel_words.hpp"

namespace ringtrue::report {

/// Readings put beside what the drawing lets one expect.
class ReadingWords {
 public:
  /// All must outlive it.
  ReadingWords(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison)
      : graph_(graph), readings_(readings), comparison_(comparison) {}
  explicit ReadingWords(const CompareReport& report)
      : ReadingWords(report.graph, report.readings, report.comparison) {}

  /// `S1:13 to A1:0.1`, the points as they were written.
  [[nodiscard]] std::string points(ReadingId reading) const;
  /// The condition it was taken under, as `condition_words` says it; empty at rest.
  [[nodiscard]] std::string condition(ReadingId reading, Detail detail) const;
  /// `read open, drawn a beep`
  [[nodiscard]] std::string read_and_expected(ReadingId reading);
  /// `drawn a beep`
  [[nodiscard]] std::string expected(ReadingId reading);
  /// Some reading so far was expected to show no beep only because of the resistance of loads.
  [[nodiscard]] bool rests_on_loads() const { return rests_on_loads_; }

 private:
  [[nodiscard]] const View& view(std::uint16_t condition);

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  bool rests_on_loads_ = false;
  std::map<std::uint16_t, std::unique_ptr<View>>
      views_;  ///< the graph under each condition that was asked for
};

/// `R015`; `line 16` for a reading without id.
[[nodiscard]] std::string reading_label(const Readings& readings, ReadingId reading);

using ringtrue::condition_words;

}  // namespace ringtrue::report
