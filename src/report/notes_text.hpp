#pragma once
#include <string>
#include <vector>

#include "reading_words.hpp"
#include "ringtrue/report/compare_report.hpp"

namespace ringtrue::report {

/// `coils K3:A1-A2, K4:A1-A2 in parallel`; loads one after the other are joined by `with`.
[[nodiscard]] std::string ways_words(const std::vector<std::vector<ElementId>>& loads,
                                     const ConductionGraph& graph);

/// Writes what is to be known of readings that agree: beeps that a load may have made, values through several
/// loads, breaks that a beep hides.
class NotesText {
 public:
  NotesText(const CompareReport& report, Detail detail) : report_(report), detail_(detail), words_(report) {}
  void append(std::string& out);

 private:
  void append_opens(std::string& out);
  void append_kind(std::string& out, const NotedReadings& kind, std::string_view heading,
                   std::string (NotesText::*line)(const NotedReading&));
  [[nodiscard]] std::string load_beep(const NotedReading& noted);
  [[nodiscard]] std::string load_open(const NotedReading& noted);
  [[nodiscard]] std::string through_loads(const NotedReading& noted);
  [[nodiscard]] std::string hidden_break(const NotedReading& noted);
  [[nodiscard]] std::string causes(const NotedReading& noted) const;
  [[nodiscard]] std::string steps(const NotedReading& noted, std::string_view purpose) const;

  const CompareReport& report_;
  Detail detail_;
  ReadingWords words_;
};

}  // namespace ringtrue::report
