#include <algorithm>
#include <array>

#include "locate_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace report {

namespace {

std::string name(PointId p, const ConductionGraph& graph) { return graph.netlist().points.name(p); }

std::string sheet_of(const LoopSegment& segment, const ConductionGraph& graph) {
  return segment.kind == SegmentKind::element ? std::string(graph.element_sheet(segment.element)) : "";
}

}  // namespace

std::string segment_noun(const LoopSegment& segment, const ConductionGraph& graph) {
  switch (segment.kind) {
    case SegmentKind::element:
      return element_noun(segment.element, graph);
    case SegmentKind::device:
      return "the device or jumper";
    case SegmentKind::module:
      return "the input itself";
  }
  return {};
}

std::string locate_outcome(const LocateReport& report) {
  const Located& found = report.located;
  const ConductionGraph& graph = report.graph;
  const std::string minus = name(report.loop.minus(), graph);
  if (found.is_contradictory)
    return "No single break gives these voltages: measure again, or look for two faults or a short.";
  if (found.is_supply_missing)
    return "The supply shows no voltage from " + name(report.loop.plus(), graph) + " to " + minus +
           ": look before it, or at the meter's minus.";
  if (found.next)
    return "Measure " + name(*found.next, graph) + " to " + minus + ". At most " +
           counted(found.further, "voltage") + " from here.";
  const LoopSegment& broken = report.loop.segments[found.suspects.front()];
  const std::string sheet = sheet_of(broken, graph);
  return "No current passes " + segment_noun(broken, graph) + " from " + name(broken.from, graph) + " to " +
         name(broken.to, graph) + (sheet.empty() ? "" : " (sheet " + sheet + ")") +
         (broken.kind == SegmentKind::element ? ": missing, open, blown, or loose at a clamp."
                                              : ", or the clamps there are loose.");
}

}  // namespace report

std::string locate_text(const LocateReport& report) {
  const ConductionGraph& graph = report.graph;
  const Channel& channel = graph.netlist().channels[report.channel];
  std::string out;
  std::string heading =
      panel_label(graph.netlist().panel) + ": dark input " + report::name(channel.point, graph);
  for (const std::string_view text : {channel.address, channel.tag, channel.text})
    if (!text.empty()) heading.append("  ").append(text);
  report::append_wrapped(out, heading, 0, 2);
  report::append_wrapped(
      out,
      "Power is on: licensed persons and the site's rules decide. Drive the input, meter minus at " +
          report::name(report.loop.minus(), graph) + ".",
      2, 4);
  out += '\n';

  std::array<std::size_t, 2> widths{};
  for (const LoopSegment& segment : report.loop.segments) {
    widths[0] = std::max(widths[0], report::shown_width(report::name(segment.from, graph)));
    widths[1] = std::max(widths[1], report::shown_width(report::segment_noun(segment, graph)));
  }
  for (std::size_t i = 0; i < report.loop.segments.size(); ++i) {
    const LoopSegment& segment = report.loop.segments[i];
    const auto& suspects = report.located.suspects;
    const bool is_suspect = std::find(suspects.begin(), suspects.end(), i) != suspects.end();
    const bool is_proven =
        segment.kind == SegmentKind::element && report.is_proven[index(segment.element)] != 0;
    std::string notes = is_suspect ? "suspect" : is_proven ? "proven" : "";
    for (const LoopVolts& measured : report.measured)
      if (measured.point == segment.from)
        notes += (notes.empty() ? "" : "; ") + report::number_text(measured.volts) + " V at " +
                 report::name(segment.from, graph);
    const std::string sheet = report::sheet_of(segment, graph);
    std::string line = "  " + report::padded(report::name(segment.from, graph), widths[0]) + "  --  " +
                       report::padded(report::segment_noun(segment, graph), widths[1]) + "  " +
                       report::padded(sheet.empty() ? "" : "sheet " + sheet, 11) + "  " + notes;
    out += line.erase(line.find_last_not_of(' ') + 1) + '\n';
  }
  out += "  " + report::name(report.loop.minus(), graph) + "\n\n";
  for (const PointId p : report.located.unclear)
    report::append_wrapped(
        out,
        report::name(p, graph) +
            " shows the voltage neither of plus nor of minus, which tells nothing: measure it again.",
        0, 2);
  report::append_wrapped(out,
                         report::counted(report.located.suspects.size(), "suspect") + " of " +
                             report::counted(report.loop.segments.size(), "segment") + ". " +
                             report::locate_outcome(report),
                         0, 2);
  return out;
}

}  // namespace ringtrue
