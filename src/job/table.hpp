#pragma once
#include <algorithm>
#include <optional>
#include <string>
#include <string_view>

#include "job/database.hpp"
#include "job/rows.hpp"
#include "ringtrue/job/job.hpp"

namespace ringtrue::job {

/// The columns of a row's table, in the order of `fields_of`.
template <class Row>
std::string columns_of() {
  std::string text;
  for (const FieldOf<Row>& field : fields_of<Row>())
    text += (text.empty() ? "\"" : ", \"") + std::string(field.name) + "\"";
  return text;
}

/// A query for one more column of it: the mark of the netlist that the row was added under; where that isn't
/// known, of the oldest.
template <class Row>
std::string mark_of_netlist() {
  return ", (SELECT netlist.number || ' ' || substr(netlist.sha256, 1, 12) FROM netlist WHERE netlist.number "
         "= ifnull(" +
         std::string(k_table_of<Row>.table) + ".netlist, 1))";
}

/// Views into the statement's current row, its columns beginning at `first`.
template <class Row>
Row row_at(const Statement& statement, int first) {
  Row row;
  for (const FieldOf<Row>& field : fields_of<Row>()) row.*field.member = statement.bytes(first++);
  return row;
}

/// Calls `take(row, number, statement)` for each row in the order in which they were added. `further`: more
/// columns of the query, after the fields; `where`: a condition on the rows.
template <class Row, class Take>
Result<void> for_each_row(Database& database, const std::string& further, const std::string& where,
                          Take take) {
  auto statement = database.prepare("SELECT number, " + columns_of<Row>() + further + " FROM " +
                                    std::string(k_table_of<Row>.table) + where + " ORDER BY number");
  if (!statement) return tl::unexpected(std::move(statement.error()));
  for (auto there = statement->step();; there = statement->step()) {
    if (!there) return tl::unexpected(std::move(there.error()));
    if (!*there) return {};
    take(row_at<Row>(*statement, 1), static_cast<std::uint32_t>(statement->number(0)), *statement);
  }
}

/// Adds rows of one kind, within a transaction of the caller.
template <class Row>
class Appender {
 public:
  static Result<Appender> open(Database& database) {
    constexpr TableOf where = k_table_of<Row>;
    const std::string key(where.key), table(where.table), columns = columns_of<Row>();
    std::string places = "?";
    for (std::size_t i = 1; i < fields_of<Row>().size(); ++i) places += ", ?";
    auto find = database.prepare("SELECT " + columns + " FROM " + table + " WHERE \"" + key + "\" = ?");
    if (!find) return tl::unexpected(std::move(find.error()));
    const std::string newest = "ifnull(?, (SELECT max(number) FROM netlist))";
    auto insert = database.prepare("INSERT INTO " + table + " (" + columns +
                                   (where.is_of_netlist ? ", netlist) VALUES (" : ") VALUES (") + places +
                                   (where.is_of_netlist ? ", " + newest + ")" : ")"));
    if (!insert) return tl::unexpected(std::move(insert.error()));
    return Appender(std::move(*find), std::move(*insert));
  }

  /// @param place  of the row, for messages.
  /// @param netlist  the number of the revision it was taken under; nothing: the newest.
  /// @errors missing_field, repeated_row; those of Database.
  Result<Appended> add(const Row& row, Place place, std::optional<std::int64_t> netlist = {}) {
    constexpr TableOf where = k_table_of<Row>;
    const auto fields = fields_of<Row>();
    const auto key = std::find_if(fields.begin(), fields.end(),
                                  [&](const FieldOf<Row>& field) { return field.name == where.key; });
    const std::string_view id = row.*key->member;
    place.field = where.key;
    if (id.empty())
      return fail({ErrorCode::missing_field,
                   "a row of a job needs an id",
                   std::move(place),
                   "",
                   "an id that no other row has",
                   {}});
    find_.bind(1, id);
    auto there = find_.step();
    if (!there) return tl::unexpected(std::move(there.error()));
    if (*there) return compare(row, std::move(place), id);
    int at = 1;
    for (const FieldOf<Row>& field : fields) insert_.bind(at++, row.*field.member);
    if (where.is_of_netlist && netlist) insert_.bind(at, *netlist);
    if (where.is_of_netlist && !netlist) insert_.bind(at, std::string_view());
    auto inserted = insert_.step();
    if (!inserted) return tl::unexpected(std::move(inserted.error()));
    return Appended::added;
  }

 private:
  Appender(Statement find, Statement insert) : find_(std::move(find)), insert_(std::move(insert)) {}

  /// With the row that stands in the job under the same id.
  Result<Appended> compare(const Row& row, Place place, std::string_view id) {
    const Row known = row_at<Row>(find_, 0);
    const auto fields = fields_of<Row>();
    const auto other = std::find_if(fields.begin(), fields.end(), [&](const FieldOf<Row>& field) {
      return row.*field.member != known.*field.member;
    });
    std::optional<Error> error;
    if (other != fields.end())
      error = Error{ErrorCode::repeated_row,
                    "the job holds another " + std::string(k_table_of<Row>.table) + " under this name (its " +
                        std::string(other->name) + " is \"" + std::string(known.*other->member) + "\")",
                    std::move(place),
                    std::string(id),
                    "the same row, or a name of its own",
                    {}};
    find_.reset();
    if (error) return fail(std::move(*error));
    return Appended::already_there;
  }

  Statement find_, insert_;
};

}  // namespace ringtrue::job
