// The hot path of loading. A cell is short (8 bytes), so the stop that ends it is looked for byte by byte in
// a table; eight bytes at a time was no faster (1,000,000 rows of 5 cells, 38 MB, least of 40 runs: 0.060 s
// by bytes, 0.063 s by words). The NUL behind the text is a stop too, which saves the check for the end at
// every byte.
#include "load/csv.hpp"

#include <algorithm>
#include <cstring>

#include "load/text.hpp"

namespace ringtrue::load {

namespace {

/// The delimiter that stands most often, outside quotes, in the first line that holds more than delimiters.
char delimiter_of(std::string_view text) {
  constexpr std::string_view k_candidates = ",;\t";
  std::array<std::size_t, k_candidates.size()> counts{};
  const std::size_t start = text.find_first_not_of(" \t\r\n,;");
  bool is_quoted = false;
  for (std::size_t i = start == text.npos ? 0 : start; i < text.size(); ++i) {
    if (!is_quoted && (text[i] == '\n' || text[i] == '\r')) break;
    if (text[i] == '"') is_quoted = !is_quoted;
    const std::size_t candidate = k_candidates.find(text[i]);
    if (!is_quoted && candidate != k_candidates.npos) ++counts[candidate];
  }
  const auto most = std::max_element(counts.begin(), counts.end());  // the first of equals
  return k_candidates[static_cast<std::size_t>(most - counts.begin())];
}

bool is_blank(char c) { return c == ' ' || c == '\t'; }

/// Of a cell that begins with none. Most have none behind either.
std::string_view without_blanks_behind(std::string_view cell) {
  const bool may_end_in_blank = !cell.empty() && (is_blank(cell.back()) || cell.back() == '\xA0');
  return may_end_in_blank ? trimmed(cell) : cell;
}

std::string shown(char delimiter) {
  return delimiter == '\t' ? "a tab" : std::string("\"") + delimiter + "\"";
}

}  // namespace

CsvReader::CsvReader(const FileText& file) : CsvReader(file, delimiter_of(file.view())) {}

CsvReader::CsvReader(const FileText& file, char delimiter)
    : file_(&file), at_(file.begin), end_(file.end()), delimiter_(delimiter) {
  for (const char stop : {delimiter_, '\n', '\r', '\0'}) stops_[static_cast<unsigned char>(stop)] = true;
}

void CsvReader::skip_to(std::uint32_t line) {
  while (line_ < line && at_ != end_) {
    at_ = std::find_if(at_, end_, [](char c) { return c == '\n' || c == '\r'; });
    take_line_end();
  }
}

CsvReader::Found CsvReader::next() {
  while (at_ != end_) {
    start_line_ = line_;
    cells_.clear();
    if (!read_record()) return Found::mistake;
    if (is_blank_record()) continue;
    return fit_to_header() ? Found::record : Found::mistake;
  }
  return Found::end;
}

bool CsvReader::read_record() {
  char* at = at_;  // in a register: the cells are written meanwhile
  for (;;) {
    char* const begin = skip_blanks(at);
    if (*begin == '"') {
      if (!read_quoted(begin)) return false;
      at = at_;
    } else {
      for (at = begin; !is_stop(*at);) ++at;
      cells_.push_back(without_blanks_behind({begin, static_cast<std::size_t>(at - begin)}));
    }
    if (*at != delimiter_) break;
    ++at;
  }
  at_ = at;
  take_line_end();
  return true;
}

bool CsvReader::read_quoted(char* opening) {
  const std::uint32_t opening_line = line_;
  char* const begin = opening + 1;
  char* out = begin;
  char* in = begin;
  for (;;) {
    auto* const quote = static_cast<char*>(std::memchr(in, '"', static_cast<std::size_t>(end_ - in)));
    if (quote == nullptr) return fail_unclosed(opening, opening_line);
    const auto length = static_cast<std::size_t>(quote - in);
    line_ += count_line_ends({in, length});
    std::memmove(out, in, length);
    out += length;
    in = quote + 1;
    if (*in != '"') break;
    *out++ = '"';
    ++in;
  }
  at_ = skip_blanks(in);
  if (!is_stop(*at_)) return fail_after_quote(at_);
  cells_.push_back(trimmed({begin, static_cast<std::size_t>(out - begin)}));
  return true;
}

/// Leaves a tab alone where it is the delimiter.
char* CsvReader::skip_blanks(char* at) const {
  for (;;) {
    if (*at == ' ' || (*at == '\t' && delimiter_ != '\t'))
      ++at;
    else if (*at == '\xC2' && at[1] == '\xA0')
      at += 2;  // a NUL follows the text, so at[1] may be read
    else
      return at;
  }
}

void CsvReader::take_line_end() {
  if (at_ == end_) return;
  if (at_[0] == '\r' && at_[1] == '\n') ++at_;
  ++at_;
  ++line_;
}

bool CsvReader::is_blank_record() const {
  return std::all_of(cells_.begin(), cells_.end(), [](std::string_view cell) { return cell.empty(); });
}

/// Empty cells too many are no mistake: spreadsheets write delimiters up to their widest row.
bool CsvReader::fit_to_header() {
  if (expected_cells_ == 0) return true;
  while (cells_.size() > expected_cells_ && cells_.back().empty()) cells_.pop_back();
  if (cells_.size() < expected_cells_) cells_.resize(expected_cells_);
  if (cells_.size() == expected_cells_) return true;
  start_mistake("the row has " + std::to_string(cells_.size()) + " cells, the header " +
                    std::to_string(expected_cells_),
                cells_[expected_cells_]);
  mistake_.expected = "quotes around a cell that holds " + shown(delimiter_);
  return false;
}

bool CsvReader::fail_unclosed(const char* opening, std::uint32_t line) {
  start_line_ = line;
  start_mistake("a quoted cell is not closed", {opening, static_cast<std::size_t>(end_ - opening)});
  mistake_.expected = "a closing \" before the end of the file";
  at_ = end_;
  return false;
}

/// The rest of the physical line is passed over: the cells in it cannot be told apart any more.
bool CsvReader::fail_after_quote(char* rest) {
  start_line_ = line_;
  char* stop = rest;
  while (!is_stop(*stop)) ++stop;
  start_mistake("text follows the closing quote of a cell", {rest, static_cast<std::size_t>(stop - rest)});
  mistake_.expected =
      shown(delimiter_) + " or the end of the line; a quote inside a quoted cell is written twice";
  at_ = std::find_if(stop, end_, [](char c) { return c == '\n' || c == '\r'; });
  take_line_end();
  return false;
}

void CsvReader::start_mistake(std::string message, std::string_view found) {
  mistake_ = Error{};
  mistake_.code = ErrorCode::bad_csv;
  mistake_.message = std::move(message);
  mistake_.place.file = file_->name;
  mistake_.place.line = start_line_;
  mistake_.found = excerpt(found);
}

}  // namespace ringtrue::load
