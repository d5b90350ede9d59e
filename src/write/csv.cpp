#include "write/csv.hpp"

#include <array>
#include <vector>

#include "ringtrue/base/csv_cell.hpp"
#include "ringtrue/write/whole_file.hpp"
#include "ringtrue/write/netlist_rows.hpp"

namespace ringtrue::write {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view k_files[] = {"panel.csv", "conductors.csv", "parts.csv", "channels.csv",
                                        "potentials.csv"};

/// The columns that every such file needs, and those that some row fills.
template <class Row>
std::vector<FieldOf<Row>> columns_of(NetlistRows& rows) {
  const std::span<const FieldOf<Row>> fields = fields_of<Row>();
  std::vector<bool> is_filled(fields.size());
  for (std::size_t i = 0; i < rows.count<Row>(); ++i) {
    const Row row = rows.row<Row>(i);
    for (std::size_t f = 0; f < fields.size(); ++f)
      if (!(row.*fields[f].member).empty()) is_filled[f] = true;
  }
  std::vector<FieldOf<Row>> columns;
  for (std::size_t f = 0; f < fields.size(); ++f)
    if (fields[f].required || is_filled[f]) columns.push_back(fields[f]);
  return columns;
}

/// `text_of(column)` gives each cell.
template <class Columns, class TextOf>
void put_record(OutputFile& file, const Columns& columns, TextOf text_of) {
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (i > 0) file.put(',');
    put_csv_cell(text_of(columns[i]), [&](std::string_view text) { file.put(text); });
  }
  file.put(k_csv_line_end);
}

template <class Row>
Result<void> write_table(NetlistRows& rows, const fs::path& path) {
  OutputFile file(path);
  const std::vector<FieldOf<Row>> columns = columns_of<Row>(rows);
  put_record(file, columns, [](const FieldOf<Row>& column) { return column.name; });
  for (std::size_t i = 0; i < rows.count<Row>(); ++i) {
    const Row row = rows.row<Row>(i);
    put_record(file, columns, [&](const FieldOf<Row>& column) { return row.*column.member; });
  }
  return file.finish();
}

/// Nothing where there is nothing to say.
Result<void> write_panel(NetlistRows& rows, const fs::path& path) {
  const PanelRow panel = rows.row<PanelRow>(0);
  std::vector<std::array<std::string_view, 2>> facts = {{"key", "value"}};
  for (const FieldOf<PanelRow>& field : fields_of<PanelRow>())
    if (!(panel.*field.member).empty()) facts.push_back({field.name, panel.*field.member});
  if (facts.size() == 1) return {};
  OutputFile file(path);
  for (const auto& fact : facts) put_record(file, fact, [](std::string_view text) { return text; });
  return file.finish();
}

template <class Row>
Result<void> write_if_any(NetlistRows& rows, const fs::path& path) {
  return rows.count<Row>() == 0 ? Result<void>() : write_table<Row>(rows, path);
}

}  // namespace

std::span<const std::string_view> csv_files() { return k_files; }

Result<void> write_csv_files(const Netlist& netlist, const fs::path& folder) {
  NetlistRows rows(netlist);
  return write_panel(rows, folder / "panel.csv")
      .and_then([&] { return write_table<ConductorRow>(rows, folder / "conductors.csv"); })
      .and_then([&] { return write_if_any<PartRow>(rows, folder / "parts.csv"); })
      .and_then([&] { return write_if_any<ChannelRow>(rows, folder / "channels.csv"); })
      .and_then([&] { return write_if_any<PotentialRow>(rows, folder / "potentials.csv"); });
}

}  // namespace ringtrue::write
