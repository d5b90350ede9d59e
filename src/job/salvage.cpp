#include "ringtrue/job/salvage.hpp"

#include <algorithm>
#include <map>
#include <optional>

#include "job/append.hpp"
#include "job/export.hpp"
#include "job/netlists.hpp"
#include "job/rows_file.hpp"
#include "job/schema.hpp"
#include "job/sha256.hpp"
#include "job/table.hpp"
#include "ringtrue/base/utf8.hpp"

namespace ringtrue {

namespace job {
namespace {

namespace fs = std::filesystem;

bool is_text(std::string_view text) {
  return text.find('\0') == std::string_view::npos && !first_bad_utf8(text);
}

/// What the index of a table tells of its rows, also of those that can't be read.
struct Index {
  std::map<std::int64_t, std::string> keys;  ///< by the row's number
  bool is_whole = false;
};

/// From both ends, so that damage in its midst hides little.
Index read_index(Database& database, const std::string& table, const std::string& index,
                 const std::string& key, std::int64_t most) {
  Index found;
  for (const char* order : {"", " DESC"}) {
    auto rows = database.prepare("SELECT number, \"" + key + "\" FROM " + table + " INDEXED BY " + index +
                                 " WHERE \"" + key + "\" IS NOT NULL ORDER BY \"" + key + "\"" + order);
    if (!rows) return found;
    auto there = rows->step();
    for (; there && *there; there = rows->step())
      if (rows->number(0) >= 1 && rows->number(0) <= most && is_text(rows->bytes(1)))
        found.keys[rows->number(0)] = rows->bytes(1);
    found.is_whole = there.has_value();
    if (found.is_whole) return found;
  }
  return found;
}

/// One table of a damaged job, read row by row.
class DamagedTable {
 public:
  /// @param columns  of which those that this form of a job lacks read as empty.
  static Result<DamagedTable> open(Database& database, const std::string& table, const std::string& key,
                                   const std::vector<std::string>& columns) {
    const auto size =
        database.number("SELECT page_count * page_size FROM pragma_page_count, pragma_page_size");
    if (!size) return tl::unexpected(size.error());
    constexpr std::int64_t k_least_bytes_of_a_row = 8;
    const std::int64_t most = *size / k_least_bytes_of_a_row;
    std::string listed;
    for (const std::string& column : columns) {
      const auto there = database.number("SELECT count(*) FROM pragma_table_info('" + table +
                                         "') WHERE name = '" + column + "'");
      if (!there) return tl::unexpected(there.error());
      listed += *there != 0 ? ", \"" + column + "\"" : ", NULL";
    }
    const auto exists = database.number("SELECT count(*) FROM pragma_table_info('" + table + "')");
    if (!exists) return tl::unexpected(exists.error());
    DamagedTable opened;
    if (*exists == 0) return opened;
    auto row =
        database.prepare("SELECT number" + listed + " FROM " + table + " NOT INDEXED WHERE number = ?");
    if (!row) return tl::unexpected(std::move(row.error()));
    opened.row_ = std::move(*row);
    opened.index_ = read_index(database, table, "sqlite_autoindex_" + table + "_1", key, most);
    if (!opened.index_.keys.empty()) opened.last_ = opened.index_.keys.rbegin()->first;
    if (opened.index_.is_whole) return opened;
    const auto last = database.number("SELECT max(number) FROM " + table + " NOT INDEXED");
    if (last && *last <= most)
      opened.last_ = std::max(opened.last_, *last);
    else
      opened.most_ = most;
    return opened;
  }

  /// Calls `take(number, statement)` for each row that can be read; it says whether the row is sound.
  template <class Take>
  SalvagedTable read(std::string name, Take take) {
    SalvagedTable table{std::move(name), 0, {}, most_ != 0};
    for (std::int64_t number = 1; number <= std::max(last_, most_); ++number) {
      row_->bind(1, number);
      const auto there = row_->step();
      const bool is_sound = there && *there && take(number, *row_);
      row_->reset();
      if (is_sound) {
        ++table.read;
        last_ = std::max(last_, number);
      } else {
        lose(table.lost, number);
      }
    }
    // What lies behind the last row that is known may never have been there.
    if (!table.lost.empty() && table.lost.back().first > last_)
      table.lost.pop_back();
    else if (!table.lost.empty() && table.lost.back().last > last_)
      table.lost.back().last = last_, table.lost.back().last_id = id_of(last_);
    return table;
  }

  /// No row has a greater number.
  [[nodiscard]] std::int64_t most() const { return std::max(last_, most_); }
  [[nodiscard]] std::string id_of(std::int64_t number) const {
    const auto found = index_.keys.find(number);
    return found == index_.keys.end() ? "" : found->second;
  }

 private:
  void lose(std::vector<LostRows>& lost, std::int64_t number) const {
    if (lost.empty() || lost.back().last + 1 != number) lost.push_back({number, number, id_of(number), ""});
    lost.back().last = number;
    lost.back().last_id = id_of(number);
  }

  std::optional<Statement> row_;  ///< none where this form of a job lacks the table
  Index index_;
  std::int64_t last_ = 0;  ///< the last row that is known
  std::int64_t most_ = 0;  ///< where that may not be all: more rows than this the file can't hold
};

bool is_sound(const LoggedReading& row) { return check_reading(row, row.supersedes, "").has_value(); }
bool is_sound(const EventRow& row) { return event_from_row(row, 0, "").has_value(); }
bool is_sound(const MeterRow& row) { return meter_from_row(row, 0, "").has_value(); }
bool is_sound(const DecisionRow& row) { return decision_from_row(row, 0, "").has_value(); }
bool is_sound(const SignatureRow& row) { return signature_from_row(row, 0, "").has_value(); }
bool is_sound(const IoResultRow& row) { return io_result_from_row(row, 0, "").has_value(); }

template <class Row>
bool is_whole(const Row& row) {
  for (const FieldOf<Row>& field : fields_of<Row>()) {
    if (field.name == k_table_of<Row>.key && (row.*field.member).empty()) return false;
    if (!is_text(row.*field.member)) return false;
  }
  return is_sound(row);
}

/// The marks of the netlists that can be read, by number.
using Marks = std::map<std::int64_t, std::string>;

Result<Marks> marks_of_netlists(Database& database) {
  auto netlists = DamagedTable::open(database, "netlist", "sha256", {"sha256"});
  if (!netlists) return tl::unexpected(std::move(netlists.error()));
  Marks marks;
  netlists->read("", [&](std::int64_t number, const Statement& row) {
    marks[number] = NetlistMark{static_cast<std::uint32_t>(number), std::string(row.bytes(1))}.text();
    return true;
  });
  return marks;
}

/// As `mark_of_netlist`; the column is the last of `open_table`. Of a netlist that is lost it is no mark, so
/// that nobody takes the row for one of another.
template <class Row>
std::string mark_in(const Statement& row, const Marks& marks) {
  const std::int64_t known = row.number(static_cast<int>(fields_of<Row>().size()) + 1);
  const std::int64_t number = std::max<std::int64_t>(known, 1);
  const auto found = marks.find(number);
  return found == marks.end() ? std::to_string(number) + " lost" : found->second;
}

template <class Row>
Result<DamagedTable> open_table(Database& database) {
  std::vector<std::string> columns;
  for (const FieldOf<Row>& field : fields_of<Row>()) columns.emplace_back(field.name);
  if (k_table_of<Row>.is_of_netlist) columns.emplace_back("netlist");
  return DamagedTable::open(database, std::string(k_table_of<Row>.table), std::string(k_table_of<Row>.key),
                            columns);
}

template <class Row>
Result<void> save_rows(Database& database, const fs::path& path, const Marks& marks, Salvage& salvage) {
  auto table = open_table<Row>(database);
  if (!table) return tl::unexpected(std::move(table.error()));
  constexpr std::string_view k_further[] = {"netlist"};
  const Further further = Further(k_further).first(k_table_of<Row>.is_of_netlist);
  RowsFile<Row> file(path, further);
  salvage.tables.push_back(
      table->read(std::string(k_table_of<Row>.table), [&](std::int64_t, const Statement& statement) {
        const Row row = row_at<Row>(statement, 1);
        if (!is_whole(row)) return false;
        const std::string mark = further.empty() ? std::string() : mark_in<Row>(statement, marks);
        const std::string_view cell = mark;
        file.put(row, Further(&cell, further.size()));
        return true;
      }));
  return file.finish();
}

/// By the id of a reading or result, the rows that supersede it: also lost ones, or it would pass for
/// current.
template <class Row>
std::map<std::string, std::string> superseding_rows(Database& database, DamagedTable& table) {
  const std::string name(k_table_of<Row>.table);
  std::map<std::int64_t, std::pair<std::string, std::string>> by_number;  // supersedes, id
  const Index index = read_index(database, name, name + "_supersedes", "supersedes", table.most());
  for (const auto& [number, supersedes] : index.keys) {
    const std::string id = table.id_of(number);
    by_number[number] = {supersedes, id.empty() ? "row " + std::to_string(number) : id};
  }
  table.read("", [&](std::int64_t number, const Statement& statement) {
    const auto row = row_at<Row>(statement, 1);
    if (!is_whole(row)) return false;
    by_number.erase(number);
    if (!row.supersedes.empty()) by_number[number] = {std::string(row.supersedes), std::string(row.id)};
    return true;
  });
  std::map<std::string, std::string> all;
  for (const auto& [number, row] : by_number) {
    std::string& ids = all[row.first];
    ids += (ids.empty() ? "" : "; ") + row.second;
  }
  return all;
}

template <class Row>
Result<void> save_superseded_rows(Database& database, const fs::path& path, const Marks& marks,
                                  Salvage& salvage) {
  auto table = open_table<Row>(database);
  if (!table) return tl::unexpected(std::move(table.error()));
  const auto superseding = superseding_rows<Row>(database, *table);
  constexpr std::string_view k_further[] = {"superseded_by", "netlist"};
  RowsFile<Row> file(path, k_further);
  const std::string name(k_table_of<Row>.table);
  salvage.tables.push_back(table->read(name, [&](std::int64_t, const Statement& statement) {
    const auto row = row_at<Row>(statement, 1);
    if (!is_whole(row)) return false;
    const auto by = superseding.find(std::string(row.id));
    const std::string mark = mark_in<Row>(statement, marks);
    const std::string_view further[] = {by == superseding.end() ? "" : std::string_view(by->second), mark};
    file.put(row, further);
    return true;
  }));
  return file.finish();
}

Result<void> save_netlists(Database& database, const fs::path& folder, Salvage& salvage) {
  auto netlists = DamagedTable::open(database, "netlist", "sha256", {"sha256", "as_built", "path"});
  if (!netlists) return tl::unexpected(std::move(netlists.error()));
  auto files = DamagedTable::open(database, "netlist_file", "name", {"netlist", "name", "sha256", "bytes"});
  if (!files) return tl::unexpected(std::move(files.error()));
  std::int64_t newest = 0;
  std::map<std::int64_t, JobNetlist> listed;
  netlists->read("", [&](std::int64_t number, const Statement& row) {
    newest = number;
    if (!is_text(row.bytes(1)) || !is_text(row.bytes(3))) return false;
    listed[number] = {std::string(row.bytes(3)), std::string(row.bytes(1)), {}, row.number(2) != 0, 0};
    return true;
  });
  const auto is_whole_file = [&](const Statement& row) {
    return row.number(1) >= 1 && row.number(1) <= std::max(netlists->most(), files->most()) &&
           is_text(row.bytes(2)) && is_below_folder(row.bytes(2));
  };
  files->read("", [&](std::int64_t, const Statement& row) {
    if (is_whole_file(row)) newest = std::max(newest, row.number(1));
    return true;
  });
  Result<void> written;
  salvage.tables.push_back(files->read("netlist file", [&](std::int64_t, const Statement& row) {
    if (!written || !is_whole_file(row)) return false;
    const fs::path name = fs::path(netlist_folder(row.number(1), newest)) / row.bytes(2);
    if (sha256(row.bytes(4)) != row.bytes(3)) salvage.changed_files.push_back(name.string());
    written = write_netlist_file(folder / name, row.bytes(4));
    return true;
  }));
  return written.and_then([&] { return write_list_of_netlists(folder / "netlists.csv", listed, newest); });
}

}  // namespace
}  // namespace job

Result<Salvage> salvage_job(const std::filesystem::path& job, const std::filesystem::path& folder) {
  using namespace job;
  auto opened = Database::open(job, job.string(), Open::damaged, k_job_patience);
  if (!opened) return tl::unexpected(std::move(opened.error()));
  Database& database = **opened;
  Salvage salvage;
  const auto save_all = [&](const fs::path& made) {
    const auto marks = marks_of_netlists(database);
    if (!marks) return Result<void>(tl::unexpected(marks.error()));
    return save_superseded_rows<LoggedReading>(database, made / "readings.csv", *marks, salvage)
        .and_then([&] { return save_rows<EventRow>(database, made / "events.csv", *marks, salvage); })
        .and_then([&] { return save_rows<MeterRow>(database, made / "meters.csv", *marks, salvage); })
        .and_then([&] {
          return save_superseded_rows<IoResultRow>(database, made / "results.csv", *marks, salvage);
        })
        .and_then([&] { return save_rows<DecisionRow>(database, made / "decisions.csv", *marks, salvage); })
        .and_then([&] { return save_rows<SignatureRow>(database, made / "signatures.csv", *marks, salvage); })
        .and_then([&] { return save_netlists(database, made, salvage); });
  };
  // Without a transaction: SQLite doesn't commit, not even reading, where a page was bad.
  return job_version(database)
      .and_then([&](std::int64_t) {
        return write::write_whole(folder, {.is_folder = true}, Existing::refuse, save_all);
      })
      .map([&] { return std::move(salvage); });
}

}  // namespace ringtrue
