#pragma once
#include <string>
#include <vector>

#include "reading_words.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue::report {

/// `62%`; below one per cent said as such, since 0% would read as impossible.
[[nodiscard]] std::string per_cent(double share);
/// `1%`; below that `1/10,000`.
[[nodiscard]] std::string share_text(double share);

/// Writes the findings, one block each, for a wireman who stands at the panel.
class FindingText {
 public:
  FindingText(const CompareReport& report, Detail detail)
      : report_(report), detail_(detail), words_(report) {}

  /// Appends cluster `number` (0-based) as a finding.
  void append(std::string& out, std::size_t number);
  /// The same in a few lines.
  void append_short(std::string& out, std::size_t number);
  /// Some reading shown so far contradicts the drawing only by the resistance of loads.
  [[nodiscard]] bool rests_on_loads() const { return words_.rests_on_loads(); }

 private:
  void append_heading(std::string& out, std::size_t number) const;
  void append_decision(std::string& out, std::size_t number) const;
  void append_next(std::string& out, std::size_t number) const;
  void append_likeliest(std::string& out, const Diagnosis& diagnosis) const;
  [[nodiscard]] std::vector<FaultWords> words_of(const Diagnosis& diagnosis) const;
  void append_readings(std::string& out, const Cluster& cluster, std::size_t shown);
  void append_values(std::string& out, const Diagnosis& diagnosis) const;
  void append_equivalent(std::string& out, const Diagnosis& diagnosis) const;
  void append_alternatives(std::string& out, const Cluster& cluster) const;
  void append_unexplained(std::string& out, const Cluster& cluster);
  [[nodiscard]] std::string alternative_words(const Diagnosis& diagnosis) const;
  [[nodiscard]] std::size_t diagnoses_shown(const Cluster& cluster) const;
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const;

  const CompareReport& report_;
  Detail detail_;
  ReadingWords words_;
};

}  // namespace ringtrue::report
