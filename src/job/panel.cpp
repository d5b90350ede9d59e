#include "job/panel.hpp"

#include <deque>

#include "job/netlists.hpp"
#include "job/table.hpp"

namespace ringtrue::job {

namespace {

/// The texts of a row stay as long as `kept`.
template <class Row>
Row kept_row(Row row, std::deque<std::string>& kept) {
  for (const FieldOf<Row>& field : fields_of<Row>()) {
    std::string_view& text = row.*field.member;
    if (!text.empty()) text = kept.emplace_back(text);
  }
  return row;
}

constexpr const char* k_current =
    " WHERE value IS NOT NULL AND "
    "NOT EXISTS (SELECT 1 FROM reading AS later WHERE later.supersedes = reading.id)";
constexpr const char* k_current_results =
    " WHERE verdict <> 'withdrawn' AND "
    "NOT EXISTS (SELECT 1 FROM result AS later WHERE later.supersedes = result.id)";

/// Events, meters, I/O results or decisions: `make(row, line, file)` gives a record.
template <class Table, class Row, class Make>
Result<Table> all_rows(Database& database, Make make, const std::string& where = "") {
  Table table;
  table.file = database.name();
  Errors errors;
  auto read =
      for_each_row<Row>(database, "", where, [&](const Row& row, std::uint32_t number, const Statement&) {
        auto record = make(row, number + 1, database.name());
        if (record) return table.rows.push_back(std::move(*record));
        errors.insert(errors.end(), record.error().begin(), record.error().end());
      });
  if (!read) return tl::unexpected(std::move(read.error()));
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return table;
}

}  // namespace

Result<Readings> readings_of(Database& database, const std::string& where) {
  ReadingsBuilder builder(database.name());
  const auto texts = std::make_shared<std::deque<std::string>>();
  builder.keep(texts);
  auto read = for_each_row<LoggedReading>(
      database, "", where, [&](const LoggedReading& row, std::uint32_t number, const Statement&) {
        builder.add(kept_row<ReadingRow>(row, *texts), number + 1);
      });
  if (!read) return tl::unexpected(std::move(read.error()));
  return builder.finish().map([](Readings readings) {
    readings.is_final = true;
    return readings;
  });
}

Result<IoResults> io_results_of(Database& database) {
  return all_rows<IoResults, IoResultRow>(database, io_result_from_row, k_current_results);
}

Result<Panel> read_panel(Database& database) {
  Panel panel;
  const auto into = [](auto& target) { return [&target](auto value) { target = std::move(value); }; };
  return load_stored_netlist(database)
      .map(into(panel.netlist))
      .and_then([&] { return readings_of(database, k_current).map(into(panel.readings)); })
      .and_then([&] { return all_rows<Events, EventRow>(database, event_from_row).map(into(panel.events)); })
      .and_then([&] { return io_results_of(database).map(into(panel.io_results)); })
      .and_then([&] { return all_rows<Meters, MeterRow>(database, meter_from_row).map(into(panel.meters)); })
      .and_then([&] {
        return all_rows<Decisions, DecisionRow>(database, decision_from_row).map(into(panel.decisions));
      })
      .map([&] { return std::move(panel); });
}

}  // namespace ringtrue::job
