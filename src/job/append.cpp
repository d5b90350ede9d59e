#include "job/append.hpp"

#include <deque>
#include <map>

#include "job/netlists.hpp"
#include "job/table.hpp"

namespace ringtrue::job {

namespace {

/// Ids for rows of a file that have none.
template <class Row>
class Ids {
 public:
  std::string of(const Row& row) {
    std::string id = made_id(row, 0);
    const std::size_t earlier = seen_[id]++;
    return earlier == 0 ? id : made_id(row, earlier);
  }

 private:
  std::map<std::string, std::size_t> seen_;
};

LoggedReading logged(const ReadingRow& row, std::string_view supersedes) {
  LoggedReading reading;
  static_cast<ReadingRow&>(reading) = row;
  reading.supersedes = supersedes;
  return reading;
}

/// Finds the revision of the netlist in this job that a mark means.
class MarkedNetlists {
 public:
  static Result<MarkedNetlists> of(Database& database) {
    return netlist_marks(database).map([](std::vector<NetlistMark> marks) { return MarkedNetlists(std::move(marks)); });
  }

  /// Nothing for a row without a mark. By number, where that is the netlist of this SHA-256 here too, else
  /// the oldest of it.
  /// @errors unknown_object: none is.
  [[nodiscard]] Result<std::optional<std::int64_t>> number_of(std::string_view text, Place place) const {
    if (text.empty()) return std::nullopt;
    const auto wanted = netlist_mark(text);
    std::optional<std::int64_t> found;
    for (const NetlistMark& mark : marks_)
      if (wanted && mark.sha256.starts_with(wanted->sha256) && (!found || mark.number == wanted->number))
        found = mark.number;
    if (found) return found;
    place.field = "netlist";
    return fail({ErrorCode::unknown_object,
                 "the job holds no such revision of the netlist",
                 std::move(place),
                 std::string(text),
                 "number and SHA-256 of a revision that was loaded into the job before",
                 {}});
  }

 private:
  explicit MarkedNetlists(std::vector<NetlistMark> marks) : marks_(std::move(marks)) {}
  std::vector<NetlistMark> marks_;
};

/// All rows of a file or none; goes on to gather what is wrong with them. `row_of(i, made, place)` gives each
/// row, with an id; `mark_of(i)` the mark of its netlist.
template <class Row, class RowOf, class MarkOf>
Result<std::size_t> append_rows(Database& database, std::size_t count, RowOf row_of, MarkOf mark_of) {
  auto appender = Appender<Row>::open(database);
  if (!appender) return tl::unexpected(std::move(appender.error()));
  const auto netlists = MarkedNetlists::of(database);
  if (!netlists) return tl::unexpected(netlists.error());
  std::size_t added = 0;
  Errors errors;
  std::map<std::string_view, Result<std::optional<std::int64_t>>> netlist_of;  // by mark: each is told once
  for (std::size_t i = 0; i < count && errors.size() < k_max_errors; ++i) {
    std::string id;
    Place place;
    const Row row = row_of(i, id, place);
    auto [netlist, is_new] = netlist_of.try_emplace(mark_of(i), std::nullopt);
    if (is_new) netlist->second = netlists->number_of(mark_of(i), place);
    if (is_new && !netlist->second) errors.push_back(netlist->second.error().front());
    if (!netlist->second) continue;
    auto appended = appender->add(row, std::move(place), *netlist->second);
    if (appended)
      added += *appended == Appended::added;
    else if (appended.error().front().code == ErrorCode::repeated_row)
      errors.push_back(std::move(appended.error().front()));
    else
      return tl::unexpected(std::move(appended.error()));
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return added;
}

Result<std::size_t> append_readings(Database& database, const Readings& readings) {
  Ids<ReadingRow> ids;
  const auto row_at = [&](std::size_t i, std::string& id, Place& place) {
    ReadingRow row = row_of(readings, i);
    if (row.id.empty()) row.id = id = ids.of(row);
    place = {readings.file, readings.rows[i].line, "", ""};
    return logged(row, {});
  };
  return append_rows<LoggedReading>(database, readings.rows.size(), row_at, [&](std::size_t i) {
    return readings.text.get(ReadingText::netlist, i);
  });
}

Result<std::size_t> append_events(Database& database, const Events& events) {
  Ids<EventRow> ids;
  std::deque<MadeEventRow> made;
  const auto row_at = [&](std::size_t i, std::string& id, Place& place) {
    EventRow row = made.emplace_back(events.rows[i]).row;
    if (row.id.empty()) row.id = id = ids.of(row);
    place = {events.file, events.rows[i].line, "", ""};
    return row;
  };
  return append_rows<EventRow>(database, events.rows.size(), row_at,
                               [&](std::size_t i) { return std::string_view(events.rows[i].netlist); });
}

Result<std::size_t> append_meters(Database& database, const Meters& meters) {
  std::deque<MadeMeterRow> made;
  const auto row_at = [&](std::size_t i, std::string&, Place& place) {
    place = {meters.file, meters.rows[i].line, "", ""};
    return made.emplace_back(meters.rows[i]).row;
  };
  return append_rows<MeterRow>(database, meters.rows.size(), row_at,
                               [](std::size_t) { return std::string_view(); });
}

Result<std::size_t> append_io_results(Database& database, const IoResults& results) {
  Ids<IoResultRow> ids;
  const auto row_at = [&](std::size_t i, std::string& id, Place& place) {
    IoResultRow row = row_of(results.rows[i]);
    if (row.id.empty()) row.id = id = ids.of(row);
    place = {results.file, results.rows[i].line, "", ""};
    return row;
  };
  return append_rows<IoResultRow>(database, results.rows.size(), row_at,
                                  [&](std::size_t i) { return std::string_view(results.rows[i].netlist); });
}

Result<std::size_t> append_decisions(Database& database, const Decisions& decisions) {
  Ids<DecisionRow> ids;
  const auto row_at = [&](std::size_t i, std::string& id, Place& place) {
    DecisionRow row = row_of(decisions.rows[i]);
    if (row.id.empty()) row.id = id = ids.of(row);
    place = {decisions.file, decisions.rows[i].line, "", ""};
    return row;
  };
  return append_rows<DecisionRow>(database, decisions.rows.size(), row_at,
                                  [](std::size_t) { return std::string_view(); });
}

Result<std::size_t> append_signatures(Database& database, const Signatures& signatures) {
  Ids<SignatureRow> ids;
  std::deque<MadeSignatureRow> made;
  const auto row_at = [&](std::size_t i, std::string& id, Place& place) {
    SignatureRow row = made.emplace_back(signatures.rows[i]).row;
    if (row.id.empty()) row.id = id = ids.of(row);
    place = {signatures.file, signatures.rows[i].line, "", ""};
    return row;
  };
  return append_rows<SignatureRow>(database, signatures.rows.size(), row_at,
                                   [](std::size_t) { return std::string_view(); });
}

template <class Row>
Result<Appended> append_row(Database& database, const Row& row, std::optional<std::int64_t> netlist = {}) {
  return Appender<Row>::open(database).and_then([&](Appender<Row> appender) {
    return appender.add(row, {database.name(), 0, "", ""}, netlist);
  });
}

/// A correction says better what was read then: of the same time, it is of the same revision of the netlist.
Result<std::optional<std::int64_t>> netlist_of_corrected(Database& database, const ReadingRow& row,
                                                         std::string_view supersedes) {
  auto find = database.prepare("SELECT ifnull(netlist, 1), \"time\" FROM reading WHERE id = ?");
  if (!find) return tl::unexpected(std::move(find.error()));
  find->bind(1, supersedes);
  const auto there = find->step();
  if (!there) return tl::unexpected(there.error());
  if (!*there || find->bytes(1) != row.time) return std::nullopt;
  return find->number(0);
}

/// @errors unknown_reading
Result<void> look_for_superseded(Database& database, const std::string& kind, std::string_view id) {
  auto find = database.prepare("SELECT 1 FROM " + kind + " WHERE id = ?");
  if (!find) return tl::unexpected(std::move(find.error()));
  find->bind(1, id);
  const auto there = find->step();
  if (!there) return tl::unexpected(there.error());
  if (*there) return {};
  return fail({ErrorCode::unknown_reading,
               "no " + kind + " of this id is in the job, so there is nothing to supersede",
               {database.name(), 0, "", "supersedes"},
               std::string(id),
               "the id of a " + kind + " in the job",
               {}});
}

/// A withdrawal says which reading as a reading does, only what was read is missing.
ReadingRow as_reading(ReadingRow row, std::string_view supersedes) {
  if (row.value.empty() && !supersedes.empty()) row.value = row.to.empty() ? "lit" : "beep";
  return row;
}

}  // namespace

Result<void> check_reading(const ReadingRow& row, std::string_view supersedes, const std::string& file) {
  ReadingsBuilder builder(file);
  builder.add(as_reading(row, supersedes), 0);
  return builder.finish().map([](const Readings&) {});
}

Result<Appended> append_reading(Database& database, const ReadingRow& row, std::string_view supersedes) {
  if (auto sound = check_reading(row, supersedes, database.name()); !sound)
    return tl::unexpected(std::move(sound.error()));
  if (!supersedes.empty())
    if (auto there = look_for_superseded(database, "reading", supersedes); !there)
      return tl::unexpected(std::move(there.error()));
  return netlist_of_corrected(database, row, supersedes).and_then([&](std::optional<std::int64_t> netlist) {
    return append_row(database, logged(row, supersedes), netlist);
  });
}

Result<Appended> append_event(Database& database, const EventRow& row) {
  const auto event = event_from_row(row, 0, database.name());
  if (!event) return tl::unexpected(event.error());
  return append_row(database, MadeEventRow(*event).row);
}

Result<Appended> append_io_result(Database& database, const IoResultRow& row) {
  if (const auto sound = io_result_from_row(row, 0, database.name()); !sound)
    return tl::unexpected(sound.error());
  if (!row.supersedes.empty())
    if (auto there = look_for_superseded(database, "result", row.supersedes); !there)
      return tl::unexpected(std::move(there.error()));
  return append_row(database, row);
}

Result<Appended> append_decision(Database& database, const DecisionRow& row) {
  if (const auto sound = decision_from_row(row, 0, database.name()); !sound)
    return tl::unexpected(sound.error());
  return append_row(database, row);
}

Result<Appended> append_signature(Database& database, const Signature& signature) {
  const MadeSignatureRow made(signature);
  if (const auto sound = signature_from_row(made.row, 0, database.name()); !sound)
    return tl::unexpected(sound.error());
  return append_row(database, made.row);
}

Result<JobRowCounts> append_all(Database& database, const JobRows& rows) {
  JobRowCounts added;
  const auto add = [&](const auto& table, auto append, std::size_t& count) {
    return table ? append(database, *table).map([&](std::size_t more) { count = more; }) : Result<void>{};
  };
  return add(rows.readings, append_readings, added.readings)
      .and_then([&] { return add(rows.events, append_events, added.events); })
      .and_then([&] { return add(rows.meters, append_meters, added.meters); })
      .and_then([&] { return add(rows.io_results, append_io_results, added.io_results); })
      .and_then([&] { return add(rows.decisions, append_decisions, added.decisions); })
      .and_then([&] { return add(rows.signatures, append_signatures, added.signatures); })
      .map([&] { return added; });
}

}  // namespace ringtrue::job
