// Cells are written as text, number or date and never as anything that a spreadsheet would calculate.
#include <xlsxwriter.h>

#include <algorithm>
#include <charconv>

#include "ringtrue/record/record.hpp"
#include "ringtrue/write/whole_file.hpp"

namespace ringtrue {

namespace {

constexpr std::size_t k_longest_cell = 32'000;  // of 32,767 that the format takes
constexpr double k_narrowest = 8, k_widest = 45;

/// What fits into a cell; record.json has the whole.
std::string cell_text(const std::string& text) {
  if (text.size() <= k_longest_cell) return text;
  std::size_t end = k_longest_cell;
  while (end != 0 && (static_cast<unsigned char>(text[end]) & 0xC0u) == 0x80u) --end;
  return text.substr(0, end) + " ... (cut; whole in record.json)";
}

/// The wall clock of a time, or a date alone, as written at the panel; none of any other text.
std::optional<lxw_datetime> wall_clock(std::string_view text) {
  constexpr std::size_t k_date = 10, k_seconds = 19;
  const bool is_date = text.size() == k_date && seconds_of_time(std::string(text) + "T00:00:00Z");
  if (!is_date && !seconds_of_time(text)) return std::nullopt;
  const auto number = [&](std::size_t at, std::size_t digits) {
    int value = 0;
    std::from_chars(text.data() + at, text.data() + at + digits, value);
    return value;
  };
  lxw_datetime time{number(0, 4), number(5, 2), number(8, 2), 0, 0, 0};
  if (time.year < 1900) return std::nullopt;
  if (text.size() >= k_seconds) time.hour = number(11, 2), time.min = number(14, 2), time.sec = number(17, 2);
  return time;
}

class Workbook {
 public:
  Workbook(const Record& record, const std::filesystem::path& path) : record_(record) {
    book_ = workbook_new(path.c_str());
    if (book_ == nullptr) return;
    plain_ = format(), header_ = format(), bad_ = format(), open_ = format(), date_ = format(),
    time_ = format();
    format_set_bold(header_);
    format_set_bg_color(header_, 0xEEEEEE);
    format_set_bold(bad_);
    format_set_italic(open_);
    format_set_num_format(date_, "yyyy-mm-dd");
    format_set_num_format(time_, "yyyy-mm-dd hh:mm:ss");
  }

  [[nodiscard]] Result<void> write() {
    if (book_ != nullptr) {
      properties();
      cover();
      for (const RecordSheet& sheet : record_.sheets) list(sheet);
    }
    const lxw_error problem = book_ == nullptr ? LXW_ERROR_MEMORY_MALLOC_FAILED : workbook_close(book_);
    if (problem == LXW_NO_ERROR && problem_ == LXW_NO_ERROR) return {};
    Error error;
    error.code = ErrorCode::file_unwritable;
    error.message = std::string("the workbook could not be made (") +
                    lxw_strerror(problem == LXW_NO_ERROR ? problem_ : problem) + ")";
    return fail(std::move(error));
  }

 private:
  [[nodiscard]] lxw_format* format() {
    lxw_format* made = workbook_add_format(book_);
    format_set_text_wrap(made);
    format_set_align(made, LXW_ALIGN_VERTICAL_TOP);
    return made;
  }
  void take(lxw_error problem) {
    if (problem_ == LXW_NO_ERROR) problem_ = problem;
  }
  void properties();
  void cover();
  void list(const RecordSheet& sheet);
  void cell(lxw_worksheet* on, lxw_row_t row, lxw_col_t column, const RecordCell& cell,
            RecordColumn::Kind kind);
  void text(lxw_worksheet* on, lxw_row_t row, lxw_col_t column, std::string_view words, lxw_format* look) {
    if (!words.empty())
      take(worksheet_write_string(on, row, column, cell_text(std::string(words)).c_str(), look));
  }
  void for_paper(lxw_worksheet* on, lxw_row_t last_row, lxw_col_t last_column) {
    worksheet_set_landscape(on);
    worksheet_fit_to_pages(on, 1, 0);
    take(worksheet_print_area(on, 0, 0, last_row, last_column));
  }

  const Record& record_;
  lxw_workbook* book_ = nullptr;
  lxw_format *plain_ = nullptr, *header_ = nullptr, *bad_ = nullptr, *open_ = nullptr, *date_ = nullptr,
             *time_ = nullptr;
  lxw_error problem_ = LXW_NO_ERROR;
};

/// The library would take the clock for a time of 0.
void Workbook::properties() {
  constexpr time_t k_1980 = 315'532'800;
  lxw_doc_properties properties{};
  properties.created = static_cast<time_t>(seconds_of_time(record_.last_time).value_or(k_1980));
  take(workbook_set_properties(book_, &properties));
}

void Workbook::cover() {
  lxw_worksheet* on = workbook_add_worksheet(book_, "Record");
  lxw_row_t row = 0;
  const auto line = [&](std::string_view name, std::string_view words, lxw_format* look) {
    text(on, row, 0, name, header_);
    text(on, row, 1, words, look);
    ++row;
  };
  line("Panel", record_.panel, plain_);
  line("Drawing", record_.drawing, plain_);
  line("Revision", record_.revision, plain_);
  line("SHA-256 of the netlist", record_.netlist_sha256, plain_);
  line("SHA-256 of the readings", record_.readings_sha256, plain_);
  line("First entry", record_.first_time, plain_);
  line("Last entry", record_.last_time, plain_);
  line("Made by", "ringtrue " + record_.tool_version, plain_);
  line("State", record_.is_ready_to_sign() ? "ready to sign" : "not ready to sign",
       record_.is_ready_to_sign() ? plain_ : bad_);
  for (const std::string& hold : record_.holds) line("", hold, bad_);
  for (const std::string& left : record_.not_tested) line("Not tested", left, open_);
  for (const RecordSignature& one : record_.signatures) {
    line(one.who, "", plain_);
    if (one.by.empty()) continue;
    line("in the job, typed", one.by, plain_);
    line("", one.time, plain_);
    if (!one.text.empty()) line("", one.text, plain_);
    for (const std::string& reservation : one.reservations) line("", reservation, bad_);
  }
  for (const std::string_view caution : record_.cautions) line("Caution", caution, plain_);
  take(worksheet_set_column(on, 0, 0, 26, nullptr));
  take(worksheet_set_column(on, 1, 1, 80, nullptr));
  for_paper(on, row - 1, 1);
}

void Workbook::cell(lxw_worksheet* on, lxw_row_t row, lxw_col_t column, const RecordCell& cell,
                    RecordColumn::Kind kind) {
  if (cell.number)
    return take(worksheet_write_number(on, row, column, static_cast<double>(*cell.number), plain_));
  if (kind == RecordColumn::Kind::time)
    if (auto time = wall_clock(cell.text))
      return take(worksheet_write_datetime(on, row, column, &*time, cell.text.size() == 10 ? date_ : time_));
  text(on, row, column, cell.text, cell.tone == Tone::bad ? bad_ : cell.tone == Tone::open ? open_ : plain_);
}

void Workbook::list(const RecordSheet& sheet) {
  std::string name(sheet.title);
  std::erase(name, '/');  // which no name of a sheet may have
  lxw_worksheet* on = workbook_add_worksheet(book_, name.c_str());
  const auto last_column = static_cast<lxw_col_t>(sheet.columns.size() - 1);
  const auto last_row = static_cast<lxw_row_t>(std::max<std::size_t>(sheet.rows.size(), 1));
  for (lxw_col_t column = 0; column <= last_column; ++column) {
    const RecordColumn& headed = sheet.columns[column];
    text(on, 0, column, headed.title, header_);
    std::size_t longest = headed.kind == RecordColumn::Kind::time ? 19 : headed.title.size() + 3;
    lxw_row_t row = 0;
    for (const std::vector<RecordCell>& cells : sheet.rows) {
      cell(on, ++row, column, cells[column], headed.kind);
      longest = std::max(longest, cells[column].text.size());
    }
    take(worksheet_set_column(on, column, column,
                              std::clamp(static_cast<double>(longest), k_narrowest, k_widest), nullptr));
  }
  if (sheet.rows.empty()) text(on, 1, 0, sheet.where_empty, open_);
  worksheet_freeze_panes(on, 1, 0);
  take(worksheet_autofilter(on, 0, 0, last_row, last_column));
  take(worksheet_repeat_rows(on, 0, 0));
  for_paper(on, last_row, last_column);
}

}  // namespace

Result<void> write_record_xlsx(const Record& record, const std::filesystem::path& path) {
  return Workbook(record, path).write().and_then([&] { return write::sync_file(path); });
}

}  // namespace ringtrue
