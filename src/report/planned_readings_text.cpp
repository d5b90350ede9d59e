#include "planned_readings_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <vector>

#include "element_words.hpp"
#include "next_words.hpp"
#include "plan_words.hpp"
#include "reading_words.hpp"
#include "ringtrue/model/number.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

constexpr std::size_t k_few_proven = 4;
/// Beyond this there is too little room beside the columns for what a reading proves.
constexpr std::size_t k_widest_columns = 60;

bool is_at(const PlannedReading& reading, PointId point) {
  return reading.from == point || reading.to == point;
}

/// The readings of one condition, as a table.
class ReadingsTable {
 public:
  ReadingsTable(const PlanReport& report, std::size_t first, std::size_t last, Detail detail)
      : report_(report), first_(first), last_(last), detail_(detail) {
    for (std::size_t run = first; run < last;) run = add_run(run);
    for (const Row& row : rows_)
      for (std::size_t column = 0; column < row.size(); ++column)
        widths_[column] = std::max(widths_[column], shown_width(row[column]));
  }

  void append(std::string& out) const {
    out.append(2, ' ').append(columns({"", "one probe", "the other", "shows"})) += " proves\n";
    for (std::size_t i = first_; i < last_; ++i) append_row(out, i);
  }

 private:
  using Row = std::array<std::string, 4>;  ///< id, the two points, what must show

  /// Readings from `first` on that share a point, or that one alone. Returns the one behind them.
  std::size_t add_run(std::size_t first) {
    const PlannedReading& reading = reading_at(first);
    const std::size_t of_from = end_of_run(first, reading.from), of_to = end_of_run(first, reading.to);
    const PointId parked = of_to > of_from ? reading.to : reading.from;
    const std::size_t end = std::max(of_from, of_to);
    for (std::size_t i = first; i < end; ++i) add_row(i, parked, i > first);
    return end;
  }

  [[nodiscard]] std::size_t end_of_run(std::size_t first, PointId parked) const {
    while (first < last_ && is_at(reading_at(first), parked)) ++first;
    return first;
  }

  void add_row(std::size_t number, PointId parked, bool has_stayed) {
    const PlannedReading& reading = reading_at(number);
    const PointId other = reading.from == parked ? reading.to : reading.from;
    const bool is_told = !has_stayed || reading.polarity_matters;
    rows_.push_back({planned_id(report_.plan, number), is_told ? name(parked, reading) : "stays",
                     name(other, reading), must_show(reading)});
  }

  /// Red and black are named only where they make a difference.
  [[nodiscard]] std::string name(PointId point, const PlannedReading& reading) const {
    std::string text = point_name(point, condition().made, report_.graph);
    if (!reading.polarity_matters) return text;
    return text + (point == reading.from ? " (red)" : " (black)");
  }

  [[nodiscard]] std::string columns(const Row& row) const {
    std::string line;
    for (std::size_t column = 0; column < row.size(); ++column)
      line += (column == 0 ? "" : "  ") + padded(row[column], widths_[column]);
    return line + ' ';
  }

  void append_row(std::string& out, std::size_t number) const {
    const std::string line = columns(rows_[number - first_]);
    std::string proves = what_it_proves(reading_at(number));
    const std::string place =
        place_words({reading_at(number).from, reading_at(number).to}, condition(), report_.graph);
    if (!place.empty()) proves += " (" + place + ")";
    if (shown_width(line) <= k_widest_columns) {
      append_entry(out, 2, line, shown_width(line), proves);
      return;
    }
    append_wrapped(out, line, 2, 6);
    append_wrapped(out, proves, 6, 6);
  }

  [[nodiscard]] std::string what_it_proves(const PlannedReading& reading) const {
    if (reading.proves.empty())
      return reading.expected == Expected::open ? "shows them apart" : "shows them joined";
    const bool is_short = detail_ == Detail::short_lists && reading.proves.size() > k_few_proven + 1;
    return list_of(reading.proves, report_.graph, is_short ? k_few_proven : reading.proves.size());
  }

  [[nodiscard]] const PlannedReading& reading_at(std::size_t number) const {
    return report_.plan.readings[number];
  }
  [[nodiscard]] const PlanCondition& condition() const {
    return report_.plan.conditions[reading_at(first_).condition];
  }

  const PlanReport& report_;
  std::size_t first_, last_;
  Detail detail_;
  std::vector<Row> rows_;
  std::array<std::size_t, 4> widths_ = {0, 9, 9, 5};  ///< at least those of the titles
};

std::vector<std::string_view> settings_of(std::string_view condition) {
  std::vector<std::string_view> settings;
  while (!condition.empty()) {
    const std::size_t end = std::min(condition.find(';'), condition.size());
    settings.push_back(trimmed(condition.substr(0, end)));
    condition.remove_prefix(std::min(end + 1, condition.size()));
  }
  return settings;
}

/// Those settings of the one condition that the other has, or has not.
std::string settings_in(const PlanCondition& one, const PlanCondition& other, bool wanted) {
  const std::vector<std::string_view> known = settings_of(other.text);
  std::string text;
  for (const std::string_view setting : settings_of(one.text))
    if ((std::find(known.begin(), known.end(), setting) != known.end()) == wanted)
      text.append(text.empty() ? "" : "; ").append(setting);
  return text;
}

/// What is to be done, never cut short: whoever sets the condition needs all of it. Where much of it stands
/// from the readings before, only what changes.
std::string what_to_do(const PlanCondition& before, const PlanCondition& now, const std::string& count) {
  const std::string added = settings_in(now, before, false), removed = settings_in(before, now, false);
  if (settings_in(now, before, true).empty() || added.size() + removed.size() > now.text.size())
    return capitalised(to_be_done(now.text, Detail::everything)) + count + "; put it back afterwards";
  std::string text = "As before";
  if (!removed.empty()) text += ", without " + condition_words(removed, Detail::everything);
  if (!added.empty()) text += "; " + to_be_done(added, Detail::everything);
  return text + count;
}

void append_heading(std::string& out, const PlanCondition& before, const PlanCondition& now,
                    std::size_t readings) {
  const std::string count = ": " + counted(readings, "reading");
  out += '\n';
  if (now.text.empty()) return append_wrapped(out, "At rest, nothing opened or operated" + count, 0, 2);
  append_wrapped(out, what_to_do(before, now, count), 0, 2);
}

/// Whose resistance the drawing could state.
bool could_have_ohms(const Part& part) {
  return part.kind == PartKind::coil || part.kind == PartKind::lamp || part.kind == PartKind::resistor;
}

/// What is unplugged only since a buzzer may sound through it, for all that the drawing says.
std::vector<std::string> unplugged_for_their_ohms(const PlanReport& report) {
  constexpr std::string_view k_unplugged = "=unplugged";
  std::set<std::string_view> unplugged;
  for (const PlanCondition& condition : report.plan.conditions)
    for (std::string_view setting : settings_of(condition.text))
      if (setting.ends_with(k_unplugged))
        unplugged.insert(setting.substr(0, setting.size() - k_unplugged.size()));
  std::vector<std::string> loads;
  for (const Part& part : report.graph.netlist().parts)
    if (could_have_ohms(part) && std::isnan(part.ohms) && unplugged.erase(part.part) != 0)
      loads.emplace_back(part.part);
  return loads;
}

void append_why_unplugged(std::string& out, const PlanReport& report) {
  const std::vector<std::string> loads = unplugged_for_their_ohms(report);
  if (loads.empty()) return;
  const bool is_one = loads.size() == 1;
  append_wrapped(out,
                 std::string("The drawing doesn't state the ohms of ") + joined(loads) +
                     (is_one ? ": a buzzer may sound through it. " : ": a buzzer may sound through them. ") +
                     "With ohms in parts.csv less may have to be unplugged.",
                 2, 2);
}

}  // namespace

void append_planned_readings(std::string& out, const PlanReport& report, Detail detail) {
  const std::vector<PlannedReading>& readings = report.plan.readings;
  const PlanCondition* before = &report.plan.conditions.front();
  for (std::size_t first = 0; first < readings.size();) {
    std::size_t last = first;
    while (last < readings.size() && readings[last].condition == readings[first].condition) ++last;
    const PlanCondition& now = report.plan.conditions[readings[first].condition];
    append_heading(out, *before, now, last - first);
    before = &now;
    ReadingsTable(report, first, last, detail).append(out);
    first = last;
  }
  append_why_unplugged(out, report);
}

}  // namespace ringtrue::report
