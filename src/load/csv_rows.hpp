#pragma once
#include <algorithm>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "load/csv_ahead.hpp"
#include "load/csv_header.hpp"
#include "ringtrue/base/threads.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::load {

/// What an export repeats: the header on every page. Counts the rows passed over.
class RepeatedHeader {
 public:
  explicit RepeatedHeader(const CsvHeader& header) : header_(header) {}

  /// The row is the header once more.
  [[nodiscard]] bool is_one(std::span<const std::string_view> cells, std::uint32_t line) {
    const std::size_t first = header_.uses.front().column;
    if (cells[first] != header_.cells[first] ||
        !std::equal(cells.begin(), cells.end(), header_.cells.begin(), header_.cells.end()))
      return false;
    if (count_++ == 0) first_line_ = line;
    return true;
  }
  [[nodiscard]] std::optional<Note> note(const std::string& file) const {
    if (count_ == 0) return std::nullopt;
    return Note{"the header stands in the table again, " + std::to_string(count_) +
                    (count_ == 1 ? " time; passed over" : " times; passed over"),
                {file, first_line_, "", ""}};
  }

 private:
  const CsvHeader& header_;
  std::size_t count_ = 0;
  std::uint32_t first_line_ = 0;
};

/// Calls `take(cells, line, header)` for each record of a `CsvReader` or `CsvAhead` that stands behind the
/// header.
template <class Source, class Log, class Take>
void take_records(Source& source, const CsvHeader& header, const std::string& file, Log& log, Take& take) {
  RepeatedHeader repeated(header);
  for (auto found = source.next(); found != CsvReader::Found::end; found = source.next()) {
    if (found == CsvReader::Found::mistake)
      log.add_error(source.mistake());
    else if (!repeated.is_one(source.cells(), source.line()))
      take(source.cells(), source.line(), header);
    if (log.has_enough_errors()) break;
  }
  if (const auto note = repeated.note(file)) log.add_note(*note);
}

/// Finds the header of a CSV file and calls `take(cells, line, header)` for each row below it. `header_line`:
/// where the header stands, if that is known. `Log` takes what is wrong or worth knowing: a builder, or
/// anything else with `add_error`, `add_note` and `has_enough_errors`. Of a large file another of the threads
/// may split records ahead.
template <class Log, class Take>
void read_csv_table(const FileText& file, std::span<const KnownColumn> known,
                    std::span<const TradeWord> words, std::optional<std::uint32_t> header_line, Log& log,
                    Take take, Threads threads = {}) {
  constexpr std::size_t k_large = 1'000'000;
  if (file.note) log.add_note(*file.note);
  const std::optional<HeaderPlace> place = find_header(file, known, words, header_line);
  CsvReader reader = place ? CsvReader(file, place->delimiter) : CsvReader(file);
  if (place || header_line) reader.skip_to(place ? place->line : *header_line);
  const CsvHeader header = read_csv_header(reader, known, words);
  for (const Note& note : notes_above(file, reader.line())) log.add_note(note);
  for (const Note& note : header.notes) log.add_note(note);
  for (const Error& error : header.errors) log.add_error(error);
  if (!header.errors.empty()) return;

  if (threads.count == 1 || file.size < k_large) return take_records(reader, header, file.name, log, take);
  CsvAhead ahead(reader, header.cells.size());
  for_each_index(threads, 2, [&](std::size_t which) {
    if (which != 0) return ahead.help();
    const CsvAhead::Taking until_the_end(ahead);
    take_records(ahead, header, file.name, log, take);
  });
}

/// The fields of a row, and more that only a file has.
template <class InFile, class Row>
std::vector<FieldOf<InFile>> fields_in_file(std::initializer_list<FieldOf<InFile>> more) {
  std::vector<FieldOf<InFile>> all;
  for (const FieldOf<Row>& field : fields_of<Row>())
    all.push_back({field.name, field.member, field.required});
  all.insert(all.end(), more);
  return all;
}

/// Reads a CSV file into rows: `take(row, line)` is called for each. Which cell goes to which member is
/// decided once. Columns named in `for_people` are passed over without a word.
template <class Row, class Log, class Take>
void read_csv_rows(const FileText& file, Log& log, Take take,
                   std::span<const std::string_view> for_people = {}, Threads threads = {}) {
  const std::span<const FieldOf<Row>> fields = fields_of<Row>();
  std::vector<KnownColumn> known;
  for (const FieldOf<Row>& field : fields) known.push_back({field.name, field.required});
  for (const std::string_view name : for_people) known.push_back({name, false, true});
  Row row;
  const auto take_row = [&](std::span<const std::string_view> cells, std::uint32_t line,
                            const CsvHeader& header) {
    for (const CsvHeader::Use& use : header.uses) row.*fields[use.known].member = cells[use.column];
    take(row, line);
  };
  read_csv_table(file, known, trade_words_of<Row>(), std::nullopt, log, take_row, threads);
}

}  // namespace ringtrue::load
