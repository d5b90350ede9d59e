#pragma once
#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "load/file.hpp"
#include "ringtrue/base/error.hpp"

namespace ringtrue::load {

/// Splits a CSV text into records, as RFC 4180 has them and as exports really come.
///
/// It works in place: cells are views into the file's buffer, and the doubled quotes of a quoted cell are
/// closed up there. So nothing is allocated per row, and each byte is looked at once.
///
/// | in the file | taken as |
/// | --- | --- |
/// | `,` `;` or tab between cells | whichever stands most often in the first line that holds text |
/// | LF, CR LF, a CR alone, no line end after the last record | the end of a record |
/// | blanks, tabs, non-breaking blanks around a cell or inside its quotes | not part of it |
/// | a quote inside a cell that does not begin with one | itself: `3/4" hose` |
/// | a line end inside quotes | part of the cell |
/// | a record without any text, such as `;;;` | skipped |
class CsvReader {
 public:
  enum class Found : std::uint8_t { record, mistake, end };

  /// The file's bytes are changed while reading. `file` outlives the reader.
  explicit CsvReader(const FileText& file);
  CsvReader(const FileText& file, char delimiter);

  /// Passes over the lines before this one, from 1. Only before the first record.
  void skip_to(std::uint32_t line);

  /// Goes on to the next record that holds text. After a mistake the next call goes on with the line after
  /// it, or with the end if the mistake swallowed the rest.
  Found next();

  /// Cells of the current record, trimmed; at least as many as were asked for by `expect_cells`.
  [[nodiscard]] std::span<const std::string_view> cells() const { return cells_; }
  /// The line where the current record or mistake starts, from 1.
  [[nodiscard]] std::uint32_t line() const { return start_line_; }
  [[nodiscard]] const Error& mistake() const { return mistake_; }
  [[nodiscard]] const FileText& file() const { return *file_; }
  [[nodiscard]] char delimiter() const { return delimiter_; }

  /// From the next record on: a shorter one is filled up with empty cells, text beyond this many is a
  /// mistake.
  void expect_cells(std::size_t count) { expected_cells_ = count; }

 private:
  bool read_record();
  bool read_quoted(char* opening);
  void take_line_end();
  [[nodiscard]] char* skip_blanks(char* at) const;
  [[nodiscard]] bool is_stop(char c) const { return stops_[static_cast<unsigned char>(c)]; }
  [[nodiscard]] bool is_blank_record() const;
  bool fit_to_header();
  bool fail_unclosed(const char* opening, std::uint32_t line);
  bool fail_after_quote(char* rest);
  void start_mistake(std::string message, std::string_view found);

  const FileText* file_;
  char* at_;
  char* end_;
  char delimiter_;
  std::array<bool, 256> stops_{};  ///< what ends a cell: delimiter, CR, LF, and the NUL after the text
  std::uint32_t line_ = 1;
  std::uint32_t start_line_ = 1;
  std::size_t expected_cells_ = 0;  ///< 0 = any number
  std::vector<std::string_view> cells_;
  Error mistake_;
};

}  // namespace ringtrue::load
