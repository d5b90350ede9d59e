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
      const std::string label =
          to_do(point.kind).empty() ? percent_text(point.percent) : std::string(report::word(point.kind));
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
    notes(scale, is_input);
  }

  void notes(const AnalogScale& scale, bool is_input) {
    if (is_input && scale.signal.has_ne43())
      append_wrapped(out_,
                     "NAMUR NE 43: a value from 3.8 to 20.5 mA, a failure up to 3.6 and from 21 mA. The "
                     "module may clip the raw count beside the range.",
                     4, 6);
    else if (is_input && !scale.signal.is_temperature())
      append_wrapped(out_, "No points outside the range: NAMUR NE 43 speaks of 4-20 mA alone.", 4, 6);
    if (scale.signal.is_temperature())
      append_wrapped(out_, "Whether a failure shows high or low is not on the drawing.", 4, 6);
    if (scale.signal.kind == SignalKind::thermocouple) cold_junction(scale);
  }

  void cold_junction(const AnalogScale& scale) {
    const std::string text = scale.cold_junction
                                 ? "These mV are for terminals at " + shortest_text(*scale.cold_junction) +
                                       " °C: E(t) - E(" + shortest_text(*scale.cold_junction) + " °C)."
                                 : "These mV are for terminals at 0 °C. --cold-junction gives those for the "
                                   "temperature that they have.";
    append_wrapped(out_, text, 4, 6);
  }

  void seen() {
    const std::string_view unit = unit_of_seen(report_);
    std::vector<Row> rows = {{"point", "expected", "seen", "error, % of span", "verdict"}};
    for (const AnalogVerdict& verdict : report_.seen) {
      rows.push_back({percent_text(verdict.point.percent), with_unit(value_text(verdict.expected), unit),
                      with_unit(shortest_text(verdict.seen), unit), error_text(verdict.error_pct),
                      verdict.is_good ? "pass" : "fail"});
    }
    out_ += "\n  Seen:\n";
    append_table(out_, 4, rows);
  }

  const AnalogReport& report_;
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
  const std::string signal = with_unit(signal_text(*verdict.point.signal), unit_of(sheet.scale->signal.kind));
  const std::string command =
      verdict.point.value ? ", " + with_unit(value_text(*verdict.point.value), drawn.unit) : "";
  AnalogRecord record;
  record.at = terminals_of(sheet.hook_up, report.graph);
  record.given = percent_text(verdict.point.percent) + (is_input ? ", " + signal : command);
  record.expected = with_unit(value_text(verdict.expected), unit_of_seen(report));
  record.value = with_unit(shortest_text(verdict.seen), unit_of_seen(report));
  record.reason = "error " + error_text(verdict.error_pct) + " % of span, tolerance " +
                  shortest_text(report.tolerance_pct) + " %";
  return record;
}

}  // namespace ringtrue
