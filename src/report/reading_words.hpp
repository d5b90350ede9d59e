#pragma once
#include <map>
#include <memory>
#include <string>

#include "ringtrue/graph/view.hpp"
#include "ringtrue/report/compare_report.hpp"

namespace ringtrue::report {

/// Readings put beside what the drawing lets one expect.
class ReadingWords {
 public:
  explicit ReadingWords(const CompareReport& report) : report_(report) {}

  /// `S1:13 to A1:0.1`, the points as they were written.
  [[nodiscard]] std::string points(ReadingId reading) const;
  /// `S1=operated`; empty at rest.
  [[nodiscard]] std::string condition(ReadingId reading) const;
  /// `read open, drawn a beep`
  [[nodiscard]] std::string read_and_expected(ReadingId reading);

 private:
  [[nodiscard]] std::string expected(ReadingId reading);
  [[nodiscard]] const View& view(std::uint16_t condition);

  const CompareReport& report_;
  std::map<std::uint16_t, std::unique_ptr<View>> views_;  ///< the graph under each condition that was asked for
};

/// `0.4 Ω`, `1.5 kΩ`
[[nodiscard]] std::string ohms_text(Ohms ohms);

}  // namespace ringtrue::report
