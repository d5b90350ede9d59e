#include "job/panel.hpp"

#include <algorithm>
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

constexpr const char* k_current_results =
    " WHERE verdict <> 'withdrawn' AND "
    "NOT EXISTS (SELECT 1 FROM result AS later WHERE later.supersedes = result.id)";

/// Where there is one revision alone, rows need no mark.
template <class Row>
Result<std::string> mark_where_needed(Database& database) {
  if constexpr (!k_table_of<Row>.is_of_netlist) return std::string(", NULL");
  return database.number("SELECT count(*) FROM netlist").map([](std::int64_t count) {
    return count > 1 ? mark_of_netlist<Row>() : ", NULL";
  });
}

/// Events, meters, I/O results, decisions or signatures: `make(row, line, file)` gives a record.
template <class Table, class Row, class Make>
Result<Table> all_rows(Database& database, Make make, const std::string& where = "") {
  constexpr bool is_of_netlist = k_table_of<Row>.is_of_netlist;
  const int after_fields = static_cast<int>(fields_of<Row>().size()) + 1;
  Table table;
  table.file = database.name();
  Errors errors;
  const auto take = [&](const Row& row, std::uint32_t number, const Statement& statement) {
    auto record = make(row, number + 1, database.name());
    if (!record) return void(errors.insert(errors.end(), record.error().begin(), record.error().end()));
    if constexpr (is_of_netlist) record->netlist = statement.bytes(after_fields);
    table.rows.push_back(std::move(*record));
  };
  auto read = mark_where_needed<Row>(database).and_then(
      [&](const std::string& mark) { return for_each_row<Row>(database, mark, where, take); });
  if (!read) return tl::unexpected(std::move(read.error()));
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return table;
}

/// The earlier revisions that any row of the panel is marked with, and those after them.
Result<std::vector<EarlierNetlist>> earlier_netlists(Database& database, const Panel& panel,
                                                     std::int64_t newest) {
  std::int64_t oldest = newest;
  std::string_view last;
  const auto take = [&](std::string_view text) {
    if (text == last) return;
    last = text;
    if (const auto mark = netlist_mark(text)) oldest = std::min<std::int64_t>(oldest, mark->number);
  };
  for (std::size_t i = 0; i < panel.readings.rows.size(); ++i)
    take(panel.readings.text.get(ReadingText::netlist, i));
  for (const Event& event : panel.events.rows) take(event.netlist);
  for (const IoResult& result : panel.io_results.rows) take(result.netlist);
  for (const Decision& decision : panel.decisions.rows)
    if (const auto number = revision_of(decision))
      oldest = std::min(oldest, static_cast<std::int64_t>(*number));
  std::vector<EarlierNetlist> all;
  for (; oldest < newest; ++oldest) {
    auto netlist = load_earlier_netlist(database, oldest);
    if (!netlist) return tl::unexpected(std::move(netlist.error()));
    all.push_back(std::move(*netlist));
  }
  return all;
}

}  // namespace

Result<Readings> readings_of(Database& database, const std::string& where) {
  ReadingsBuilder builder(database.name());
  const auto texts = std::make_shared<std::deque<std::string>>();
  builder.keep(texts);
  const int after_fields = static_cast<int>(fields_of<LoggedReading>().size()) + 1;
  std::string_view mark;
  const auto take = [&](const LoggedReading& row, std::uint32_t number, const Statement& statement) {
    if (statement.bytes(after_fields) != mark) mark = texts->emplace_back(statement.bytes(after_fields));
    builder.add(kept_row<ReadingRow>(row, *texts), number + 1, mark);
  };
  auto read = mark_where_needed<LoggedReading>(database).and_then([&](const std::string& mark_column) {
    return for_each_row<LoggedReading>(database, mark_column, where, take);
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

Result<Signatures> signatures_of(Database& database) {
  return all_rows<Signatures, SignatureRow>(database, signature_from_row);
}

Result<Panel> read_panel(Database& database) {
  const auto newest = database.number("SELECT max(number) FROM netlist");
  if (!newest) return tl::unexpected(newest.error());
  Panel panel;
  const auto into = [](auto& target) { return [&target](auto value) { target = std::move(value); }; };
  return load_stored_netlist(database, *newest)
      .map(into(panel.netlist))
      .and_then([&] {
        return readings_of(database, std::string(" WHERE ") + k_is_current).map(into(panel.readings));
      })
      .and_then([&] { return all_rows<Events, EventRow>(database, event_from_row).map(into(panel.events)); })
      .and_then([&] { return io_results_of(database).map(into(panel.io_results)); })
      .and_then([&] { return all_rows<Meters, MeterRow>(database, meter_from_row).map(into(panel.meters)); })
      .and_then([&] {
        return all_rows<Decisions, DecisionRow>(database, decision_from_row).map(into(panel.decisions));
      })
      .and_then([&] { return earlier_netlists(database, panel, *newest).map(into(panel.earlier)); })
      .map([&] { return std::move(panel); });
}

}  // namespace ringtrue::job
