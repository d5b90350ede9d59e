#include "job/export.hpp"

#include <system_error>

#include "job/journal.hpp"
#include "job/netlists.hpp"
#include "job/rows_file.hpp"
#include "job/sha256.hpp"
#include "job/table.hpp"

namespace ringtrue::job {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view k_superseded_by = "superseded_by";

/// `further`: a query for one more column, and its name.
template <class Row>
Result<void> write_rows(Database& database, const fs::path& path, std::string_view further_name,
                        const std::string& further) {
  RowsFile<Row> file(path, further_name);
  const int after_fields = static_cast<int>(fields_of<Row>().size()) + 1;
  const auto take = [&](const Row& row, std::uint32_t, const Statement& statement) {
    file.put(row, further.empty() ? std::string_view{} : statement.bytes(after_fields));
  };
  return for_each_row<Row>(database, further, "", take).and_then([&] { return file.finish(); });
}

Result<void> write_netlists(Database& database, const fs::path& folder) {
  auto rows = database.prepare(
      "SELECT netlist, (SELECT max(number) FROM netlist), name, sha256, bytes FROM netlist_file ORDER BY "
      "netlist, name");
  if (!rows) return tl::unexpected(std::move(rows.error()));
  for (auto there = rows->step(); !there || *there; there = rows->step()) {
    if (!there) return tl::unexpected(std::move(there.error()));
    if (!is_below_folder(rows->bytes(2)) || sha256(rows->bytes(4)) != rows->bytes(3))
      return fail(changed_bytes(database, rows->bytes(2)));
    if (auto done = write_netlist_file(
            folder / netlist_folder(rows->number(0), rows->number(1)) / rows->bytes(2), rows->bytes(4));
        !done)
      return done;
  }
  return {};
}

}  // namespace

std::string netlist_folder(std::int64_t number, std::int64_t newest) {
  return number == newest ? "netlist" : "netlist-" + std::to_string(number);
}

Result<std::string> sha256_of_readings(Database& database) {
  std::string bytes;
  const auto put = [&](std::string_view text) { bytes += text; };
  put_header<LoggedReading>(k_superseded_by, put);
  const int after_fields = static_cast<int>(fields_of<LoggedReading>().size()) + 1;
  const auto take = [&](const LoggedReading& row, std::uint32_t, const Statement& statement) {
    const std::string_view further = statement.bytes(after_fields);
    put_row(row, &further, put);
  };
  auto done = for_each_row<LoggedReading>(database, superseded_by<LoggedReading>(), "", take);
  if (!done) return tl::unexpected(std::move(done.error()));
  return sha256(bytes);
}

Result<void> write_netlist_file(const fs::path& path, std::string_view bytes) {
  std::error_code what_the_file_will_say;
  fs::create_directories(path.parent_path(), what_the_file_will_say);
  write::OutputFile file(path);
  file.put(bytes);
  return file.finish();
}

Result<void> export_files(Database& database, const fs::path& folder) {
  const auto write_all = [&](const fs::path& made) {
    return write_rows<LoggedReading>(database, made / "readings.csv", k_superseded_by,
                                     superseded_by<LoggedReading>())
        .and_then([&] { return write_rows<EventRow>(database, made / "events.csv", "", ""); })
        .and_then([&] { return write_rows<MeterRow>(database, made / "meters.csv", "", ""); })
        .and_then([&] {
          return write_rows<IoResultRow>(database, made / "results.csv", k_superseded_by,
                                         superseded_by<IoResultRow>());
        })
        .and_then([&] { return write_rows<DecisionRow>(database, made / "decisions.csv", "", ""); })
        .and_then([&] { return write_netlists(database, made); });
  };
  return write::write_whole(folder, {.is_folder = true}, Existing::refuse, write_all);
}

}  // namespace ringtrue::job
