#include "job/journal.hpp"

#include <algorithm>
#include <limits>

#include "job/table.hpp"

namespace ringtrue::job {

namespace {

Result<Statement> select(Database& database, const std::string& rest) {
  return database.prepare("SELECT " + columns_of<LoggedReading>() + superseded_by<LoggedReading>() +
                          " FROM reading " + rest);
}

JournalReading journal_reading(const Statement& statement) {
  const auto row = row_at<LoggedReading>(statement, 0);
  const auto own = [](std::string_view text) { return std::string(text); };
  return {.from = own(row.from),
          .to = own(row.to),
          .value = own(row.value),
          .time = own(row.time),
          .by = own(row.by),
          .conditions = own(row.conditions),
          .meter = own(row.meter),
          .method = own(row.method),
          .witness = own(row.witness),
          .note = own(row.note),
          .id = own(row.id),
          .supersedes = own(row.supersedes),
          .superseded_by = own(statement.bytes(static_cast<int>(fields_of<LoggedReading>().size())))};
}

}  // namespace

Result<std::vector<JournalReading>> newest_readings(Database& database, std::size_t count) {
  auto rows = select(database, "ORDER BY number DESC LIMIT ?");
  if (!rows) return tl::unexpected(std::move(rows.error()));
  constexpr std::size_t k_most = std::numeric_limits<std::int64_t>::max();
  rows->bind(1, static_cast<std::int64_t>(std::min(count, k_most)));
  std::vector<JournalReading> all;
  for (auto there = rows->step(); !there || *there; there = rows->step()) {
    if (!there) return tl::unexpected(std::move(there.error()));
    all.push_back(journal_reading(*rows));
  }
  return all;
}

Result<std::optional<JournalReading>> find_reading(Database& database, std::string_view id) {
  auto row = select(database, "WHERE id = ?");
  if (!row) return tl::unexpected(std::move(row.error()));
  row->bind(1, id);
  const auto there = row->step();
  if (!there) return tl::unexpected(there.error());
  if (!*there) return std::nullopt;
  return journal_reading(*row);
}

Result<std::optional<IoResult>> find_io_result(Database& database, std::string_view id) {
  auto row = database.prepare("SELECT " + columns_of<IoResultRow>() + " FROM result WHERE id = ?");
  if (!row) return tl::unexpected(std::move(row.error()));
  row->bind(1, id);
  const auto there = row->step();
  if (!there) return tl::unexpected(there.error());
  if (!*there) return std::nullopt;
  return io_result_from_row(row_at<IoResultRow>(*row, 0), 0, database.name()).map([](IoResult result) {
    return std::optional(std::move(result));
  });
}

}  // namespace ringtrue::job
