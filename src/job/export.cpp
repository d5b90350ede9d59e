#include "job/export.hpp"

#include <system_error>
#include <type_traits>
#include <vector>

#include "job/journal.hpp"
#include "job/netlists.hpp"
#include "job/rows_file.hpp"
#include "job/sha256.hpp"
#include "job/table.hpp"

namespace ringtrue::job {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view k_superseded_by = "superseded_by", k_netlist = "netlist";

/// Whether rows of the kind may supersede each other.
template <class Row>
constexpr bool k_is_superseded = !std::is_same_v<Row, EventRow>;

/// The columns of a kind of rows beside their fields, and the queries of them.
template <class Row>
std::vector<std::string_view> further_names() {
  if constexpr (!k_table_of<Row>.is_of_netlist)
    return {};
  else if constexpr (k_is_superseded<Row>)
    return {k_superseded_by, k_netlist};
  else
    return {k_netlist};
}
template <class Row>
std::string further_columns() {
  if constexpr (!k_table_of<Row>.is_of_netlist)
    return {};
  else if constexpr (k_is_superseded<Row>)
    return superseded_by<Row>() + mark_of_netlist<Row>();
  else
    return mark_of_netlist<Row>();
}

/// Calls `put(row, further)` for each row.
template <class Row, class Put>
Result<void> put_rows(Database& database, Put put) {
  const std::size_t count = further_names<Row>().size();
  std::vector<std::string_view> further(count);
  const auto take = [&](const Row& row, std::uint32_t, const Statement& statement) {
    for (std::size_t i = 0; i < count; ++i)
      further[i] = statement.bytes(static_cast<int>(fields_of<Row>().size() + i) + 1);
    put(row, Further(further));
  };
  return for_each_row<Row>(database, further_columns<Row>(), "", take);
}

template <class Row>
Result<void> write_rows(Database& database, const fs::path& path) {
  RowsFile<Row> file(path, further_names<Row>());
  return put_rows<Row>(database, [&](const Row& row, Further further) { file.put(row, further); })
      .and_then([&] { return file.finish(); });
}

Result<void> write_list_of_all_netlists(Database& database, const fs::path& path) {
  auto netlists = stored_netlists(database);
  if (!netlists) return tl::unexpected(std::move(netlists.error()));
  std::map<std::int64_t, JobNetlist> by_number;
  for (JobNetlist& netlist : *netlists)
    by_number.emplace(static_cast<std::int64_t>(by_number.size()) + 1, std::move(netlist));
  return write_list_of_netlists(path, by_number, static_cast<std::int64_t>(by_number.size()));
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

template <class Row>
Result<std::string> sha256_of(Database& database) {
  std::string bytes;
  const auto put = [&](std::string_view text) { bytes += text; };
  put_header<Row>(further_names<Row>(), put);
  auto done = put_rows<Row>(database, [&](const Row& row, Further further) { put_row(row, further, put); });
  if (!done) return tl::unexpected(std::move(done.error()));
  return sha256(bytes);
}

Result<std::string> sha256_of_readings(Database& database) { return sha256_of<LoggedReading>(database); }

Result<std::string> sha256_of_rows(Database& database) {
  std::string lines;
  const auto add = [&](std::string_view name) {
    return [&lines, name](const std::string& sum) { lines += sum + "  " + std::string(name) + "\n"; };
  };
  return sha256_of<DecisionRow>(database)
      .map(add("decisions.csv"))
      .and_then([&] { return sha256_of<EventRow>(database).map(add("events.csv")); })
      .and_then([&] { return sha256_of<MeterRow>(database).map(add("meters.csv")); })
      .and_then([&] { return sha256_of<LoggedReading>(database).map(add("readings.csv")); })
      .and_then([&] { return sha256_of<IoResultRow>(database).map(add("results.csv")); })
      .map([&] { return sha256(lines); });
}

Result<void> write_list_of_netlists(const fs::path& path, const std::map<std::int64_t, JobNetlist>& netlists,
                                    std::int64_t newest) {
  write::OutputFile file(path);
  const auto put = [&](std::string_view text) { file.put(text); };
  put("number,folder,as_built,sha256,path");
  put(k_csv_line_end);
  for (const auto& [number, netlist] : netlists) {
    put(std::to_string(number) + "," + netlist_folder(number, newest) + "," +
        (netlist.is_as_built ? "yes," : "no,") + netlist.sha256 + ",");
    put_csv_cell(netlist.path, put);
    put(k_csv_line_end);
  }
  return file.finish();
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
    return write_rows<LoggedReading>(database, made / "readings.csv")
        .and_then([&] { return write_rows<EventRow>(database, made / "events.csv"); })
        .and_then([&] { return write_rows<MeterRow>(database, made / "meters.csv"); })
        .and_then([&] { return write_rows<IoResultRow>(database, made / "results.csv"); })
        .and_then([&] { return write_rows<DecisionRow>(database, made / "decisions.csv"); })
        .and_then([&] { return write_rows<SignatureRow>(database, made / "signatures.csv"); })
        .and_then([&] { return write_list_of_all_netlists(database, made / "netlists.csv"); })
        .and_then([&] { return write_netlists(database, made); });
  };
  return write::write_whole(folder, {.is_folder = true}, Existing::refuse, write_all);
}

}  // namespace ringtrue::job
