#include "ringtrue/model/readings.hpp"

#include <algorithm>
#include <set>
#include <vector>

#include "load/csv_rows.hpp"
#include "load/end_columns.hpp"
#include "load/file.hpp"
#include "ringtrue/load/load.hpp"

namespace ringtrue {

namespace load {

/// A row as an exported job may have it.
struct ReadingInFile : WithPins<ReadingRow> {
  std::string_view supersedes;     ///< the reading that this one corrects, or without a value withdraws
  std::string_view superseded_by;  ///< the reading that took its place
  std::string_view netlist;        ///< see NetlistMark
};

struct EventInFile : EventRow {
  std::string_view netlist;
};

struct IoResultInFile : IoResultRow {
  std::string_view superseded_by, netlist;
};

}  // namespace load

template <>
std::span<const FieldOf<load::ReadingInFile>> fields_of<load::ReadingInFile>() {
  using Row = load::ReadingInFile;
  static const auto fields =
      load::fields_in_file<Row, ReadingRow>({{"from_pin", &Row::from_pin, false},
                                             {"to_pin", &Row::to_pin, false},
                                             {"supersedes", &Row::supersedes, false},
                                             {"superseded_by", &Row::superseded_by, false},
                                             {"netlist", &Row::netlist, false}});
  return fields;
}

template <>
std::span<const load::TradeWord> load::trade_words_of<load::ReadingInFile>() {
  static const std::vector<TradeWord> words = with_words_of_pins(trade_words_of<ReadingRow>());
  return words;
}

template <>
std::span<const FieldOf<load::EventInFile>> fields_of<load::EventInFile>() {
  using Row = load::EventInFile;
  static const auto fields = load::fields_in_file<Row, EventRow>({{"netlist", &Row::netlist, false}});
  return fields;
}

template <>
std::span<const FieldOf<load::IoResultInFile>> fields_of<load::IoResultInFile>() {
  using Row = load::IoResultInFile;
  static const auto fields = load::fields_in_file<Row, IoResultRow>(
      {{"superseded_by", &Row::superseded_by, false}, {"netlist", &Row::netlist, false}});
  return fields;
}

namespace {

/// Rows of a small table while they are read; takes what is wrong as a builder does.
template <class Table>
struct TableList {
  Table table;
  Errors errors;

  void add_error(Error error) { errors.push_back(std::move(error)); }
  void add_note(Note note) { table.notes.push_back(std::move(note)); }
  [[nodiscard]] bool has_enough_errors() const { return errors.size() >= k_max_errors; }

  template <class Record>
  void add(Result<Record> record) {
    if (record) return table.rows.push_back(std::move(*record));
    for (Error& error : record.error())
      if (!has_enough_errors()) add_error(std::move(error));
  }
};

/// Reads a small table whose rows `make(row, line, file)` turns into records.
template <class Table, class Row, class Make>
Result<Table> load_table(const std::filesystem::path& path, const LoadLimits& limits, Make make) {
  const Result<load::FileText> file = load::read_text_file(path, limits.max_file_bytes);
  if (!file) return tl::unexpected(file.error());
  TableList<Table> list;
  list.table.file = file->name;
  load::read_csv_rows<Row>(
      *file, list, [&](const Row& row, std::uint32_t line) { list.add(make(row, line, list.table.file)); });
  if (!list.errors.empty()) return tl::unexpected(std::move(list.errors));
  return std::move(list.table);
}

/// Two meters of one name could not be told apart.
Errors repeated_names(const Meters& meters) {
  Errors errors;
  for (std::size_t i = 0; i < meters.rows.size(); ++i)
    for (std::size_t k = 0; k < i; ++k)
      if (meters.rows[i].name == meters.rows[k].name) {
        errors.push_back({ErrorCode::repeated_row,
                          "the meter stands in the file twice",
                          {meters.file, meters.rows[i].line, "", "meter"},
                          meters.rows[i].name,
                          "each meter once; it is also in line " + std::to_string(meters.rows[k].line),
                          {}});
        break;
      }
  errors.resize(std::min(errors.size(), k_max_errors));
  return errors;
}

/// What a sheet of planned readings says beside the readings themselves.
constexpr std::string_view k_for_people[] = {"expect", "proves", "sheet"};

/// Without the apostrophe that keeps a spreadsheet from taking the cell for a formula.
std::string_view without_text_mark(std::string_view cell) {
  constexpr std::string_view k_formula_starts = "=+-@";
  const bool is_marked =
      cell.size() > 1 && cell[0] == '\'' && k_formula_starts.find(cell[1]) != std::string_view::npos;
  return is_marked ? cell.substr(1) : cell;
}

/// Rows that aren't readings, counted.
class PassedOver {
 public:
  PassedOver(std::string_view why, std::string_view field) : why_(why), field_(field) {}

  void count(std::uint32_t line) {
    if (count_++ == 0) first_line_ = line;
  }
  void tell(ReadingsBuilder& builder, const std::string& file) const {
    if (count_ == 0) return;
    const std::string rows = std::to_string(count_) + (count_ == 1 ? " row" : " rows");
    builder.add_note(
        {std::string(why_) + " " + rows + ", passed over", {file, first_line_, "", std::string(field_)}});
  }

 private:
  std::string_view why_, field_;
  std::size_t count_ = 0;
  std::uint32_t first_line_ = 0;
};

/// A column of 1 and 0 may say yes and no, and some meters show a bare 1 where they are over range. Other
/// numbers in the file say that ohms are meant.
class BareOne {
 public:
  void look_at(std::string_view value, std::uint32_t line) {
    if (value.empty() || has_ohms_ || value.front() < '0' || value.front() > '9' || value == "0") return;
    if (value == "1") {
      if (first_line_ == 0) first_line_ = line;
    } else {
      const auto parsed = parse_value(value);
      has_ohms_ = parsed && parsed->kind == ValueKind::ohms;
    }
  }
  void tell(ReadingsBuilder& builder, const std::string& file) const {
    if (first_line_ == 0 || has_ohms_) return;
    Error error = bare_one();
    error.place = {file, first_line_, "", "value"};
    builder.add_error(std::move(error));
  }

 private:
  std::uint32_t first_line_ = 0;
  bool has_ohms_ = false;
};

}  // namespace

Result<Readings> load_readings(const std::filesystem::path& path, const LoadLimits& limits) {
  const Result<load::FileText> file = load::read_text_file(path, limits.max_file_bytes);
  if (!file) return tl::unexpected(file.error());
  ReadingsBuilder builder(file->name);
  builder.keep(file->bytes);
  builder.reserve(load::estimated_lines(*file));
  PassedOver to_be_read("no value yet in", "value");
  PassedOver withdrawals("an earlier reading is withdrawn by", "supersedes");
  PassedOver superseded("a later reading supersedes", "superseded_by");
  BareOne bare_one;
  std::set<std::string_view> netlists;
  auto last_netlist = netlists.end();  // nearly always that of the next row too
  load::MadeTexts made(builder);
  const auto take = [&](load::ReadingInFile row, std::uint32_t line) {
    if (row.value.empty()) return (row.supersedes.empty() ? to_be_read : withdrawals).count(line);
    if (!row.superseded_by.empty()) return superseded.count(line);
    for (auto cell : {&ReadingRow::id, &ReadingRow::from, &ReadingRow::to, &ReadingRow::conditions})
      row.*cell = without_text_mark(row.*cell);
    if (auto error = load::join_pins(row, made)) {
      error->place.file = file->name, error->place.line = line;
      return builder.add_error(std::move(*error));
    }
    bare_one.look_at(row.value, line);
    if (last_netlist == netlists.end() || *last_netlist != row.netlist)
      last_netlist = netlists.insert(row.netlist).first;
    builder.add(row, line, row.netlist);
  };
  load::read_csv_rows<load::ReadingInFile>(*file, builder, take, k_for_people);
  to_be_read.tell(builder, file->name);
  withdrawals.tell(builder, file->name);
  superseded.tell(builder, file->name);
  bare_one.tell(builder, file->name);
  if (netlists.size() > 1)
    builder.add_note({"the readings were taken under " + std::to_string(netlists.size()) +
                          " revisions of the netlist; only a job knows what a revision leaves of them",
                      {file->name, 0, "", "netlist"}});
  return builder.finish();
}

Result<Events> load_events(const std::filesystem::path& path, const LoadLimits& limits) {
  return load_table<Events, load::EventInFile>(path, limits, [](const auto& row, auto line, auto& file) {
    return event_from_row(row, line, file).map([&](Event event) {
      event.netlist = row.netlist;
      return event;
    });
  });
}

Result<Meters> load_meters(const std::filesystem::path& path, const LoadLimits& limits) {
  auto meters = load_table<Meters, MeterRow>(path, limits, meter_from_row);
  if (!meters) return meters;
  if (Errors errors = repeated_names(*meters); !errors.empty()) return tl::unexpected(std::move(errors));
  return meters;
}

Result<Decisions> load_decisions(const std::filesystem::path& path, const LoadLimits& limits) {
  return load_table<Decisions, DecisionRow>(path, limits, decision_from_row);
}

Result<Signatures> load_signatures(const std::filesystem::path& path, const LoadLimits& limits) {
  return load_table<Signatures, SignatureRow>(path, limits, signature_from_row);
}

Result<IoResults> load_io_results(const std::filesystem::path& path, const LoadLimits& limits) {
  auto results =
      load_table<IoResults, load::IoResultInFile>(path, limits, [](const auto& row, auto line, auto& file) {
        // Taken along so that what is wrong with it is told; left out below.
        return io_result_from_row(row, line, file).map([&](IoResult result) {
          if (!row.superseded_by.empty()) result.verdict = IoVerdict::withdrawn;
          result.netlist = row.netlist;
          return result;
        });
      });
  if (!results) return results;
  const std::size_t passed_over =
      std::erase_if(results->rows, [](const IoResult& row) { return row.verdict == IoVerdict::withdrawn; });
  if (passed_over != 0)
    results->notes.push_back(
        {std::to_string(passed_over) + " rows are withdrawn results or withdrawals, passed over",
         {results->file, 0, "", "superseded_by"}});
  return results;
}

}  // namespace ringtrue
