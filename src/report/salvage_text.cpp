#include "report/text_layout.hpp"
#include "ringtrue/report/job_report.hpp"

namespace ringtrue {

namespace {

constexpr std::size_t k_most_ranges = 10;

/// `60 to 79 (R60 to R79)`; `?` for an id that isn't known any more.
std::string range_text(const LostRows& rows) {
  const auto known = [](const std::string& id) { return id.empty() ? "?" : id; };
  const bool is_one = rows.first == rows.last;
  std::string text = std::to_string(rows.first);
  if (!is_one) text += " to " + std::to_string(rows.last);
  if (rows.first_id.empty() && rows.last_id.empty()) return text;
  return text + " (" + known(rows.first_id) + (is_one ? "" : " to " + known(rows.last_id)) + ")";
}

std::string table_text(const SalvagedTable& table) {
  std::size_t count = 0;
  std::string ranges;
  for (std::size_t i = 0; i < table.lost.size(); ++i) {
    const LostRows& rows = table.lost[i];
    count += static_cast<std::size_t>(rows.last - rows.first + 1);
    if (i < k_most_ranges) ranges += (i == 0 ? ": " : ", ") + range_text(rows);
  }
  if (table.lost.size() > k_most_ranges)
    ranges += " and " + report::counted(table.lost.size() - k_most_ranges, "more range");
  return "  " + table.name + ": " + report::counted(table.read, "row") + " read, " + std::to_string(count) +
         " lost" + ranges + (table.may_have_more ? "; rows after these may be lost too" : "");
}

}  // namespace

std::vector<std::string> salvage_text(const Salvage& salvage, const Error& reason,
                                      const std::filesystem::path& folder) {
  std::vector<std::string> lines{to_text(reason), "What could be read of it was written to " +
                                                      folder.string() + "; this is not a whole job:"};
  for (const SalvagedTable& table : salvage.tables) lines.push_back(table_text(table));
  for (const std::string& file : salvage.changed_files)
    lines.push_back("  " + file + ": not what was loaded, its SHA-256 is another");
  lines.emplace_back(
      "A row that reads well may still have been altered where the damage lies; compare with a copy.");
  return lines;
}

}  // namespace ringtrue
