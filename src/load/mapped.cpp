// Text that stands in a file as it is needed is used where it lies; what is put together is kept once.
#include "load/mapped.hpp"

#include <algorithm>
#include <pugixml.hpp>

#include "load/csv_rows.hpp"
#include "load/made_texts.hpp"
#include "load/spreadsheet.hpp"
#include "load/text.hpp"
#include "load/xml_syntax.hpp"
#include "ringtrue/base/nearest_names.hpp"

namespace ringtrue::load {

namespace {

/// A field's text from those of its columns: joined, then translated.
class FieldText {
 public:
  FieldText(const MappedField& field, MadeTexts& made) : field_(field), made_(made) {}

  template <class TextOf>
  std::string_view from(const TextOf& text_of) {
    if (field_.columns.empty()) return made_.keep(field_.value);
    std::string_view text = field_.columns.size() == 1 ? text_of(0) : made_.keep(joined(text_of));
    return field_.values.empty() ? text : translated(text);
  }

 private:
  template <class TextOf>
  std::string joined(const TextOf& text_of) const {
    std::string all;
    for (std::size_t i = 0; i < field_.columns.size(); ++i) {
      const std::string_view text = text_of(i);
      if (!all.empty() && !text.empty()) all += field_.with;
      all += text;
    }
    return all;
  }

  std::string_view translated(std::string_view text) {
    std::string plain(text);
    std::transform(plain.begin(), plain.end(), plain.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    const auto known = field_.values.find(plain);
    return known == field_.values.end() ? text : made_.keep(known->second);
  }

  const MappedField& field_;
  MadeTexts& made_;
};

template <class Row>
class TableReader {
 public:
  TableReader(const TableMapping& mapping, const std::string& mapping_file, NetlistBuilder& builder,
              MadeTexts& made)
      : mapping_(mapping), mapping_file_(mapping_file), builder_(builder), made_(made) {
    for (const MappedField& field : mapping.fields) {
      fields_.emplace_back(field, made);
      members_.push_back(std::find_if(fields_of<Row>().begin(), fields_of<Row>().end(), [&](const auto& one) {
                           return one.name == field.field;
                         })->member);
    }
  }

  void read(const FileText& file) {
    file_number_ = builder_.add_file(file.name);
    file_ = file.name;
    if (mapping_.rows.empty())
      read_csv(file);
    else
      read_xml(file);
  }

 private:
  // --- CSV ---

  void read_csv(const FileText& file) {
    const std::vector<KnownColumn> known = known_columns();
    read_csv_table(file, known, words_of_the_rest(), mapping_.header, builder_,
                   [&](std::span<const std::string_view> cells, std::uint32_t line, const CsvHeader& header) {
                     take_record(cells, line, header);
                   });
  }

  /// The columns that the mapping names, then the fields that it doesn't.
  [[nodiscard]] std::vector<KnownColumn> known_columns() {
    std::vector<KnownColumn> known;
    for (const MappedField& field : mapping_.fields)
      for (const std::string& column : field.columns) add_column(column, known);
    for (const std::string& column : mapping_.fill_down)
      if (!is_found_by_name(column)) add_column(column, known);
    mapped_columns_ = known.size();
    for (const FieldOf<Row>& field : fields_of<Row>())
      if (!is_mapped(field.name)) {
        known.push_back({field.name, field.required});
        rest_.push_back(field.member);
      }
    return known;
  }

  static void add_column(const std::string& column, std::vector<KnownColumn>& known) {
    const auto is_it = [&](const KnownColumn& one) { return equal_without_case(one.name, column); };
    if (std::none_of(known.begin(), known.end(), is_it)) known.push_back({column, true});
  }

  [[nodiscard]] bool is_mapped(std::string_view field) const {
    return std::any_of(mapping_.fields.begin(), mapping_.fields.end(),
                       [&](const MappedField& mapped) { return mapped.field == field; });
  }

  /// The column is a field that the mapping doesn't name, under its own name or a trade word.
  [[nodiscard]] bool is_found_by_name(const std::string& column) const {
    const std::vector<TradeWord> words = words_of_the_rest();
    return std::any_of(fields_of<Row>().begin(), fields_of<Row>().end(),
                       [&](const auto& field) {
                         return equal_without_case(field.name, column) && !is_mapped(field.name);
                       }) ||
           std::any_of(words.begin(), words.end(),
                       [&](const TradeWord& word) { return word.word == plain_word(column); });
  }

  [[nodiscard]] std::vector<TradeWord> words_of_the_rest() const {
    std::vector<TradeWord> words;
    for (const TradeWord& word : trade_words_of<Row>())
      if (!is_mapped(word.field) && (word.beside.empty() || !is_mapped(word.beside))) words.push_back(word);
    return words;
  }

  void take_record(std::span<const std::string_view> cells, std::uint32_t line, const CsvHeader& header) {
    if (texts_.empty()) find_places(header);
    for (const CsvHeader::Use& use : header.uses) texts_[use.known] = cells[use.column];
    for (const std::size_t known : filled_down_) {
      if (texts_[known].empty()) texts_[known] = above_[known];
      above_[known] = texts_[known];
    }
    Row row;
    for (std::size_t i = 0; i < fields_.size(); ++i)
      row.*members_[i] = fields_[i].from([&](std::size_t column) { return texts_[places_[i][column]]; });
    for (std::size_t i = 0; i < rest_.size(); ++i) row.*rest_[i] = texts_[mapped_columns_ + i];
    add(row, line);
  }

  /// Where each column of each field stands among the known columns.
  void find_places(const CsvHeader& header) {
    texts_.resize(mapped_columns_ + rest_.size());
    above_.resize(texts_.size());
    const auto place_of = [&](const std::string& column) -> std::optional<std::size_t> {
      const auto use = std::find_if(header.uses.begin(), header.uses.end(), [&](const CsvHeader::Use& one) {
        return equal_without_case(header.cells[one.column], column);
      });
      if (use == header.uses.end()) return std::nullopt;
      return use->known;
    };
    for (const MappedField& field : mapping_.fields) {
      places_.emplace_back();
      for (const std::string& column : field.columns) places_.back().push_back(place_of(column).value());
    }
    for (const std::string& column : mapping_.fill_down) {
      if (const auto place = place_of(column))
        filled_down_.push_back(*place);
      else
        builder_.add_error({ErrorCode::missing_column,
                            "the column to fill down is missing",
                            {mapping_file_, mapping_.line, "", "fill_down"},
                            column,
                            "a column of " + mapping_.file.string(),
                            {}});
    }
  }

  // --- XML ---

  void read_xml(const FileText& file) {
    const LineIndex lines(file.view());
    if (const auto bad = find_bad_reference(file.view())) return fail_xml(file, lines, *bad);
    pugi::xml_document document;
    const pugi::xml_parse_result parsed =
        document.load_buffer_inplace(file.begin, file.size, pugi::parse_default, pugi::encoding_utf8);
    if (const auto broken = find_broken_syntax(parsed, file.view(), document.document_element().name()))
      return fail_xml(file, lines, *broken);
    try {
      take_elements(document, lines);
    } catch (const pugi::xpath_exception& problem) {
      Error error;
      error.code = ErrorCode::bad_mapping;
      error.message = "an XPath of the table cannot be read: " + std::string(problem.what());
      error.place = {mapping_file_, mapping_.line, "", ""};
      error.expected = "XPath 1.0, such as //wire for rows and @from for a field";
      builder_.add_error(std::move(error));
    }
  }

  void take_elements(const pugi::xml_document& document, const LineIndex& lines) {
    std::vector<std::vector<pugi::xpath_query>> queries;
    for (const MappedField& field : mapping_.fields) {
      queries.emplace_back();
      for (const std::string& column : field.columns) queries.back().emplace_back(column.c_str());
    }
    const pugi::xpath_node_set found = document.select_nodes(mapping_.rows.c_str());
    if (found.empty()) {
      Error error;
      error.code = ErrorCode::bad_mapping;
      error.message = "no element is a row of the table";
      error.place = {mapping_file_, mapping_.line, "", "rows"};
      error.found = mapping_.rows;
      error.expected = "an XPath that finds elements in " + mapping_.file.string();
      builder_.add_error(std::move(error));
    }
    for (const pugi::xpath_node& node : found) {
      if (builder_.has_enough_errors()) return;
      Row row;
      for (std::size_t i = 0; i < fields_.size(); ++i)
        row.*members_[i] = fields_[i].from([&](std::size_t column) {
          return made_.keep(std::string(trimmed(queries[i][column].evaluate_string(node))));
        });
      const auto offset = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, node.node().offset_debug()));
      add(row, lines.line_of(offset));
    }
  }

  void fail_xml(const FileText& file, const LineIndex& lines, const XmlMistake& mistake) {
    Error error;
    error.code = ErrorCode::bad_xml;
    error.message = mistake.message;
    error.place = {file.name, lines.line_of(mistake.offset), "", ""};
    error.found = mistake.found;
    error.expected = mistake.expected;
    builder_.add_error(std::move(error));
  }

  // --- both ---

  void add(Row row, std::uint32_t line) {
    watch_.look_at(row, file_, line, builder_);
    if constexpr (std::is_same_v<Row, ConductorRow>) {
      if (!mapping_.chain.empty()) return add_chain(row, line);
    }
    if constexpr (std::is_same_v<Row, BridgeRow>)
      add_bridges(row, line);
    else
      builder_.add(row, {line, file_number_});
  }

  /// A row without terminals has no bridge: most terminals of a list.
  void add_bridges(const BridgeRow& row, std::uint32_t line) {
    if (row.terminals.empty()) return;
    const std::vector<std::string> terminals = bridged_terminals(row.terminals);
    if (terminals.empty())
      return builder_.add_error({ErrorCode::bad_point,
                                 "not a list of bridged terminals",
                                 {file_, line, "", "terminals"},
                                 excerpt(row.terminals),
                                 "terminals such as 1-5 or 1,3,5",
                                 {}});
    const std::string side = row.side.empty() ? "int" : std::string(row.side);
    const auto point = [&](const std::string& terminal) {
      return made_.keep(std::string(row.strip) + ":" + terminal + "." + side);
    };
    ConductorRow bridge;
    bridge.kind = "bridge";
    bridge.sheet = row.sheet, bridge.potential = row.potential, bridge.note = row.note;
    for (std::size_t i = 1; i < terminals.size(); ++i) {
      bridge.from = point(terminals[i - 1]), bridge.to = point(terminals[i]);
      builder_.add(bridge, {line, file_number_});
    }
  }

  void add_chain(ConductorRow row, std::uint32_t line) {
    std::string_view rest = row.to;
    while (true) {
      const std::size_t stop = std::min(rest.find(mapping_.chain), rest.size());
      row.to = trimmed(rest.substr(0, stop));
      builder_.add(row, {line, file_number_});
      if (stop == rest.size()) return;
      rest.remove_prefix(stop + mapping_.chain.size());
      row.from = row.to;
    }
  }

  const TableMapping& mapping_;
  const std::string& mapping_file_;
  NetlistBuilder& builder_;
  MadeTexts& made_;
  DamageWatch<Row> watch_;
  std::string file_;
  std::uint16_t file_number_ = 0;
  std::vector<FieldText> fields_;                 ///< in the order of the mapping
  std::vector<std::string_view Row::*> members_;  ///< likewise
  std::size_t mapped_columns_ = 0;                ///< first among the known columns
  std::vector<std::string_view Row::*> rest_;     ///< fields that the mapping doesn't name
  std::vector<std::vector<std::size_t>> places_;  ///< known columns of each field
  std::vector<std::size_t> filled_down_;          ///< known columns
  std::vector<std::string_view> texts_, above_;   ///< by known column
};

class MappedLoader {
 public:
  MappedLoader(const std::filesystem::path& mapping_file, const LoadLimits& limits, const Files& files,
               NetlistBuilder& builder)
      : path_(mapping_file), limits_(limits), files_(files), builder_(builder), made_(builder) {}

  void read() {
    const auto file = read_file(path_);
    if (!file) return;
    const Result<Mapping> mapping = read_mapping(*file);
    if (!mapping) return add(mapping.error());
    set_panel(*mapping);
    for (const TableMapping& table : mapping->tables) read_table(table);
  }

 private:
  std::optional<FileText> read_file(const std::filesystem::path& path) {
    Result<FileText> file = read_text_file(path, limits_.max_file_bytes, files_);
    if (!file) {
      add(file.error());
      return std::nullopt;
    }
    builder_.keep(file->bytes);
    return std::move(*file);
  }

  void add(const Errors& errors) {
    for (const Error& error : errors) builder_.add_error(error);
  }

  void set_panel(const Mapping& mapping) {
    PanelRow panel;
    std::uint32_t safety_line = 0;  // the only fact whose value can be wrong
    for (const MappedFact& fact : mapping.panel) {
      NearestNames nearest(fact.key, 1);
      std::string_view* into = nullptr;
      for (const FieldOf<PanelRow>& field : fields_of<PanelRow>()) {
        nearest.offer(field.name);
        if (field.name == fact.key) into = &(panel.*field.member);
      }
      if (into != nullptr) {
        *into = made_.keep(fact.value);
        if (fact.key == "safety") safety_line = fact.line;
        continue;
      }
      Note note{"key \"" + excerpt(fact.key) + "\" ignored", {path_.string(), fact.line, "", "panel"}};
      for (const std::string& key : nearest.take()) note.text += "; nearest: " + key;
      builder_.add_note(std::move(note));
    }
    builder_.set_panel(panel, {safety_line, builder_.add_file(path_.string())});
  }

  void read_table(const TableMapping& table) {
    const auto file = read_file(table.file.is_absolute() ? table.file : path_.parent_path() / table.file);
    if (!file) return;
    switch (table.table) {
      case MappedTable::conductors:
        return read_rows<ConductorRow>(table, *file);
      case MappedTable::parts:
        return read_rows<PartRow>(table, *file);
      case MappedTable::channels:
        return read_rows<ChannelRow>(table, *file);
      case MappedTable::potentials:
        return read_rows<PotentialRow>(table, *file);
      case MappedTable::bridges:
        return read_rows<BridgeRow>(table, *file);
    }
  }

  template <class Row>
  void read_rows(const TableMapping& table, const FileText& file) {
    TableReader<Row>(table, path_.string(), builder_, made_).read(file);
  }

  std::filesystem::path path_;
  LoadLimits limits_;
  const Files& files_;
  NetlistBuilder& builder_;
  MadeTexts made_;
};

}  // namespace

void read_mapped(const std::filesystem::path& mapping_file, const LoadLimits& limits, const Files& files,
                 NetlistBuilder& builder) {
  MappedLoader(mapping_file, limits, files, builder).read();
}

}  // namespace ringtrue::load
