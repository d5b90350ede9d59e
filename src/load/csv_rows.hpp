#pragma once
#include <string_view>
#include <vector>

#include "load/csv_header.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::load {

/// Reads a CSV file into rows: `take(row, line)` is called for each. Which cell goes to which member is
/// decided once, from the header. `Log` takes what is wrong or worth knowing: a builder, or anything else
/// with `add_error`, `add_note` and `has_enough_errors`.
template <class Row, class Log, class Take>
void read_csv_rows(const FileText& file, Log& log, Take take) {
  const std::span<const FieldOf<Row>> fields = fields_of<Row>();
  std::vector<KnownColumn> known;
  for (const FieldOf<Row>& field : fields) known.push_back({field.name, field.required});

  if (file.note) log.add_note(*file.note);
  CsvReader reader(file);
  CsvHeader header = read_csv_header(reader, known);
  for (Note& note : header.notes) log.add_note(std::move(note));
  for (Error& error : header.errors) log.add_error(std::move(error));
  if (!header.errors.empty()) return;

  Row row;
  for (auto found = reader.next(); found != CsvReader::Found::end; found = reader.next()) {
    if (found == CsvReader::Found::mistake) {
      log.add_error(reader.mistake());
    } else {
      for (const CsvHeader::Use& use : header.uses)
        row.*fields[use.known].member = reader.cells()[use.column];
      take(row, reader.line());
    }
    if (log.has_enough_errors()) return;
  }
}

}  // namespace ringtrue::load
