#include "load/csv_header.hpp"

#include <algorithm>
#include <optional>
#include <string>

#include "load/text.hpp"
#include "ringtrue/base/nearest_names.hpp"

namespace ringtrue::load {

namespace {

/// `from, to and value`.
std::string listed(const std::vector<std::string_view>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  return text;
}

class HeaderMatch {
 public:
  HeaderMatch(const CsvReader& reader, std::span<const KnownColumn> known) : reader_(reader), known_(known) {}

  CsvHeader match() {
    for (std::size_t column = 0; column < reader_.cells().size(); ++column) match_column(column);
    if (header_.uses.empty()) return without_header("the first line names no known column", line_as_read());
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
    const std::string_view name = reader_.cells()[column];
    const auto found = std::find_if(known_.begin(), known_.end(),
                                    [&](const KnownColumn& k) { return equal_without_case(k.name, name); });
    if (found == known_.end()) return note_ignored(column);
    const auto index = static_cast<std::size_t>(found - known_.begin());
    if (is_used(index)) return add_repeated(found->name);
    header_.uses.push_back({column, index});
  }

  [[nodiscard]] bool is_used(std::size_t known) const {
    return std::any_of(header_.uses.begin(), header_.uses.end(),
                       [&](const CsvHeader::Use& use) { return use.known == known; });
  }

  void add_repeated(std::string_view name) {
    Error error = error_at(ErrorCode::repeated_column, name, "the column stands twice in the header");
    error.expected = "each column once";
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
    error.expected = expected_header();
    NearestNames nearest(name);
    for (const std::string_view cell : reader_.cells())
      if (!is_known(cell)) nearest.offer(cell);
    error.nearest = nearest.take();
    return error;
  }

  [[nodiscard]] bool is_known(std::string_view name) const {
    return name.empty() || std::any_of(known_.begin(), known_.end(), [&](const KnownColumn& known) {
             return equal_without_case(known.name, name);
           });
  }

  [[nodiscard]] std::string expected_header() const {
    std::vector<std::string_view> needed, others;
    for (const KnownColumn& known : known_) (known.required ? needed : others).push_back(known.name);
    std::string text = "a header line with " + listed(needed);
    if (!others.empty()) text += " (and, where wanted, " + listed(others) + ")";
    return text;
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
  CsvHeader header_;
};

}  // namespace

CsvHeader read_csv_header(CsvReader& reader, std::span<const KnownColumn> known) {
  const CsvReader::Found found = reader.next();
  HeaderMatch match(reader, known);
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
