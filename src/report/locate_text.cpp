#include <algorithm>
#include <array>

#include "input_volts.hpp"
#include "locate_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_wrapped;

class LocateText {
 public:
  LocateText(const LocateReport& report, Detail detail)
      : report_(report),
        detail_(detail),
        graph_(report.graph),
        channel_(report.graph.netlist().channels[report.loop.channel]),
        findings_(report::loop_findings(report)) {}

  [[nodiscard]] std::string write() {
    heading();
    for (const report::LoopFinding& finding : findings_)
      append_wrapped(out_, "Finding " + std::to_string(finding.number) + " lies on it: " + finding.text, 2,
                     4);
    readings();
    out_ += '\n';
    loop();
    out_ += '\n';
    outcome();
    return std::move(out_);
  }

 private:
  void heading() {
    std::string heading = panel_label(graph_.netlist().panel) +
                          (channel_.type == ChannelType::AI ? ": input without current " : ": dark input ") +
                          name(channel_.point);
    for (const std::string_view text : {channel_.address, channel_.tag, channel_.text})
      if (!text.empty()) heading.append("  ").append(text);
    append_wrapped(out_, heading, 0, 2);
    append_wrapped(out_, "Power is on: licensed persons and the site's rules decide.", 2, 4);
    append_wrapped(
        out_, how_driven() + " Meter minus at " + name(report_.loop.minus()) + ", the supply's own.", 2, 4);
  }

  [[nodiscard]] std::string how_driven() const {
    if (has_role())
      return "A stop, guard or protective circuit: only its own device drives the input, never a jumper.";
    return std::string("Drive the input; ") + (channel_.type == ChannelType::AI ? "analog" : "jumper") +
           " says how.";
  }

  [[nodiscard]] bool has_role() const {
    if (channel_.role != Role::none) return true;
    const auto& segments = report_.loop.segments;
    return std::any_of(segments.begin(), segments.end(), [&](const LoopSegment& segment) {
      if (segment.element == ElementId::none) return false;
      const ElementOrigin origin = graph_.origin(segment.element);
      if (origin.from == ElementOrigin::From::conductor)
        return graph_.netlist().conductors[origin.row].role != Role::none;
      return origin.from == ElementOrigin::From::part &&
             graph_.netlist().parts[origin.row].role != Role::none;
    });
  }

  void readings() {
    std::vector<std::string> taken, left_out;
    for (const auto& [reading, volts] : report_.loop_readings.taken)
      if (is_measured(volts)) taken.push_back(report_.readings.name(reading) + " at " + name(volts.point));
    for (const LoopReadings::NotTaken& each : report_.loop_readings.not_taken)
      if (detail_ == Detail::everything || each.why != WhyNotTaken::newer)
        left_out.push_back(report::not_taken_words(each, report_));
    constexpr std::size_t k_shown = 4;
    if (detail_ == Detail::short_lists && left_out.size() > k_shown + 1) {
      const std::size_t more = left_out.size() - k_shown;
      left_out.resize(k_shown);
      left_out.push_back(std::to_string(more) + " more");
    }
    if (!taken.empty())
      append_wrapped(out_, "Voltages taken from readings: " + report::joined(taken) + ".", 2, 4);
    if (!left_out.empty()) append_wrapped(out_, "Not taken: " + report::joined(left_out) + ".", 2, 4);
    if (!report_.loop_readings.seen) return;
    const ReadingId seen = *report_.loop_readings.seen;
    const bool is_lit = report_.readings.rows[index(seen)].value.kind == ValueKind::lit;
    append_wrapped(
        out_,
        report_.readings.name(seen) +
            (is_lit ? " found it lit: if it still is, there is nothing to locate." : " found it dark."),
        2, 4);
  }

  /// A value given at the call stands in place of an older one.
  [[nodiscard]] bool is_measured(const LoopVolts& volts) const {
    return std::any_of(report_.measured.begin(), report_.measured.end(), [&](const LoopVolts& each) {
      return each.point == volts.point && each.volts == volts.volts;
    });
  }

  void loop() {
    const auto& segments = report_.loop.segments;
    std::array<std::size_t, 3> widths{};
    for (const LoopSegment& segment : segments) {
      widths[0] = std::max(widths[0], report::shown_width(name(segment.from)));
      widths[1] = std::max(widths[1], report::shown_width(report::segment_noun(segment, report_)));
      widths[2] = std::max(widths[2], report::shown_width(sheet(segment)));
    }
    for (std::size_t i = 0; i < segments.size(); ++i) {
      std::string line = "  " + report::padded(name(segments[i].from), widths[0]) + "  --  " +
                         report::padded(report::segment_noun(segments[i], report_), widths[1]) + "  " +
                         report::padded(sheet(segments[i]), widths[2]) + "  " +
                         report::joined(notes(i), "; ");
      out_ += line.erase(line.find_last_not_of(' ') + 1) + '\n';
    }
    out_ += "  " + name(report_.loop.minus()) + '\n';
  }

  [[nodiscard]] std::string sheet(const LoopSegment& segment) const {
    const std::string_view sheet =
        segment.element == ElementId::none ? "" : graph_.element_sheet(segment.element);
    return sheet.empty() ? "" : "sheet " + std::string(sheet);
  }

  [[nodiscard]] std::vector<std::string> notes(std::size_t i) const {
    const LoopSegment& segment = report_.loop.segments[i];
    const auto holds = [i](const std::vector<std::size_t>& list) {
      return std::find(list.begin(), list.end(), i) != list.end();
    };
    std::vector<std::string> notes;
    for (const LoopVolts& measured : report_.measured)
      if (measured.point == segment.from)
        notes.push_back(report::number_text(measured.volts) + " V at " + name(segment.from));
    if (report_.evidence.is_proven[i] != 0) notes.emplace_back("proven");
    if (report::is_open_at_rest(segment, graph_)) notes.emplace_back("open at rest");
    if (holds(report_.located.suspects)) notes.emplace_back("suspect");
    for (const report::LoopFinding& finding : findings_)
      if (holds(finding.segments)) notes.push_back("finding " + std::to_string(finding.number));
    return notes;
  }

  void unclear(PointId point) {
    std::string text = name(point) + " shows the voltage neither of plus nor of minus: measure it again.";
    for (const LoopVolts& measured : report_.measured) {
      if (measured.point != point) continue;
      if (measured.volts < 0)
        text += " It reads below 0 V: the leads are exchanged (black is at " + name(report_.loop.minus()) +
                "), or the supply is.";
      else if (point == channel_.point && channel_.type == ChannelType::DI)
        text += " To the input's common, " + report::number_text(measured.volts) + " V " +
                report::input_state_words(measured.volts) + " (IEC 61131-2, from memory).";
    }
    append_wrapped(out_, text, 0, 2);
  }

  void outcome() {
    for (const PointId p : report_.located.unclear) unclear(p);
    const std::size_t suspects = report_.located.suspects.size();
    const std::string count = report::counted(suspects, "suspect") + " of " +
                              report::counted(report_.loop.segments.size(), "segment") + ". ";
    append_wrapped(out_, (suspects == 0 ? "" : count) + report::locate_outcome(report_), 0, 2);
  }

  [[nodiscard]] std::string name(PointId p) const { return graph_.netlist().points.name(p); }

  const LocateReport& report_;
  Detail detail_;
  const ConductionGraph& graph_;
  const Channel& channel_;
  std::vector<report::LoopFinding> findings_;
  std::string out_;
};

}  // namespace

std::string locate_text(const LocateReport& report, Detail detail) {
  return LocateText(report, detail).write();
}

}  // namespace ringtrue
