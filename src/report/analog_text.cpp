#include <algorithm>
#include <array>
#include <vector>

#include "analog_words.hpp"
#include "ringtrue/report/analog_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using namespace report;
using Row = std::vector<std::string>;

/// Columns flush right, so that decimal points of one column stand below each other.
void append_table(std::string& out, std::size_t indent, const std::vector<Row>& rows) {
  std::vector<std::size_t> widths(rows.front().size());
  for (const Row& row : rows)
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], shown_width(row[i]));
  for (const Row& row : rows) {
    std::string line(indent, ' ');
    for (std::size_t i = 0; i < row.size(); ++i)
      line += std::string(widths[i] - shown_width(row[i]) + (i == 0 ? 0 : 3), ' ') + row[i];
    out += line.erase(line.find_last_not_of(' ') + 1) + '\n';
  }
}

std::string error_text(double percent) {
  const std::string text = fixed_text(percent, 3);
  return (text.starts_with('-') ? "" : "+") + text;
}

std::string percent_text(double percent) { return value_text(percent) + " %"; }

std::string point_text(const AnalogPoint& point) {
  return to_do(point.kind).empty() ? percent_text(point.percent) : std::string(report::word(point.kind));
}

/// `8 %`, `failure`
std::string expected_text(const AnalogVerdict& verdict, std::string_view unit) {
  return verdict.expected ? with_unit(value_text(*verdict.expected), unit) : "failure";
}
std::string seen_text(const AnalogVerdict& verdict, std::string_view unit) {
  return verdict.seen ? with_unit(shortest_text(*verdict.seen), unit) : "failure";
}
bool has_error(const AnalogVerdict& verdict) { return verdict.expected && verdict.seen; }

class AnalogText {
 public:
  explicit AnalogText(const AnalogReport& report) : report_(report) {}

  [[nodiscard]] std::string write() {
    append_wrapped(
        out_,
        panel_label(report_.graph.netlist().panel) + ": " + counted(report_.sheets.size(), "analog channel"),
        0, 2);
    append_wrapped(out_, k_io_caution, 0, 2);
    append_wrapped(out_, tolerance_words(report_), 0, 2);
    for (const AnalogSheet& sheet : report_.sheets) channel(sheet);
    if (!notes_.empty()) out_ += '\n';
    for (const std::string& text : notes_) append_wrapped(out_, text, 0, 2);
    if (!report_.seen.empty()) seen();
    return std::move(out_);
  }

 private:
  void channel(const AnalogSheet& sheet) {
    const Channel& drawn = report_.graph.netlist().channels[sheet.channel];
    std::string line =
        report_.graph.netlist().points.name(drawn.point) + "  " + std::string(word(drawn.type));
    for (const std::string_view text : {drawn.address, drawn.tag, drawn.text})
      if (!text.empty()) line.append("  ").append(text);
    out_ += '\n' + line + '\n';
    entry("signal",
          std::string(drawn.signal.empty() ? "not stated" : drawn.signal) + range_words(sheet, drawn));
    entry("connect", hook_up_words(sheet.hook_up, drawn, report_.graph));
    for (const AnalogGap gap : sheet.gaps) entry("lacking", std::string(words_of(gap).text));
    if (sheet.scale) points(sheet, drawn);
  }

  void entry(std::string_view label, const std::string& text) { append_entry(out_, 2, label, 9, text); }

  static std::string range_words(const AnalogSheet& sheet, const Channel& drawn) {
    if (!sheet.scale) return {};
    const auto ends = [](const AnalogScale::Span& span) {
      return shortest_text(span.low) + " to " + shortest_text(span.high);
    };
    std::string text;
    if (sheet.scale->value) text += ", " + with_unit(ends(*sheet.scale->value), drawn.unit);
    if (sheet.scale->raw) text += ", raw " + ends(*sheet.scale->raw);
    return text;
  }

  void points(const AnalogSheet& sheet, const Channel& drawn) {
    const AnalogScale& scale = *sheet.scale;
    const bool is_input = drawn.type == ChannelType::AI;
    std::vector<Row> rows = {is_input ? Row{"point", "feed", "shows", "raw"}
                                      : Row{"point", "command", "raw", "measure"}};
    for (const AnalogPoint& point : sheet.points) {
      const std::string label = point_text(point);
      const std::string signal = point.signal
                                     ? with_unit(signal_text(*point.signal), unit_of(scale.signal.kind))
                                     : std::string(to_do(point.kind));
      const bool fails = point.kind >= AnalogPoint::Kind::failure;
      const std::string value =
          point.value ? with_unit(value_text(*point.value), drawn.unit) : (fails ? "failure" : "");
      const std::string raw = point.raw ? raw_text(*point.raw) : "";
      rows.push_back(is_input ? Row{label, signal, value, raw} : Row{label, value, raw, signal});
    }
    append_table(out_, 4, rows);
    note(scale, is_input);
  }

  void note(const AnalogScale& scale, bool is_input) {
    if (is_input && scale.signal.has_ne43())
      note(
          "NAMUR NE 43: a value from 3.8 to 20.5 mA, a failure up to 3.6 and from 21 mA. The module may clip "
          "the "
          "raw count beside the range.");
    else if (is_input && !scale.signal.is_temperature())
      note(
          "Signals other than 4-20 mA: no points outside the range, since NAMUR NE 43 speaks of 4-20 mA "
          "alone.");
    if (scale.signal.is_temperature())
      note("Thermometers: whether a failure shows high or low is not on the drawing.");
    if (scale.signal.kind == SignalKind::thermocouple) note(cold_junction(scale));
  }

  /// Once, however many channels it is about.
  void note(std::string text) {
    if (std::find(notes_.begin(), notes_.end(), text) == notes_.end()) notes_.push_back(std::move(text));
  }

  static std::string cold_junction(const AnalogScale& scale) {
    return scale.cold_junction
               ? "Thermocouples: these mV are for terminals at " + shortest_text(*scale.cold_junction) +
                     " °C: E(t) - E(" + shortest_text(*scale.cold_junction) + " °C)."
               : "Thermocouples: these mV are for terminals at 0 °C. --cold-junction gives those for "
                 "the temperature that they have.";
  }

  void seen() {
    const std::string_view unit = unit_of_seen(report_);
    std::vector<Row> rows = {{"point", "expected", "seen", "error, % of span", "verdict"}};
    for (const AnalogVerdict& verdict : report_.seen) {
      rows.push_back({point_text(verdict.point), expected_text(verdict, unit), seen_text(verdict, unit),
                      has_error(verdict) ? error_text(verdict.error_pct) : "",
                      verdict.is_good ? "pass" : "fail"});
    }
    out_ += "\nSeen:\n";
    append_table(out_, 2, rows);
  }

  const AnalogReport& report_;
  std::vector<std::string> notes_;
  std::string out_;
};

std::string terminals_of(const HookUp& hook_up, const ConductionGraph& graph) {
  if (hook_up.why_not) return {};
  const PointTable& points = graph.netlist().points;
  return points.name(hook_up.plus) + "; " + points.name(hook_up.minus);
}

}  // namespace

std::string analog_text(const AnalogReport& report) { return AnalogText(report).write(); }

std::string no_hook_up_text(NoHookUp why) { return std::string(words_of(why).text); }

std::string hook_up_text(const AnalogSheet& sheet, const ConductionGraph& graph) {
  return hook_up_words(sheet.hook_up, graph.netlist().channels[sheet.channel], graph);
}

AnalogRecord analog_record(const AnalogReport& report, std::size_t number) {
  const AnalogSheet& sheet = report.sheets.front();
  const Channel& drawn = report.graph.netlist().channels[sheet.channel];
  const AnalogVerdict& verdict = report.seen[number];
  const bool is_input = drawn.type == ChannelType::AI;
  const AnalogPoint& point = verdict.point;
  const std::string signal = point.signal
                                 ? with_unit(signal_text(*point.signal), unit_of(sheet.scale->signal.kind))
                                 : std::string(to_do(point.kind));
  const std::string command = point.value ? ", " + with_unit(value_text(*point.value), drawn.unit) : "";
  AnalogRecord record;
  record.at = terminals_of(sheet.hook_up, report.graph);
  record.given = point_text(point) + (is_input ? ", " + signal : command);
  record.expected = expected_text(verdict, unit_of_seen(report));
  record.value = seen_text(verdict, unit_of_seen(report));
  if (has_error(verdict))
    record.reason = "error " + error_text(verdict.error_pct) + " % of span, tolerance " +
                    shortest_text(report.tolerance_pct) + " %";
  else
    record.reason = verdict.expected ? "a value must be shown" : "a failure must be told";
  return record;
}

}  // namespace ringtrue
