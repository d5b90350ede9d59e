#include "load/csv_header.hpp"

#include <algorithm>
#include <optional>
#include <string>

#include "load/text.hpp"
#include "ringtrue/base/nearest_names.hpp"

namespace ringtrue::load {

namespace {

/// `from, to and value`.
std::string listed(const std::vector<std::string_view>& names, std::string_view before_last = " and ") {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? before_last : ", ";
    text += names[i];
  }
  return text;
}

/// Which field each column of a record would be, if the record is a header.
class Columns {
 public:
  Columns(std::span<const std::string_view> cells, std::span<const KnownColumn> known,
          std::span<const TradeWord> words)
      : known_(known), fields_(cells.size()), is_by_word_(cells.size(), false) {
    for (std::size_t column = 0; column < cells.size(); ++column) fields_[column] = by_name(cells[column]);
    // A word that means two things goes by what stands beside it, so those that mean one come first.
    for (const bool is_certain : {true, false})
      for (std::size_t column = 0; column < cells.size(); ++column)
        if (!fields_[column] && !cells[column].empty())
          take_by_word(column, plain_word(cells[column]), words, is_certain);
  }

  [[nodiscard]] std::optional<std::size_t> field(std::size_t column) const { return fields_[column]; }
  [[nodiscard]] bool is_by_word(std::size_t column) const { return is_by_word_[column]; }
  /// Different fields.
  [[nodiscard]] std::size_t known_fields() const {
    std::size_t count = 0;
    for (std::size_t i = 0; i < known_.size(); ++i) count += has(i) ? 1 : 0;
    return count;
  }
  [[nodiscard]] bool has_all_required() const {
    for (std::size_t i = 0; i < known_.size(); ++i)
      if (known_[i].required && !has(i)) return false;
    return true;
  }

 private:
  [[nodiscard]] std::optional<std::size_t> by_name(std::string_view name) const {
    const auto found = std::find_if(known_.begin(), known_.end(),
                                    [&](const KnownColumn& k) { return equal_without_case(k.name, name); });
    if (found == known_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - known_.begin());
  }

  [[nodiscard]] bool has(std::size_t field) const {
    return std::find(fields_.begin(), fields_.end(), field) != fields_.end();
  }

  [[nodiscard]] bool stands_where_it_must(const TradeWord& word, std::size_t column) const {
    if (!word.behind.empty()) return column > 0 && fields_[column - 1] == by_name(word.behind);
    return word.beside.empty() || has(*by_name(word.beside));
  }

  /// A column that bears the field's own name goes before one that bears another word for it.
  void take_by_word(std::size_t column, const std::string& name, std::span<const TradeWord> words,
                    bool is_certain) {
    const auto means_two = [&] {
      return std::any_of(words.begin(), words.end(), [&](const TradeWord& word) {
        return word.word == name && (!word.beside.empty() || !word.behind.empty());
      });
    };
    if (is_certain && means_two()) return;
    for (const TradeWord& word : words) {
      if (word.word != name || !stands_where_it_must(word, column)) continue;
      const auto field = by_name(word.field);
      const bool stands_by_name = std::any_of(fields_.begin(), fields_.end(), [&](const auto& taken) {
        return taken == field && !is_by_word_[static_cast<std::size_t>(&taken - fields_.data())];
      });
      if (stands_by_name) return;
      fields_[column] = field;
      is_by_word_[column] = true;
      return;
    }
  }

  std::span<const KnownColumn> known_;
  std::vector<std::optional<std::size_t>> fields_;  ///< by column
  std::vector<bool> is_by_word_;
};

class HeaderMatch {
 public:
  HeaderMatch(const CsvReader& reader, std::span<const KnownColumn> known, std::span<const TradeWord> words)
      : reader_(reader), known_(known), words_(words), columns_(reader.cells(), known, words) {}

  CsvHeader match() {
    for (std::size_t column = 0; column < reader_.cells().size(); ++column) match_column(column);
    note_own_names();
    note_trade_words();
    for (const std::string_view cell : reader_.cells()) header_.cells.emplace_back(cell);
    if (header_.uses.empty()) return without_header("no header row was found", line_as_read());
    for (std::size_t i = 0; i < known_.size(); ++i)
      if (known_[i].required && !is_used(i)) header_.errors.push_back(missing(known_[i].name));
    return std::move(header_);
  }

  /// An empty file has no line to name.
  CsvHeader without_header(std::string message, std::string found) {
    Error error = error_at(ErrorCode::no_header, "", std::move(message));
    if (found.empty()) error.place.line = 0;
    error.found = std::move(found);
    error.expected = expected_header();
    header_ = CsvHeader{};
    header_.errors.push_back(std::move(error));
    return std::move(header_);
  }

 private:
  void match_column(std::size_t column) {
    const std::optional<std::size_t> found = columns_.field(column);
    if (!found) return note_ignored(column);
    if (known_[*found].is_for_people) return;
    if (is_used(*found)) return add_repeated(*found, column);
    header_.uses.push_back({column, *found});
  }

  void note_own_names() {
    std::vector<std::string_view> names;
    for (const CsvHeader::Use& use : header_.uses)
      if (!columns_.is_by_word(use.column)) names.push_back(known_[use.known].name);
    if (!names.empty())
      header_.notes.push_back({"columns found by their own names: " + listed(names), place(), true});
  }

  /// In one note, so that what else is worth knowing isn't lost behind it.
  void note_trade_words() {
    std::string text;
    for (const CsvHeader::Use& use : header_.uses)
      if (columns_.is_by_word(use.column))
        text += (text.empty() ? "columns taken: \"" : ", \"") + excerpt(reader_.cells()[use.column]) +
                "\" as " + std::string(known_[use.known].name);
    if (!text.empty()) header_.notes.push_back({std::move(text), place()});
  }

  [[nodiscard]] bool is_used(std::size_t known) const {
    return std::any_of(header_.uses.begin(), header_.uses.end(),
                       [&](const CsvHeader::Use& use) { return use.known == known; });
  }

  /// Once for a field, however often it stands there.
  void add_repeated(std::size_t known, std::size_t column) {
    const std::string_view name = known_[known].name, cell = reader_.cells()[column];
    if (std::any_of(header_.errors.begin(), header_.errors.end(),
                    [&](const Error& error) { return error.place.field == name; }))
      return;
    const bool is_same = equal_without_case(name, cell);
    Error error =
        error_at(ErrorCode::repeated_column, name,
                 is_same ? "the column stands twice in the header" : "two columns may be meant by it");
    error.expected = is_same ? "each column once: give one of the two another name"
                             : "one column, or a mapping file that says which";
    if (!is_same) error.found = excerpt(cell);
    header_.errors.push_back(std::move(error));
  }

  void note_ignored(std::size_t column) {
    const std::string_view name = reader_.cells()[column];
    Note note{"column \"" + excerpt(name) + "\" ignored", place()};
    if (name.empty()) note.text = "column " + std::to_string(column + 1) + " has no name, ignored";
    NearestNames nearest(name, 1);
    for (const KnownColumn& known : known_) nearest.offer(known.name);
    for (const std::string& known : nearest.take())
      if (!name.empty()) note.text += "; nearest: " + known;
    header_.notes.push_back(std::move(note));
  }

  Error missing(std::string_view name) {
    Error error = error_at(ErrorCode::missing_column, name, "the column is missing");
    error.found = line_as_read();
    error.expected = expected_header() + also_called(name);
    NearestNames nearest(name);
    for (std::size_t column = 0; column < reader_.cells().size(); ++column)
      if (!columns_.field(column) && !reader_.cells()[column].empty()) nearest.offer(reader_.cells()[column]);
    error.nearest = nearest.take();
    return error;
  }

  [[nodiscard]] std::string expected_header() const {
    std::vector<std::string_view> needed, others;
    for (const KnownColumn& known : known_)
      if (!known.is_for_people) (known.required ? needed : others).push_back(known.name);
    std::string text = "a header line with " + listed(needed);
    if (!others.empty()) text += " (and, where wanted, " + listed(others) + ")";
    if (!words_.empty())
      text +=
          ", in the words of the trade, English or German; for a netlist also by a mapping file (ringtrue "
          "convert --help)";
    return text;
  }

  /// Some of the words for a field.
  [[nodiscard]] std::string also_called(std::string_view name) const {
    constexpr std::size_t k_most = 5;
    std::vector<std::string_view> others;
    for (const TradeWord& word : words_)
      if (word.field == name && word.beside.empty() && word.behind.empty() && others.size() < k_most)
        others.push_back(word.word);
    return others.empty() ? "" : "; " + std::string(name) + " may be called " + listed(others, " or ");
  }

  [[nodiscard]] std::string line_as_read() const {
    std::string text;
    for (const std::string_view cell : reader_.cells())
      text += (text.empty() ? "" : ", ") + std::string(cell);
    return excerpt(text);
  }

  [[nodiscard]] Place place() const { return {reader_.file().name, reader_.line(), "", ""}; }

  [[nodiscard]] Error error_at(ErrorCode code, std::string_view field, std::string message) const {
    Error error;
    error.code = code;
    error.message = std::move(message);
    error.place = place();
    error.place.field = field;
    return error;
  }

  const CsvReader& reader_;
  std::span<const KnownColumn> known_;
  std::span<const TradeWord> words_;
  const Columns columns_;
  CsvHeader header_;
};

}  // namespace

std::optional<HeaderPlace> find_header(const FileText& file, std::span<const KnownColumn> known,
                                       std::span<const TradeWord> words, std::optional<std::uint32_t> line) {
  constexpr std::size_t k_most_records = 50;
  std::string_view start = file.view().substr(0, k_header_bytes);
  if (start.size() < file.size) start = start.substr(0, start.find_last_of("\r\n") + 1);
  // Where no line has all that is needed, one that has several known columns is meant to be the header: what
  // it lacks is told of it, not of the title above.
  std::optional<HeaderPlace> best, nearest;
  std::size_t most = 0, most_of_nearest = 1;
  for (const char delimiter : {',', ';', '\t'}) {
    // The reader unescapes in place.
    std::string copy(start);
    FileText sample;
    sample.begin = copy.data();
    sample.size = copy.size();
    CsvReader reader(sample, delimiter);
    if (line) reader.skip_to(*line);
    for (std::size_t i = 0; i < (line ? 1 : k_most_records); ++i) {
      const CsvReader::Found found = reader.next();
      if (found == CsvReader::Found::end) break;
      if (found == CsvReader::Found::mistake) continue;
      const Columns columns(reader.cells(), known, words);
      const std::size_t count = columns.known_fields();
      if (!columns.has_all_required()) {
        if (count > most_of_nearest) nearest = HeaderPlace{reader.line(), delimiter};
        most_of_nearest = std::max(most_of_nearest, count);
        continue;
      }
      if (count == 0) continue;
      if (count > most) best = HeaderPlace{reader.line(), delimiter};
      most = std::max(most, count);
      break;
    }
  }
  return best ? best : nearest;
}

std::vector<Note> notes_above(const FileText& file, std::uint32_t header_line) {
  std::string_view rest = file.view();
  for (std::uint32_t line = 1; line < header_line; ++line) {
    const std::size_t stop = std::min(rest.find_first_of("\r\n"), rest.size());
    const std::string_view text = rest.substr(0, stop);
    const bool is_separator = line == 1 && equal_without_case(text.substr(0, 4), "sep=");
    if (!is_separator && text.find_first_not_of(" \t,;\"\xC2\xA0") != text.npos)
      return {{"text above the header in line " + std::to_string(header_line) + " passed over",
               {file.name, line, "", ""}}};
    rest.remove_prefix(std::min(rest.size(), stop + (rest.substr(stop, 2) == "\r\n" ? 2 : 1)));
  }
  return {};
}

CsvHeader read_csv_header(CsvReader& reader, std::span<const KnownColumn> known,
                          std::span<const TradeWord> words) {
  const CsvReader::Found found = reader.next();
  HeaderMatch match(reader, known, words);
  if (found == CsvReader::Found::end) return match.without_header("the file is empty", "");
  if (found == CsvReader::Found::mistake) {
    CsvHeader header;
    header.errors.push_back(reader.mistake());
    return header;
  }
  CsvHeader header = match.match();
  reader.expect_cells(reader.cells().size());
  return header;
}

}  // namespace ringtrue::load
