#include "ringtrue/model/io_results.hpp"

#include "ringtrue/model/readings.hpp"

namespace ringtrue {

namespace {

/// Reads the fields of one row; keeps the first thing that is wrong.
class ResultFields {
 public:
  ResultFields(std::uint32_t line, std::string_view file) : line_(line), file_(file) {}

  template <class Enum>
  void word(std::string_view field, std::string_view text, Enum& target) {
    if (const auto value = from_word<Enum>(text))
      target = *value;
    else if (text.empty())
      wrong(ErrorCode::missing_field, "the field is empty", field, "", listed_words<Enum>());
    else
      wrong(ErrorCode::unknown_kind, "unknown word", field, text, listed_words<Enum>());
  }

  void filled(std::string_view field, std::string_view text, std::string expected) {
    if (text.empty()) wrong(ErrorCode::missing_field, "the field is empty", field, "", std::move(expected));
  }

  void time(std::string_view text) {
    if (!seconds_of_time(text))
      wrong(ErrorCode::bad_time, "not a time", "time", text, "RFC 3339, such as 2026-03-02T07:15:00Z");
  }

  [[nodiscard]] Errors& errors() { return errors_; }

 private:
  void wrong(ErrorCode code, std::string message, std::string_view field, std::string_view found,
             std::string expected) {
    if (!errors_.empty()) return;
    errors_.push_back({code,
                       std::move(message),
                       {std::string(file_), line_, "", std::string(field)},
                       std::string(found),
                       std::move(expected),
                       {}});
  }

  std::uint32_t line_;
  std::string_view file_;
  Errors errors_;
};

}  // namespace

Result<IoResult> io_result_from_row(const IoResultRow& row, std::uint32_t line, std::string_view file) {
  IoResult result;
  result.line = line;
  result.channel = row.channel, result.at = row.at, result.given = row.given;
  result.expected = row.expected, result.value = row.value, result.reason = row.reason;
  result.time = row.time, result.by = row.by, result.witness = row.witness, result.meter = row.meter;
  result.revision = row.revision, result.id = row.id;
  result.supersedes = row.supersedes;
  ResultFields fields(line, file);
  fields.filled("channel", row.channel, "the channel that was tried");
  fields.word("stimulus", row.stimulus, result.stimulus);
  fields.word("led", row.led, result.led);
  fields.word("bit", row.bit, result.bit);
  fields.word("only_this", row.only_this, result.only_this);
  fields.word("verdict", row.verdict, result.verdict);
  fields.time(row.time);
  fields.filled("by", row.by, "who tried it");
  if (result.verdict == IoVerdict::withdrawn)
    fields.filled("supersedes", row.supersedes, "the id of the result that is withdrawn");
  if (!fields.errors().empty()) return tl::unexpected(std::move(fields.errors()));
  return result;
}

std::string_view shown_by(const IoResult& result, ChannelType type) {
  if (result.verdict != IoVerdict::pass || type != ChannelType::DI) return word(result.verdict);
  if (result.only_this == OnlyThis::no) return word(IoVerdict::fail);
  const bool led = result.led != LedSeen::not_looked, bit = result.bit != BitRead::not_read;
  if (led && !bit) return "LED only";
  return led && bit && result.only_this == OnlyThis::yes ? word(IoVerdict::pass) : "incomplete";
}

}  // namespace ringtrue
