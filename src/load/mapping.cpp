#include "load/mapping.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <limits>
#include <span>

#include "load/text.hpp"
#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::load {

namespace {

template <class Row>
std::vector<std::string_view> field_names() {
  std::vector<std::string_view> names;
  for (const FieldOf<Row>& field : fields_of<Row>()) names.push_back(field.name);
  return names;
}

struct TableKind {
  std::string_view name;
  MappedTable table;
  std::vector<std::string_view> fields;
};

const std::vector<TableKind>& table_kinds() {
  static const std::vector<TableKind> kinds{
      {"conductors", MappedTable::conductors, field_names<ConductorRow>()},
      {"parts", MappedTable::parts, field_names<PartRow>()},
      {"channels", MappedTable::channels, field_names<ChannelRow>()},
      {"potentials", MappedTable::potentials, field_names<PotentialRow>()},
      {"bridges", MappedTable::bridges, field_names<BridgeRow>()}};
  return kinds;
}

class MappingReader {
 public:
  explicit MappingReader(std::string file) : file_(std::move(file)) {}

  Result<Mapping> read(const toml::table& root) {
    for (const auto& [key, node] : root) read_top(key.str(), node);
    if (errors_.empty() && mapping_.tables.empty())
      add("the mapping names no table", root, "", "", "[[conductors]] with a file", {});
    if (!errors_.empty()) return tl::unexpected(std::move(errors_));
    return std::move(mapping_);
  }

 private:
  void read_top(std::string_view key, const toml::node& node) {
    if (key == "panel") return read_panel(node);
    for (const TableKind& kind : table_kinds())
      if (key == kind.name) return read_tables(kind, node);
    NearestNames nearest(key, 1);
    nearest.offer("panel");
    for (const TableKind& kind : table_kinds()) nearest.offer(kind.name);
    add("no table of a netlist", node, key, key, "panel, conductors, parts, channels, potentials or bridges",
        nearest.take());
  }

  void read_panel(const toml::node& node) {
    const toml::table* table = node.as_table();
    if (table == nullptr) return add("not a table", node, "panel", "", "[panel] with key = \"value\"", {});
    for (const auto& [key, value] : *table)
      if (const auto text = text_of(value, "panel." + std::string(key.str())))
        mapping_.panel.push_back({std::string(key.str()), *text, value.source().begin.line});
  }

  void read_tables(const TableKind& kind, const toml::node& node) {
    if (const toml::table* one = node.as_table()) return read_table(kind, *one);
    const toml::array* several = node.as_array();
    const bool are_tables = several != nullptr && several->is_homogeneous(toml::node_type::table);
    if (!are_tables)
      return add("not a table", node, kind.name, "", "[[" + std::string(kind.name) + "]] with a file", {});
    for (const toml::node& one : *several) read_table(kind, *one.as_table());
  }

  void read_table(const TableKind& kind, const toml::table& table) {
    TableMapping made;
    made.table = kind.table;
    made.line = table.source().begin.line;
    for (const auto& [key, node] : table) read_key(kind, key.str(), node, made);
    if (made.file.empty() && (!table.contains("file") || table["file"].is_string()))
      add("the table has no file", table, std::string(kind.name) + ".file", "", "file = \"NAME\"", {});
    mapping_.tables.push_back(std::move(made));
  }

  void read_key(const TableKind& kind, std::string_view key, const toml::node& node, TableMapping& made) {
    const std::string field = std::string(kind.name) + "." + std::string(key);
    if (key == "file") {
      made.file = text_of(node, field).value_or("");
    } else if (key == "rows") {
      made.rows = text_of(node, field).value_or("");
    } else if (key == "chain" && kind.table == MappedTable::conductors) {
      made.chain = text_of(node, field).value_or("");
    } else if (key == "header") {
      const auto line = node.value_exact<std::int64_t>();
      if (!line || *line < 1 || *line > std::numeric_limits<std::uint32_t>::max())
        return add("not the number of a line", node, field, "", "a whole number from 1", {});
      made.header = static_cast<std::uint32_t>(*line);
    } else if (key == "fill_down") {
      made.fill_down = texts_of(node, field);
    } else if (key == "columns") {
      read_columns(kind, node, made);
    } else {
      const bool has_chain = kind.table == MappedTable::conductors;
      NearestNames nearest(key, 1);
      for (const char* name : {"file", "rows", "header", "fill_down", "columns"}) nearest.offer(name);
      if (has_chain) nearest.offer("chain");
      add("not a key of a table", node, field, key,
          has_chain ? "file, header, fill_down, chain, rows or columns"
                    : "file, header, fill_down, rows or columns",
          nearest.take());
    }
  }

  void read_columns(const TableKind& kind, const toml::node& node, TableMapping& made) {
    const toml::table* table = node.as_table();
    const std::string heading = std::string(kind.name) + ".columns";
    if (table == nullptr) return add("not a table", node, heading, "", "field = \"COLUMN\"", {});
    for (const auto& [key, value] : *table) {
      NearestNames nearest(key.str(), 1);
      for (const std::string_view name : kind.fields) nearest.offer(name);
      if (std::find(kind.fields.begin(), kind.fields.end(), key.str()) == kind.fields.end())
        add("no field of " + std::string(kind.name), value, heading, key.str(), "", nearest.take());
      else
        made.fields.push_back(
            field_of(std::string(key.str()), value, heading + "." + std::string(key.str())));
    }
  }

  /// `"COLUMN"`, `["COLUMN", "COLUMN"]`, or a table with column or join, with, value, values.
  MappedField field_of(std::string name, const toml::node& node, const std::string& field) {
    MappedField made;
    made.field = std::move(name);
    const toml::table* table = node.as_table();
    if (table == nullptr) {
      made.columns = texts_of(node, field);
      return made;
    }
    const std::size_t errors_before = errors_.size();
    for (const auto& [key, value] : *table) {
      const std::string inner = field + "." + std::string(key.str());
      if (key.str() == "column" || key.str() == "join")
        made.columns = texts_of(value, inner);
      else if (key.str() == "with")
        made.with = text_of(value, inner).value_or("");
      else if (key.str() == "value")
        made.value = text_of(value, inner).value_or("");
      else if (key.str() == "values")
        read_values(value, inner, made);
      else
        add("not a key of a field", value, inner, key.str(), "column, join, with, value or values", {});
    }
    const bool has_two = table->contains("column") && table->contains("join");
    if (errors_.size() == errors_before && (has_two || made.columns.empty() == made.value.empty()))
      add("the field has no text to come from, or two", node, field, "", "one of column, join and value", {});
    return made;
  }

  void read_values(const toml::node& node, const std::string& field, MappedField& made) {
    const toml::table* table = node.as_table();
    if (table == nullptr) return add("not a table", node, field, "", "{ \"THEIR WORD\" = \"ours\" }", {});
    for (const auto& [key, value] : *table)
      if (const auto text = text_of(value, field)) made.values[plain_text(key.str())] = *text;
  }

  static std::string plain_text(std::string_view text) {
    std::string plain(trimmed(text));
    std::transform(plain.begin(), plain.end(), plain.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return plain;
  }

  std::optional<std::string> text_of(const toml::node& node, const std::string& field) {
    if (const auto text = node.value<std::string>()) return *text;
    add("not a text", node, field, "", "text in quotes", {});
    return std::nullopt;
  }

  std::vector<std::string> texts_of(const toml::node& node, const std::string& field) {
    std::vector<std::string> texts;
    const toml::array* several = node.as_array();
    if (several == nullptr) {
      if (auto text = text_of(node, field)) texts.push_back(std::move(*text));
      return texts;
    }
    for (const toml::node& one : *several)
      if (auto text = text_of(one, field)) texts.push_back(std::move(*text));
    return texts;
  }

  void add(std::string message, const toml::node& node, std::string_view field, std::string_view found,
           std::string expected, std::vector<std::string> nearest) {
    errors_.push_back({ErrorCode::bad_mapping,
                       std::move(message),
                       {file_, node.source().begin.line, "", std::string(field)},
                       std::string(found),
                       std::move(expected),
                       std::move(nearest)});
  }

  std::string file_;
  Mapping mapping_;
  Errors errors_;
};

}  // namespace

Result<Mapping> read_mapping(const FileText& file) {
  try {
    return MappingReader(file.name).read(toml::parse(file.view(), file.name));
  } catch (const toml::parse_error& error) {
    Error not_toml;
    not_toml.code = ErrorCode::bad_mapping;
    not_toml.message = "not TOML: " + std::string(error.description());
    not_toml.place = {file.name, error.source().begin.line, "", ""};
    return tl::unexpected(Errors{std::move(not_toml)});
  }
}

}  // namespace ringtrue::load
