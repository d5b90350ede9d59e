#include "job/export.hpp"

#include <system_error>

#include "job/journal.hpp"
#include "job/table.hpp"
#include "ringtrue/base/csv_cell.hpp"
#include "ringtrue/write/whole_file.hpp"

namespace ringtrue::job {

namespace {

namespace fs = std::filesystem;

/// `further`: a query for one more column, and its name.
template <class Row>
Result<void> write_rows(Database& database, const fs::path& path, std::string_view further_name,
                        const std::string& further) {
  write::OutputFile file(path);
  const auto put = [&](std::string_view text) { file.put(text); };
  std::string_view comma;
  for (const FieldOf<Row>& field : fields_of<Row>()) {
    file.put(comma);
    file.put(field.name);
    comma = ",";
  }
  file.put(further_name);
  file.put(k_csv_line_end);
  const int after_fields = static_cast<int>(fields_of<Row>().size()) + 1;
  const auto take = [&](const Row& row, std::uint32_t, const Statement& statement) {
    std::string_view between;
    for (const FieldOf<Row>& field : fields_of<Row>()) {
      file.put(between);
      put_csv_cell(row.*field.member, put);
      between = ",";
    }
    if (!further.empty()) {
      file.put(between);
      put_csv_cell(statement.bytes(after_fields), put);
    }
    file.put(k_csv_line_end);
  };
  return for_each_row<Row>(database, further, "", take).and_then([&] { return file.finish(); });
}

/// Into `netlist`, or `netlist-N` where it isn't the newest revision.
Result<void> write_netlists(Database& database, const fs::path& folder) {
  auto rows = database.prepare(
      "SELECT iif(netlist = (SELECT max(number) FROM netlist), 'netlist', 'netlist-' || netlist), name, "
      "bytes "
      "FROM netlist_file ORDER BY netlist, name");
  if (!rows) return tl::unexpected(std::move(rows.error()));
  for (auto there = rows->step(); !there || *there; there = rows->step()) {
    if (!there) return tl::unexpected(std::move(there.error()));
    const fs::path path = folder / rows->bytes(0) / rows->bytes(1);
    std::error_code what_the_file_will_say;
    fs::create_directories(path.parent_path(), what_the_file_will_say);
    write::OutputFile file(path);
    file.put(rows->bytes(2));
    if (auto done = file.finish(); !done) return done;
  }
  return {};
}

}  // namespace

Result<void> export_files(Database& database, const fs::path& folder) {
  const auto write_all = [&](const fs::path& made) {
    return write_rows<LoggedReading>(database, made / "readings.csv", ",superseded_by",
                                     std::string(k_superseded_by))
        .and_then([&] { return write_rows<EventRow>(database, made / "events.csv", "", ""); })
        .and_then([&] { return write_rows<MeterRow>(database, made / "meters.csv", "", ""); })
        .and_then([&] { return write_rows<IoResultRow>(database, made / "results.csv", "", ""); })
        .and_then([&] { return write_netlists(database, made); });
  };
  return write::write_whole(folder, {.is_folder = true}, Existing::refuse, write_all);
}

}  // namespace ringtrue::job
