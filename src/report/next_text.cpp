#include <algorithm>
#include <cmath>

#include "element_words.hpp"
#include "finding_text.hpp"
#include "next_words.hpp"
#include "reading_words.hpp"
#include "ringtrue/report/next_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_entry;
using report::append_wrapped;
using report::counted;
using report::per_cent;

constexpr std::size_t k_few_left = 4;

class NextText {
 public:
  NextText(const NextReport& report, Detail detail) : report_(report), detail_(detail) {}

  [[nodiscard]] std::string write() {
    summary();
    for (std::size_t i = 0; i < report_.next.size(); ++i) finding(i);
    closing();
    return std::move(out_);
  }

 private:
  void summary();
  void finding(std::size_t number);
  void reading(const Cluster& cluster, const NextReading& next);
  void place(const std::string& point, PointId p);
  void outcome(const Cluster& cluster, const NextReading& next, const NextOutcome& outcome);
  void remedy(const Cluster& cluster);
  void unexplained(const Cluster& cluster);
  void closing();
  [[nodiscard]] FaultWords words(const Diagnosis& diagnosis) const {
    return fault_words(diagnosis.faults, report_.graph, report_.readings);
  }
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const {
    return detail_ == Detail::everything || all <= few + 1 ? all : few;
  }
  [[nodiscard]] std::size_t count(NextState state) const {
    return static_cast<std::size_t>(std::count_if(report_.next.begin(), report_.next.end(),
                                                  [&](const NextReading& n) { return n.state == state; }));
  }

  const NextReport& report_;
  Detail detail_;
  std::string out_;
};

void NextText::summary() {
  append_wrapped(out_,
                 panel_label(report_.graph.netlist().panel) + ": " + counted(report_.next.size(), "finding"),
                 0, 2);
  if (report_.next.empty()) {
    append_wrapped(out_, "Nothing to tell apart: no reading contradicts this revision of the drawing.", 2, 2);
    return;
  }
  append_wrapped(out_, counted(count(NextState::reading), "reading") + " to take next", 2, 2);
}

void NextText::finding(std::size_t number) {
  const Cluster& cluster = report_.findings.clusters[number];
  const NextReading& next = report_.next[number];
  out_ += "\nFinding " + std::to_string(number + 1) + " of " + std::to_string(report_.next.size());
  if (cluster.diagnoses.size() > 1) out_ += ", " + counted(cluster.diagnoses.size(), "explanation");
  out_ += '\n';
  switch (next.state) {
    case NextState::unexplained:
      return unexplained(cluster);
    case NextState::one_explanation:
      append_wrapped(out_, "One explanation: nothing is left to tell apart.", 2, 4);
      return remedy(cluster);
    case NextState::one_remedy:
      append_wrapped(out_, "All of them call for the same work: nothing is left to tell apart.", 2, 4);
      return remedy(cluster);
    case NextState::inseparable:
      append_wrapped(out_, "None of the readings tried tells them apart. Begin with the likeliest:", 2, 4);
      return remedy(cluster);
    case NextState::reading:
      return reading(cluster, next);
  }
}

void NextText::reading(const Cluster& cluster, const NextReading& next) {
  const NextPoints points = points_of(next, report_.graph, report_.readings);
  std::string line = "Read " + points.from + " to " + points.to;
  if (next.again != ReadingId::none)
    line += " again, as " + report::reading_label(report_.readings, next.again);
  line += next.in_ohms ? ", in ohms" : ", with the buzzer";
  if (!next.conditions.empty()) line += "; " + condition_words(next.conditions, detail_);
  append_wrapped(out_, line + ".", 2, 4);
  place(points.from, next.from);
  place(points.to, next.to);
  for (const NextOutcome& one : next.outcomes) outcome(cluster, next, one);
  const std::string to_do = to_be_done(next.conditions, detail_);
  append_wrapped(out_,
                 to_do.empty() ? "Effort: one reading, nothing to open or to operate."
                               : "Effort: " + to_do + "; put it back afterwards.",
                 2, 4);
  const std::size_t considered = std::min(cluster.diagnoses.size(), NextOptions{}.max_diagnoses);
  double rest = 0;
  for (std::size_t i = considered; i < cluster.diagnoses.size(); ++i)
    rest += cluster.diagnoses[i].probability;
  const std::size_t left_out = cluster.diagnoses.size() - considered;
  if (left_out != 0)
    append_wrapped(out_,
                   "Left out of account: " + counted(left_out, "less likely explanation") + ", " +
                       per_cent(rest) + (left_out == 1 ? "." : " in all."),
                   2, 4);
}

void NextText::place(const std::string& point, PointId p) {
  const std::string place = point_place(p, report_.graph, detail_);
  if (!place.empty()) append_wrapped(out_, point + ": " + place, 4, 6);
}

void NextText::outcome(const Cluster& cluster, const NextReading& next, const NextOutcome& outcome) {
  const std::string read = report::capitalised(report::what_is_read(next, outcome));
  const std::string heading = read + " (likelihood " + per_cent(outcome.probability) + ")";
  if (outcome.left.size() == 1) {
    append_wrapped(out_, heading + ": " + words(cluster.diagnoses[outcome.left.front().diagnosis]).text, 2,
                   4);
    return;
  }
  append_wrapped(out_, heading + " leaves " + std::to_string(outcome.left.size()) + ":", 2, 4);
  const std::size_t shown = at_most(k_few_left, outcome.left.size());
  std::size_t width = 0;
  for (std::size_t i = 0; i < shown; ++i)
    width = std::max(width, per_cent(outcome.left[i].probability).size());
  for (std::size_t i = 0; i < shown; ++i)
    append_entry(out_, 4, per_cent(outcome.left[i].probability), width,
                 words(cluster.diagnoses[outcome.left[i].diagnosis]).text);
  double rest = 0;
  for (std::size_t i = shown; i < outcome.left.size(); ++i) rest += outcome.left[i].probability;
  if (shown < outcome.left.size())
    out_ += "    " + std::to_string(outcome.left.size() - shown) + " more, " + per_cent(rest) +
            " in all (--all shows them)\n";
}

void NextText::remedy(const Cluster& cluster) {
  const FaultWords first = words(cluster.diagnoses.front());
  append_wrapped(out_, first.text, 2, 4);
  append_wrapped(out_, std::string(remedy_label(cluster.diagnoses.front())) + ": " + first.action, 2, 6);
}

void NextText::unexplained(const Cluster& cluster) {
  std::vector<std::string> names;
  for (const ReadingId reading : cluster.readings)
    names.push_back(report::reading_label(report_.readings, reading));
  const std::size_t within = std::min(cluster.complete_up_to, report_.options.max_faults);
  const std::string searched = within == 0 ? "The search was cut short before it found what explains it."
                                           : "Nothing within " + counted(within, "fault") + " explains it.";
  append_wrapped(out_, searched + " Take again: " + report::joined(names) + ".", 2, 4);
}

void NextText::closing() {
  out_ += '\n';
  if (count(NextState::reading) != 0)
    append_wrapped(
        out_,
        "Add what the meter shows to the file of readings and ask again. The per cents are shares of "
        "the explanations that compare lists; among the readings tried, the one shown promises to find "
        "the remedy with the least effort.",
        0, 0);
  append_wrapped(out_,
                 "Prove dead before any continuity reading. Local codes, the site's isolation procedure and "
                 "licensed persons decide.",
                 0, 0);
}

}  // namespace

std::string next_text(const NextReport& report, Detail detail) { return NextText(report, detail).write(); }

}  // namespace ringtrue
