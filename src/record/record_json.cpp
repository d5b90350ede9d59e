#include <nlohmann/json.hpp>

#include "ringtrue/record/record.hpp"

// The keys and their meaning stand in netlists/schema/record.schema.json; a test validates this output
// against it.

namespace ringtrue {

namespace {

using Json = nlohmann::ordered_json;

Json value_of(const RecordCell& cell, RecordColumn::Kind kind) {
  if (kind != RecordColumn::Kind::number) return cell.text;
  return cell.number ? Json(*cell.number) : Json(nullptr);
}

Json rows_of(const RecordSheet& sheet) {
  Json rows = Json::array();
  for (const std::vector<RecordCell>& row : sheet.rows) {
    Json object = Json::object();
    for (std::size_t i = 0; i < sheet.columns.size(); ++i)
      object[std::string(sheet.columns[i].key)] = value_of(row[i], sheet.columns[i].kind);
    rows.push_back(std::move(object));
  }
  return rows;
}

Json signatures_of(const Record& record) {
  Json rows = Json::array();
  for (const RecordSignature& one : record.signatures)
    rows.push_back({{"who", one.who},
                    {"by", one.by},
                    {"time", one.time},
                    {"text", one.text},
                    {"reservations", one.reservations}});
  return rows;
}

}  // namespace

std::string record_json(const Record& record) {
  Json json = {{"panel", record.panel},
               {"revision", record.revision},
               {"drawing", record.drawing},
               {"netlist",
                {{"number", record.netlist_number},
                 {"of", record.netlists},
                 {"sha256", record.netlist_sha256},
                 {"files", record.files}}},
               {"readings_sha256", record.readings_sha256},
               {"tool_version", record.tool_version},
               {"first_time", record.first_time},
               {"last_time", record.last_time},
               {"ready_to_sign", record.is_ready_to_sign()},
               {"holds", record.holds},
               {"cautions", record.cautions},
               {"signatures", signatures_of(record)}};
  for (const RecordSheet& sheet : record.sheets) json[std::string(sheet.key)] = rows_of(sheet);
  constexpr int k_indent = 1;
  return json.dump(k_indent, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace ringtrue
