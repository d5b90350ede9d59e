// A netlist argument is looked at by what it is, not by trial: a folder, a file that ends in .xml, a
// mapping file that ends in .toml, or else one CSV wire list. All of it goes through one builder, which
// gathers what is wrong in any of the files.
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "load/csv_rows.hpp"
#include "load/end_columns.hpp"
#include "load/file.hpp"
#include "load/mapped.hpp"
#include "load/spreadsheet.hpp"
#include "load/text.hpp"
#include "load/xml.hpp"
#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue {

namespace load {

/// A row of panel.csv.
struct FactRow {
  std::string_view key, value;
};

}  // namespace load

template <>
std::span<const FieldOf<load::FactRow>> fields_of<load::FactRow>() {
  static constexpr FieldOf<load::FactRow> fields[] = {{"key", &load::FactRow::key, true},
                                                      {"value", &load::FactRow::value, true}};
  return fields;
}

namespace load {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view k_table_files[] = {"panel.csv", "conductors.csv", "parts.csv", "channels.csv",
                                              "potentials.csv"};

bool is_xml(const fs::path& path) { return equal_without_case(path.extension().string(), ".xml"); }

/// Two ends and a value, and nothing that only a wire has: readings given where the netlist belongs.
std::optional<Error> refuse_readings(const FileText& file) {
  constexpr std::string_view k_of_both[] = {"from", "to", "from_pin", "to_pin", "id", "note", "value"};
  std::vector<KnownColumn> known{{"value", true}};
  for (const FieldOf<ConductorInList>& field : fields_of<ConductorInList>())
    known.push_back({field.name, field.required});
  std::vector<TradeWord> words;
  for (const TradeWord& word : trade_words_of<ReadingRow>())
    if (word.field == "value") words.push_back(word);
  const std::span<const TradeWord> of_wires = trade_words_of<ConductorInList>();
  words.insert(words.end(), of_wires.begin(), of_wires.end());

  const std::optional<HeaderPlace> place = find_header(file, known, words);
  if (!place) return std::nullopt;
  std::string start(file.view().substr(0, k_header_bytes));  // the reader unescapes in place
  FileText sample;
  sample.begin = start.data(), sample.size = start.size();
  CsvReader reader(sample, place->delimiter);
  reader.skip_to(place->line);
  const CsvHeader header = read_csv_header(reader, known, words);
  const auto is_of_both = [&](const CsvHeader::Use& use) {
    return std::find(std::begin(k_of_both), std::end(k_of_both), known[use.known].name) !=
           std::end(k_of_both);
  };
  if (!header.errors.empty() || !std::all_of(header.uses.begin(), header.uses.end(), is_of_both))
    return std::nullopt;
  const auto value = std::find_if(header.uses.begin(), header.uses.end(),
                                  [](const CsvHeader::Use& use) { return use.known == 0; });
  return Error{ErrorCode::not_a_netlist,
               "by this column it is a list of readings, not of wires",
               {file.name, place->line, "", ""},
               excerpt(header.cells[value->column]),
               "the netlist here and the readings behind it: compare NETLIST READINGS",
               {}};
}

class NetlistLoader {
 public:
  NetlistLoader(const LoadLimits& limits, const Files& files) : limits_(limits), files_(files) {}

  Result<Netlist> load(const fs::path& path) {
    if (files_.is_folder(path))
      read_folder(path);
    else if (is_xml(path))
      read_xml(path);
    else if (equal_without_case(path.extension().string(), ".toml"))
      read_mapped(path, limits_, files_, builder_);
    else
      read_conductors(path);
    return builder_.finish();
  }

 private:
  void read_folder(const fs::path& folder) {
    const std::vector<std::string> names = files_.names_in(folder);
    if (!files_.is_there(folder / "conductors.csv")) return read_only_xml(folder, names);
    for (const std::string& name : names) note_misspelt(folder, name);
    // The panel comes first: its function and location decide which names are the same point.
    if (files_.is_there(folder / "panel.csv")) read_panel(folder / "panel.csv");
    NetlistBuilder rest = builder_.beside();
    for_each_index(limits_.threads, 2, [&](std::size_t which) {
      if (which == 0) return read_conductors(folder / "conductors.csv");
      read_if_there<PartRow>(folder / "parts.csv", rest);
      read_if_there<ChannelRow>(folder / "channels.csv", rest);
      read_if_there<PotentialRow>(folder / "potentials.csv", rest);
    });
    builder_.append(std::move(rest));
  }

  void read_only_xml(const fs::path& folder, const std::vector<std::string>& names) {
    std::vector<std::string> xml_names;
    std::copy_if(names.begin(), names.end(), std::back_inserter(xml_names), is_xml);
    if (xml_names.size() == 1) return read_xml(folder / xml_names.front());
    Error error;
    error.code = ErrorCode::file_unreadable;
    error.message = xml_names.empty() ? "the folder holds no netlist"
                                      : "the folder holds several XML files; name one of them";
    error.place.file = folder.string();
    constexpr std::size_t k_few = 8;
    std::size_t found = 0;
    for (const std::string& name : xml_names.empty() ? names : xml_names)
      if (++found <= k_few) error.found += (found == 1 ? "" : ", ") + name;
    if (found > k_few) error.found += ", ...";
    error.expected =
        "conductors.csv (and, where wanted, parts.csv, channels.csv, potentials.csv, panel.csv) or one .xml "
        "file";
    NearestNames nearest("conductors.csv");
    for (const std::string& name : names) nearest.offer(name);
    error.nearest = nearest.take();
    builder_.add_error(std::move(error));
  }

  /// A table under a misspelt name would be missed without a word. Files of readings may lie in the folder as
  /// well, so only names near to a table that is absent are told.
  void note_misspelt(const fs::path& folder, const std::string& name) {
    NearestNames nearest(name, 1);
    for (const std::string_view table : k_table_files) {
      if (name == table) return;
      if (!files_.is_there(folder / table)) nearest.offer(table);
    }
    for (const std::string& table : nearest.take())
      builder_.add_note({"file not read; nearest: " + table, {(folder / name).string(), 0, "", ""}});
  }

  void read_xml(const fs::path& path) {
    if (const auto file = read_file(path, builder_)) read_netlist_xml(*file, builder_);
  }

  void read_conductors(const fs::path& path) {
    const auto file = read_file(path, builder_);
    if (!file) return;
    if (auto error = refuse_readings(*file)) return builder_.add_error(std::move(*error));
    builder_.reserve_conductors(estimated_lines(*file));
    const std::uint16_t number = builder_.add_file(file->name);
    DamageWatch<ConductorRow> watch;
    MadeTexts made(builder_);
    const auto take = [&](ConductorInList& row, std::uint32_t line) {
      if (auto error = join_pins(row, made)) {
        error->place.file = file->name, error->place.line = line;
        return builder_.add_error(std::move(*error));
      }
      watch.look_at(row, file->name, line, builder_);
      builder_.add(row, {line, number});
    };
    read_csv_rows<ConductorInList>(*file, builder_, take, {}, limits_.threads);
  }

  template <class Row>
  void read_if_there(const fs::path& path, NetlistBuilder& builder) const {
    if (!files_.is_there(path)) return;
    if (const auto file = read_file(path, builder)) read_rows<Row>(*file, builder);
  }

  template <class Row>
  static void read_rows(const FileText& file, NetlistBuilder& builder) {
    const std::uint16_t number = builder.add_file(file.name);
    DamageWatch<Row> watch;
    read_csv_rows<Row>(file, builder, [&](const Row& row, std::uint32_t line) {
      watch.look_at(row, file.name, line, builder);
      builder.add(row, {line, number});
    });
  }

  void read_panel(const fs::path& path) {
    const auto file = read_file(path, builder_);
    if (!file) return;
    const std::uint16_t number = builder_.add_file(file->name);
    PanelRow panel;
    std::uint32_t safety_line = 0;  // the only fact whose value can be wrong
    read_csv_rows<FactRow>(*file, builder_, [&](const FactRow& fact, std::uint32_t line) {
      take_fact(fact, {file->name, line, "", ""}, panel);
      if (equal_without_case(fact.key, "safety")) safety_line = line;
    });
    builder_.set_panel(panel, {safety_line, number});
  }

  void take_fact(const FactRow& fact, Place place, PanelRow& panel) {
    NearestNames nearest(fact.key, 1);
    for (const FieldOf<PanelRow>& field : fields_of<PanelRow>()) {
      nearest.offer(field.name);
      if (!equal_without_case(field.name, fact.key)) continue;
      std::string_view& value = panel.*field.member;
      if (value.data() != nullptr) return add_repeated_fact(fact, std::move(place));
      value = fact.value.data() == nullptr ? std::string_view("") : fact.value;
      return;
    }
    Note note{"key \"" + excerpt(fact.key) + "\" ignored", std::move(place)};
    for (const std::string& key : nearest.take()) note.text += "; nearest: " + key;
    builder_.add_note(std::move(note));
  }

  void add_repeated_fact(const FactRow& fact, Place place) {
    place.field = fact.key;
    builder_.add_error({ErrorCode::repeated_column,
                        "the key stands twice",
                        std::move(place),
                        excerpt(fact.value),
                        "each key once",
                        {}});
  }

  std::optional<FileText> read_file(const fs::path& path, NetlistBuilder& builder) const {
    Result<FileText> file = read_text_file(path, limits_.max_file_bytes, files_);
    if (file) {
      builder.keep(file->bytes);
      return std::move(*file);
    }
    for (Error& error : file.error()) builder.add_error(std::move(error));
    return std::nullopt;
  }

  LoadLimits limits_;
  const Files& files_;
  NetlistBuilder builder_;
};

}  // namespace

}  // namespace load

Result<Netlist> load_netlist(const std::filesystem::path& path, const LoadLimits& limits,
                             const Files& files) {
  return load::NetlistLoader(limits, files).load(path);
}

}  // namespace ringtrue
