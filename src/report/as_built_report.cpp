#include "ringtrue/report/as_built_report.hpp"

#include <filesystem>

#include "ringtrue/report/csv_sheet.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

std::string place_words(const AsBuiltRow& row) {
  const std::string file = std::filesystem::path(row.place.file).filename().string();
  return row.change == Change::added ? std::string(row.table) : file + ":" + std::to_string(row.place.line);
}

}  // namespace

std::string decision_words(const Decision& decision) {
  constexpr std::string_view k_words[] = {"Repair decided", "Drawing to be changed, decided", "Accepted",
                                          "Decision withdrawn"};
  return std::string(k_words[static_cast<std::size_t>(decision.decision)]) + " by " + decision.by + ", " +
         decision.time + (decision.text.empty() ? "" : ": " + decision.text);
}

std::string change_words(const AsBuiltRow& row) {
  if (row.change == Change::gone) return "the row goes";
  std::string text;
  for (const ChangedField& field : row.fields) {
    text += (text.empty() ? "" : ", ") + std::string(field.name);
    if (row.change == Change::added)
      text += " " + field.after;
    else
      text += ": " + (field.before.empty() ? "empty" : field.before) + " becomes " +
              (field.after.empty() ? "empty" : field.after);
  }
  return (row.change == Change::added ? "new row: " : "") + text;
}

std::string red_lines_csv(const AsBuilt& built, std::span<const Decision> decisions) {
  std::string out;
  constexpr std::string_view k_columns[] = {"table", "row", "name",    "sheet",      "change",     "field",
                                            "was",   "is",  "finding", "decided_by", "decided_at", "reason"};
  report::put_sheet_header(out, k_columns);
  for (const AsBuiltRow& row : built.rows) {
    const Decision& decision = decisions[row.decision];
    const auto put = [&](std::string_view field, const std::string& was, const std::string& is) {
      const std::string cells[] = {std::string(row.table),
                                   place_words(row),
                                   row.name,
                                   row.sheet,
                                   std::string(word(row.change)),
                                   std::string(field),
                                   was,
                                   is,
                                   decision.finding,
                                   decision.by,
                                   decision.time,
                                   decision.text};
      report::put_sheet_row(out, std::span<const std::string>(cells));
    };
    if (row.change == Change::gone) put("", "", "");
    if (row.change == Change::gone) continue;
    for (const ChangedField& field : row.fields) put(field.name, field.before, field.after);
  }
  return out;
}

std::string red_lines_text(const AsBuilt& built) {
  std::string out;
  for (const AsBuiltRow& row : built.rows)
    report::append_wrapped(out,
                           place_words(row) + " " + row.name +
                               (row.sheet.empty() ? "" : " (sheet " + row.sheet + ")") + ": " +
                               change_words(row),
                           2, 6);
  return out;
}

}  // namespace ringtrue
