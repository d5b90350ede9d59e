#pragma once
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/job/job.hpp"

namespace ringtrue {

/// How a cell is to be looked at, beside its word.
enum class Tone : std::uint8_t {
  plain,
  good,  ///< shown to be as drawn
  bad,   ///< shown not to be
  open,  ///< not shown, or still to be done
};

/// A text or a number, and how it is to be looked at.
struct RecordCell {
  RecordCell() = default;
  RecordCell(std::string words, Tone look = Tone::plain) : text(std::move(words)), tone(look) {}
  RecordCell(std::string_view words) : text(words) {}
  RecordCell(const char* words) : text(words) {}
  RecordCell(std::size_t count) : number(count) {}

  std::string text;  ///< empty where nothing is known, or where it is a number
  std::optional<std::size_t> number;
  Tone tone = Tone::plain;
};

/// A column of a list: its key for programs, its title, and where it stands on paper.
struct RecordColumn {
  enum class Kind : std::uint8_t { text, number, time };  ///< times are RFC 3339, or as somebody wrote them
  /// Where it stands on paper: in a column of its own, below the one before it, or once above all rows one
  /// after another that share it.
  enum class Place : std::uint8_t { own, below, above };
  std::string_view key, title;
  Kind kind = Kind::text;
  Place place = Place::own;
};

/// One list of the record. Rows have a cell per column.
struct RecordSheet {
  std::string_view key, title;
  std::string_view meaning;      ///< what it says, a sentence
  std::string_view where_empty;  ///< what it says without rows
  std::vector<RecordColumn> columns;
  std::vector<std::vector<RecordCell>> rows;
};

/// A picture of the panel as the readings have it.
struct RecordPicture {
  std::string caption;
  std::string svg;  ///< as the stage `picture` draws it, no wider than a landscape page
};

/// A line of the table of signatures. The name was typed: the field for the hand stays empty.
struct RecordSignature {
  std::string_view who;                   ///< `Wired by` and the like
  std::string by, time, text;             ///< of the last one in the job; empty where there is none
  std::vector<std::string> reservations;  ///< what is to be said beside it, as `signature_reservations`
};

/// What a job shows of its panel, as it is filed and signed. Everything is computed; the writers only write.
struct Record {
  std::string panel, revision, drawing;
  std::string label;                             ///< `Panel GD1, revision B`; says so where it has no name
  std::size_t netlist_number = 1, netlists = 1;  ///< which revision of the job's it is, and of how many
  std::vector<std::string> files;                ///< of the netlist
  std::string netlist_sha256, readings_sha256, tool_version;
  std::string first_time, last_time;    ///< of the job's rows but for signatures; or empty
  std::vector<std::string> holds;       ///< why it isn't ready to sign, sentences; none: it is
  std::vector<std::string> not_tested;  ///< of what and how much, `presence of loads: 4 of 6`
  std::vector<std::string_view> cautions;
  std::vector<RecordSignature> signatures;
  std::vector<RecordSheet> sheets;      ///< in the order of the reader's interest
  std::vector<RecordPicture> pictures;  ///< the map, the strips, the channels' paths
  std::string not_drawn;                ///< which paths a large panel's record leaves out; mostly empty

  [[nodiscard]] bool is_ready_to_sign() const { return holds.empty(); }
};

/// A job with its readings judged and explained. Holds references only; all must outlive the call.
struct RecordSource {
  const JobContents& contents;
  const ConductionGraph& graph;  ///< of the newest revision
  const Comparison& comparison;
  const Findings& findings;
  std::string_view tool_version;
};

/// Puts the record together. No clock is read: an instrument has expired if it was used after its date.
/// Cost: that of `certify`.
[[nodiscard]] Record make_record(const RecordSource& source);

/// For programs, as netlists/schema/record.schema.json describes it.
[[nodiscard]] std::string record_json(const Record& record);
/// The punch list, with columns for whoever settles it. Source of the form: RFC 4180.
[[nodiscard]] std::string record_punch_csv(const Record& record);

/// One file without script or anything from elsewhere, for the screen and for A4 or Letter paper.
[[nodiscard]] std::string record_html(const Record& record);

/// A workbook with a sheet per list: frozen headers, filters, print areas, numbers and dates as such. Times
/// are the wall clock of the place where they were written. `path` must be free.
/// @errors file_unwritable.
[[nodiscard]] Result<void> write_record_xlsx(const Record& record, const std::filesystem::path& path);

/// Whether `write_record` could begin: to be asked before a record is made, which takes long for a plant.
/// @errors file_exists, file_unwritable.
[[nodiscard]] Result<void> check_record_folder(const std::filesystem::path& folder);

/// Writes record.json, punch.csv, record.html and record.xlsx into a new folder, all or none.
/// @errors file_exists, file_unwritable.
[[nodiscard]] Result<void> write_record(const Record& record, const std::filesystem::path& folder);

}  // namespace ringtrue
