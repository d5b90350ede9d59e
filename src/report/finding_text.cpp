#include "finding_text.hpp"

#include <algorithm>
#include <cmath>

#include "next_words.hpp"
#include "notes_text.hpp"
#include "ringtrue/report/as_built_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"
#include "value_words.hpp"

namespace ringtrue::report {

namespace {

constexpr std::size_t k_few_readings = 8;
constexpr std::size_t k_few_alternatives = 6;
constexpr std::size_t k_few_equivalents = 4;
constexpr double k_share_shown =
    0.95;  ///< alternatives are listed until they and the likeliest add up to this
constexpr double k_least_shown = 0.01;  ///< ... and down to this; hundreds of remote ones would hide the rest

}  // namespace

std::string per_cent(double share) {
  const long rounded = std::lround(share * 100);
  if (share < 0.01) return "under 1%";
  if (rounded == 100 && share < 1) return "over 99%";
  return std::to_string(rounded) + "%";
}

std::string share_text(double share) {
  if (share >= 0.01 || share <= 0) return number_text(share * 100) + "%";
  std::string whole = std::to_string(std::llround(1 / share));
  for (std::size_t from_end = 3; from_end < whole.size(); from_end += 4)
    whole.insert(whole.size() - from_end, ",");
  return "1/" + whole;
}

std::size_t FindingText::at_most(std::size_t few, std::size_t all) const {
  // One more than few is listed rather than announced: the announcement takes a line as well.
  return detail_ == Detail::everything || all <= few + 1 ? all : few;
}

void FindingText::append(std::string& out, std::size_t number) {
  const Cluster& cluster = report_.findings.clusters[number];
  append_heading(out, number);
  if (cluster.diagnoses.empty()) {
    append_unexplained(out, cluster);
    return;
  }
  const Diagnosis& first = cluster.diagnoses.front();
  append_likeliest(out, first);
  for (const FaultWords& words : words_of(first))
    if (!words.drawing.empty()) append_wrapped(out, "Or the drawing is wrong: " + words.drawing, 2, 4);
  append_decision(out, number);
  out += "  Explains " + counted(cluster.readings.size(), "reading") + ":\n";
  append_readings(out, cluster, at_most(k_few_readings, cluster.readings.size()));
  append_values(out, first);
  append_equivalent(out, first);
  append_alternatives(out, cluster);
  if (cluster.too_many)
    append_wrapped(
        out,
        "Or one of more places than can be listed, which together may be likelier: a wire landed "
        "elsewhere, or a short. Part the circuits (fuses out, links open) and read again to narrow "
        "it down.",
        2, 4);
  append_next(out, number);
}

void FindingText::append_short(std::string& out, std::size_t number) {
  const Cluster& cluster = report_.findings.clusters[number];
  append_heading(out, number);
  if (cluster.diagnoses.empty()) return append_unexplained(out, cluster);
  append_likeliest(out, cluster.diagnoses.front());
  const std::vector<FaultWords> all = words_of(cluster.diagnoses.front());
  if (std::any_of(all.begin(), all.end(), [](const FaultWords& words) { return !words.drawing.empty(); }))
    out += "  Or the drawing is wrong.\n";
  append_next(out, number);
}

void FindingText::append_heading(std::string& out, std::size_t number) const {
  const Findings& findings = report_.findings;
  const std::vector<Diagnosis>& diagnoses = findings.clusters[number].diagnoses;
  out += "Finding " + std::to_string(number + 1) + " of " + std::to_string(findings.clusters.size());
  if (diagnoses.size() > 1) out += ", likelihood " + per_cent(diagnoses.front().probability);
  out += '\n';
}

void FindingText::append_decision(std::string& out, std::size_t number) const {
  const DecidedFinding* decided = decided_of(report_.decided, number);
  if (decided == nullptr) return;
  const std::vector<Fault>& likeliest = report_.findings.clusters[number].diagnoses.front().faults;
  std::string text = decision_words(report_.decisions->rows[decided->decision]);
  if (decided->faults != likeliest)
    text += ". It is about another explanation: " +
            fault_words(decided->faults, report_.graph, report_.readings).text;
  append_wrapped(out, text, 2, 4);
}

void FindingText::append_next(std::string& out, std::size_t number) const {
  if (report_.next.empty() || report_.next[number].state != NextState::reading) return;
  append_wrapped(
      out,
      next_in_short(report_.next[number], report_.findings.clusters[number], report_.graph, report_.readings),
      2, 4);
}

std::vector<FaultWords> FindingText::words_of(const Diagnosis& diagnosis) const {
  std::vector<FaultWords> all;
  for (const Fault& fault : diagnosis.faults)
    all.push_back(fault_words(fault, report_.graph, report_.readings));
  return all;
}

void FindingText::append_likeliest(std::string& out, const Diagnosis& diagnosis) const {
  const std::vector<FaultWords> all = words_of(diagnosis);
  if (all.size() > 1) append_wrapped(out, counted(all.size(), "fault") + " together:", 2, 4);
  for (const FaultWords& words : all) append_wrapped(out, words.text, 2, 4);
  for (const FaultWords& words : all)
    append_wrapped(out, std::string(remedy_label(diagnosis)) + ": " + words.action, 2, 6);
}

void FindingText::append_readings(std::string& out, const Cluster& cluster, std::size_t shown) {
  const auto readings = std::span(cluster.readings).first(shown);
  std::size_t name_width = 0;
  std::size_t points_width = 0;
  for (const ReadingId reading : readings) {
    name_width = std::max(name_width, shown_width(reading_label(report_.readings, reading)));
    points_width = std::max(points_width, shown_width(words_.points(reading)));
  }
  for (const ReadingId reading : readings) {
    const std::string line = padded(reading_label(report_.readings, reading), name_width) + "  " +
                             padded(words_.points(reading), points_width) + "  " +
                             words_.read_and_expected(reading);
    const std::string condition = words_.condition(reading, detail_);
    const bool fits = 4 + shown_width(line) + 2 + 2 + shown_width(condition) <= k_line_width;
    out += "    " + line + (condition.empty() || !fits ? "" : "  (" + condition + ")") + '\n';
    if (!fits) append_wrapped(out, "(" + condition + ")", 6 + name_width, 7 + name_width);
  }
  if (shown < cluster.readings.size())
    out += "    and " + std::to_string(cluster.readings.size() - shown) + " more\n";
}

/// What the readings in ohms then show: two coils in parallel, say.
void FindingText::append_values(std::string& out, const Diagnosis& diagnosis) const {
  const auto& values = diagnosis.in_ohms;
  for (std::size_t i = 0; i < values.size();) {
    const ExplainedOhms& value = values[i];
    std::vector<std::string> names;
    for (; i < values.size() && range_text(values[i].ohms) == range_text(value.ohms) &&
           values[i].loads == value.loads;
         ++i)
      names.push_back(reading_label(report_.readings, values[i].reading));
    if (value.ohms.hi == k_infinite_ohms || value.loads.empty()) continue;
    append_wrapped(out,
                   "With this, " + joined(names) + (names.size() == 1 ? " shows " : " show ") +
                       range_text(value.ohms) + ": " + ways_words(value.loads, report_.graph) + ".",
                   2, 4);
  }
}

void FindingText::append_equivalent(std::string& out, const Diagnosis& diagnosis) const {
  // That an open may be a joint too bad for the buzzer goes without saying: what to do is the same.
  std::vector<const std::vector<Fault>*> others;
  for (const std::vector<Fault>& faults : diagnosis.equivalent)
    if (std::none_of(faults.begin(), faults.end(), [](const Fault& fault) { return fault.above; }))
      others.push_back(&faults);
  if (others.empty()) return;
  const std::size_t shown = at_most(k_few_equivalents, others.size());
  out += "  No reading can tell this from:\n";
  for (std::size_t i = 0; i < shown; ++i)
    append_wrapped(out, fault_words(*others[i], report_.graph, report_.readings).text, 4, 6);
  if (shown < others.size()) out += "    and " + std::to_string(others.size() - shown) + " more\n";
}

std::size_t FindingText::diagnoses_shown(const Cluster& cluster) const {
  if (detail_ == Detail::everything) return cluster.diagnoses.size();
  double covered = cluster.diagnoses.front().probability;
  std::size_t shown = 1;
  for (; shown < cluster.diagnoses.size() && shown <= k_few_alternatives; ++shown) {
    const Diagnosis& next = cluster.diagnoses[shown];
    const bool is_needed = covered < k_share_shown && next.probability >= k_least_shown;
    if (next.rank != 1 && !is_needed) break;
    covered += next.probability;
  }
  return shown;
}

std::string FindingText::alternative_words(const Diagnosis& diagnosis) const {
  std::string text = fault_words(diagnosis.faults, report_.graph, report_.readings).text;
  if (diagnosis.also_explains.empty()) return text;
  std::vector<std::string> numbers;
  for (const std::size_t other : diagnosis.also_explains) numbers.push_back(std::to_string(other + 1));
  return text + " This would explain finding" + (numbers.size() == 1 ? " " : "s ") + joined(numbers) +
         " as well.";
}

void FindingText::append_alternatives(std::string& out, const Cluster& cluster) const {
  const std::size_t shown = diagnoses_shown(cluster);
  const std::size_t left = cluster.diagnoses.size() - shown;
  if (shown > 1) out += "  Other explanations:\n";
  std::size_t width = 0;
  for (std::size_t i = 1; i < shown; ++i)
    width = std::max(width, per_cent(cluster.diagnoses[i].probability).size());
  for (std::size_t i = 1; i < shown; ++i) {
    const Diagnosis& other = cluster.diagnoses[i];
    append_entry(out, 4, per_cent(other.probability), width, alternative_words(other));
  }
  if (left == 0) return;
  double rest = 0;
  for (std::size_t i = shown; i < cluster.diagnoses.size(); ++i) rest += cluster.diagnoses[i].probability;
  out += "  " + std::to_string(left) + (shown > 1 ? " more" : " other") +
         (left == 1 ? " explanation, " : " explanations, ") + per_cent(rest) + (left == 1 ? "" : " in all") +
         " (compare --all shows " + (left == 1 ? "it" : "them") + ")\n";
}

void FindingText::append_unexplained(std::string& out, const Cluster& cluster) {
  const bool is_one = cluster.readings.size() == 1;
  const std::size_t within = std::min(cluster.complete_up_to, report_.options.max_faults);
  const std::string searched = within == 0 ? "The search was cut short before it found what explains "
                                           : "Nothing within " + counted(within, "fault") + " explains ";
  append_wrapped(out,
                 searched + (is_one ? "this reading" : "these readings") + " beside those that agree. Take " +
                     (is_one ? "it" : "them") + " again:",
                 2, 4);
  append_readings(out, cluster, cluster.readings.size());
  if (cluster.contradiction.empty() || cluster.contradiction.size() == cluster.readings.size()) return;
  std::vector<std::string> names;
  for (const ReadingId reading : cluster.contradiction)
    names.push_back(reading_label(report_.readings, reading));
  append_wrapped(out,
                 "Begin with " + joined(names) + ": these contradict each other by themselves, beside the " +
                     "readings that agree, and no fewer of them do.",
                 2, 4);
}

}  // namespace ringtrue::report

namespace ringtrue {

std::string finding_text(const CompareReport& report, std::size_t number, Detail detail) {
  std::string text;
  report::FindingText(report, detail).append(text, number);
  return text;
}

std::string finding_in_short(const CompareReport& report, std::size_t number) {
  std::string text;
  report::FindingText(report, Detail::short_lists).append_short(text, number);
  return text;
}

}  // namespace ringtrue
