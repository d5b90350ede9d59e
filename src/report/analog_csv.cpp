#include <array>

#include "analog_words.hpp"
#include "ringtrue/report/analog_report.hpp"
#include "ringtrue/report/csv_sheet.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using namespace report;

constexpr std::array<std::string_view, 17> k_columns = {
    "point",     "address", "tag",        "text", "simulator", "plus",    "minus",    "percent", "give",
    "give_unit", "shows",   "shows_unit", "raw",  "seen",      "verdict", "initials", "note"};
using Cells = std::array<SheetCell, k_columns.size()>;

SheetCell number(const std::optional<double>& value, std::string (*text)(double)) {
  return {value ? text(*value) : std::string(), true};
}

/// What keeps the sheet from being whole.
std::string note_of(const AnalogSheet& sheet) {
  std::vector<std::string> notes;
  if (sheet.hook_up.why_not)
    notes.push_back("Connect nothing: " + std::string(words_of(*sheet.hook_up.why_not).text) + ".");
  else if (!sheet.hook_up.polarity_known)
    notes.emplace_back("Which terminal is plus is not on the drawing.");
  for (const AnalogGap gap : sheet.gaps) notes.emplace_back(words_of(gap).text);
  return joined(notes, " ");
}

class AnalogCsv {
 public:
  explicit AnalogCsv(const AnalogReport& report) : report_(report) {}

  [[nodiscard]] std::string write() {
    put_sheet_header(out_, k_columns);
    for (const AnalogSheet& sheet : report_.sheets) {
      if (sheet.points.empty()) row(sheet, {}, "", "");
      for (const AnalogPoint& point : sheet.points) this->point(sheet, point);
    }
    return std::move(out_);
  }

 private:
  void point(const AnalogSheet& sheet, const AnalogPoint& point) {
    const Channel& drawn = report_.graph.netlist().channels[sheet.channel];
    const std::string unit(unit_of(sheet.scale->signal.kind));
    const bool is_input = drawn.type == ChannelType::AI;
    SheetCell signal = number(point.signal, signal_text);
    if (!point.signal) signal = std::string(to_do(point.kind));
    SheetCell value = number(point.value, value_text);
    if (point.kind >= AnalogPoint::Kind::failure) value = std::string("failure");
    const std::string signal_unit = point.signal ? unit : "", value_unit(point.value ? drawn.unit : "");
    row(sheet, &point, is_input ? signal_unit : value_unit, is_input ? value_unit : signal_unit,
        is_input ? signal : value, is_input ? value : signal);
  }

  void row(const AnalogSheet& sheet, const AnalogPoint* point, const std::string& give_unit,
           const std::string& shows_unit, const SheetCell& give = std::string(),
           const SheetCell& shows = std::string()) {
    const Channel& drawn = report_.graph.netlist().channels[sheet.channel];
    const PointTable& points = report_.graph.netlist().points;
    const HookUp& hook_up = sheet.hook_up;
    const bool connects = !hook_up.why_not;
    const bool has_percent = point != nullptr && to_do(point->kind).empty();
    const std::string none;
    const Cells cells = {points.name(drawn.point),
                         std::string(drawn.address),
                         std::string(drawn.tag),
                         std::string(drawn.text),
                         connects ? std::string(words_of(hook_up.simulator).id) : none,
                         connects ? points.name(hook_up.plus) : none,
                         connects ? points.name(hook_up.minus) : none,
                         SheetCell(has_percent ? value_text(point->percent) : none, true),
                         give,
                         give_unit,
                         shows,
                         shows_unit,
                         point == nullptr ? SheetCell(none) : number(point->raw, raw_text),
                         none,
                         none,
                         none,
                         note_of(sheet)};
    put_sheet_row(out_, cells);
  }

  const AnalogReport& report_;
  std::string out_;
};

}  // namespace

std::string analog_csv(const AnalogReport& report) { return AnalogCsv(report).write(); }

}  // namespace ringtrue
