#include "locate_words.hpp"

#include <algorithm>
#include <cmath>

#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

std::string name(PointId p, const LocateReport& report) { return report.graph.netlist().points.name(p); }

/// `1.8`, one decimal: an average is no more certain.
std::string tenths(double number) {
  const auto whole = static_cast<std::size_t>(std::lround(number * 10));
  return std::to_string(whole / 10) + (whole % 10 == 0 ? "" : "." + std::to_string(whole % 10));
}

std::string still_needed(const LocateReport& report) {
  const Located& found = report.located;
  const std::string at_most = "At most " + counted(found.left.at_most, "voltage") + " from here";
  if (report.by == SplitBy::count) return at_most + ".";
  return at_most + ", " + tenths(found.left.on_average) +
         " on average by the priors; split by count at most " + std::to_string(found.left_by_count.at_most) +
         ", " + tenths(found.left_by_count.on_average) + " on average.";
}

std::string contradictory_words(const LocateReport& report) {
  const auto& proven = report.evidence.is_proven;
  const bool has_proven = std::find(proven.begin(), proven.end(), 1) != proven.end();
  return std::string(
             "No single break gives these voltages: measure again, or look for two faults or a short") +
         (has_proven ? ", or for what came loose after it was proven." : ".");
}

std::string broken_words(const LoopSegment& broken, const LocateReport& report) {
  const bool is_element = broken.kind == SegmentKind::element;
  const std::string_view sheet = is_element ? report.graph.element_sheet(broken.element) : "";
  return "No current passes " + segment_noun(broken, report) + " from " + name(broken.from, report) + " to " +
         name(broken.to, report) + (sheet.empty() ? "" : " (sheet " + std::string(sheet) + ")") +
         (is_element ? ": missing, open, blown, or loose at a clamp." : ", or the clamps there are loose.");
}

/// Points between them show neither voltage.
std::string together_words(const LocateReport& report) {
  std::vector<std::string> nouns;
  for (const std::size_t suspect : report.located.suspects)
    nouns.push_back(segment_noun(report.loop.segments[suspect], report));
  return "The break or a poor joint is in " + any_of(nouns) + ": what lies between shows neither voltage.";
}

}  // namespace

std::string segment_noun(const LoopSegment& segment, const LocateReport& report) {
  const Channel& channel = report.graph.netlist().channels[report.loop.channel];
  switch (segment.kind) {
    case SegmentKind::element:
      return element_noun(segment.element, report.graph);
    case SegmentKind::device:
      if (segment.element != ElementId::none) return element_noun(segment.element, report.graph);
      return channel.type == ChannelType::AI ? "the transmitter or simulator" : "the device or jumper";
    case SegmentKind::module:
      return "the input itself";
  }
  return {};
}

bool is_open_at_rest(const LoopSegment& segment, const ConductionGraph& graph) {
  return segment.element != ElementId::none && graph.is_hard(segment.element) &&
         !graph.is_on_at_rest(segment.element);
}

std::string locate_outcome(const LocateReport& report) {
  const Located& found = report.located;
  const std::string minus = name(report.loop.minus(), report);
  if (found.is_contradictory) return contradictory_words(report);
  if (found.is_supply_missing)
    return "The supply shows no voltage from " + name(report.loop.plus(), report) + " to " + minus +
           ": look before it, or at the meter's minus.";
  if (found.next)
    return "Measure " + name(*found.next, report) + " to " + minus + ". " + still_needed(report);
  if (found.suspects.size() > 1) return together_words(report);
  return broken_words(report.loop.segments[found.suspects.front()], report);
}

std::vector<LoopFinding> loop_findings(const LocateReport& report) {
  std::vector<LoopFinding> all;
  if (report.findings.channels.empty()) return all;
  for (const std::size_t cluster : report.findings.channels[report.loop.channel].clusters) {
    const Diagnosis& diagnosis = report.findings.clusters[cluster].diagnoses.front();
    LoopFinding made{cluster + 1, fault_words(diagnosis.faults, report.graph, report.readings).text, {}};
    const std::vector<ElementId> accused = accused_elements(diagnosis, report.graph);
    for (std::size_t i = 0; i < report.loop.segments.size(); ++i)
      if (std::binary_search(accused.begin(), accused.end(), report.loop.segments[i].element))
        made.segments.push_back(i);
    all.push_back(std::move(made));
  }
  return all;
}

std::string not_taken_words(const LoopReadings::NotTaken& left_out, const LocateReport& report) {
  const auto why = [&]() -> std::string_view {
    switch (left_out.why) {
      case WhyNotTaken::newer:
        return "read again later";
      case WhyNotTaken::lit_since:
        return "the input was lit later";
      case WhyNotTaken::stale:
        return "a clamp of the loop was opened later";
      case WhyNotTaken::other_minus:
        return "black lead elsewhere";
      case WhyNotTaken::no_side:
        return "no side named";
      case WhyNotTaken::opened:
        return "its condition opens the loop";
      case WhyNotTaken::not_driven:
        return "nothing says that the input was driven";
    }
    return {};
  };
  return report.readings.name(left_out.reading) + " at " +
         std::string(report.readings.rows[index(left_out.reading)].from) + " (" + std::string(why()) + ")";
}

}  // namespace ringtrue::report
