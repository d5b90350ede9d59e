#include <algorithm>

#include "element_words.hpp"
#include "reading_words.hpp"
#include "ringtrue/report/expect_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"
#include "value_words.hpp"
#include "way_words.hpp"

namespace ringtrue {

namespace {

using report::append_wrapped;

constexpr std::size_t k_few_causes = 6;
constexpr std::size_t k_few_hidden = 6;

class ExpectText {
 public:
  ExpectText(const ExpectReport& report, Detail detail)
      : report_(report), graph_(report.graph), detail_(detail) {}

  [[nodiscard]] std::string write() {
    heading();
    values();
    ways();
    for (const ExpectReport::WithMeter& with : report_.meters) {
      either(with);
      hidden(with);
    }
    out_ += '\n';
    append_wrapped(
        out_,
        "Prove dead before any continuity reading. Local codes, the site's isolation procedure and "
        "licensed persons decide.",
        0, 0);
    return std::move(out_);
  }

 private:
  void heading();
  void values();
  void ways();
  void either(const ExpectReport::WithMeter& with);
  void hidden(const ExpectReport::WithMeter& with);
  void steps(const ExpectReport::WithMeter& with, std::string_view purpose, std::string_view result);
  [[nodiscard]] const Expectation& first() const { return report_.meters.front().expectation; }
  /// ` with meter M1`, where there are several.
  [[nodiscard]] std::string of_meter(const ExpectReport::WithMeter& with) const {
    return report_.meters.size() == 1 ? "" : " with meter " + with.meter;
  }

  const ExpectReport& report_;
  const ConductionGraph& graph_;
  Detail detail_;
  std::string out_;
};

void ExpectText::heading() {
  const std::string condition = report::condition_words(report_.when, detail_);
  append_wrapped(out_,
                 panel_label(graph_.netlist().panel) + ": " + report_.from + " (red lead) to " + report_.to +
                     " (black lead), " + (condition.empty() ? "at rest" : condition),
                 0, 2);
}

std::string_view buzzer_words(Buzzer buzzer) {
  switch (buzzer) {
    case Buzzer::beeps:
      return "beeps";
    case Buzzer::silent:
      return "does not beep";
    case Buzzer::either:
      break;
  }
  return "may beep or not";
}

void ExpectText::values() {
  out_ += '\n';
  constexpr std::size_t k_label = 10;
  std::string ohms = report::range_text(first().ohms);
  if (first().ohms.is_open()) ohms = "open: nothing conducts between them";
  report::append_entry(out_, 2, "resistance", k_label, ohms);
  if (report_.exchanged && report::range_text(*report_.exchanged) != report::range_text(first().ohms))
    report::append_entry(out_, 2, "", k_label,
                         "with the leads exchanged: " + report::range_text(*report_.exchanged));
  for (const ExpectReport::WithMeter& with : report_.meters) {
    std::string line(buzzer_words(with.expectation.buzzer));
    line.append(" (it sounds up to ").append(report::ohms_text(with.settings.threshold));
    if (with.settings.lead_ohms && *with.settings.lead_ohms > Ohms{0})
      line.append(", ").append(report::ohms_text(*with.settings.lead_ohms)).append(" of leads included");
    line.append(with.meter.empty() ? ")" : ", meter " + with.meter + ")");
    report::append_entry(out_, 2, "buzzer", k_label, line);
  }
  if (first().ohms.hi != first().to_buzzer.hi && first().buzzer == Buzzer::beeps)
    append_wrapped(out_,
                   "For the buzzer, what has no value on the drawing counts together as at most " +
                       report::ohms_text(Ohms{k_default_path_ohms}) + " of a copper way.",
                   2, 2);
}

void ExpectText::ways() {
  const std::vector<Way>& all = first().ways;
  if (all.empty()) return;
  out_ += '\n';
  if (all.front().edges.empty()) {
    out_ += "Both leads are on the same point.\n";
    return;
  }
  if (all.front().is_copper) {
    out_ += "Copper joins them:\n";
    report::append_walk(out_, 2, report::walk_of(all.front(), graph_));
    return;
  }
  const bool several = all.size() > 1 || first().has_more_ways;
  append_wrapped(out_,
                 several ? "No copper joins them, but current finds ways through loads, in parallel:"
                         : "No copper joins them, but current finds a way through loads:",
                 0, 2);
  for (std::size_t i = 0; i < all.size(); ++i) {
    // The first is told in full; of the others, the loads that set them apart.
    const bool in_full = i == 0 || detail_ == Detail::everything;
    const std::string label = "way " + std::to_string(i + 1) + ", " + report::range_text(all[i].ohms);
    if (!in_full) {
      append_wrapped(out_, label + ", through " + report::loads_words(all[i], graph_), 2, 4);
      continue;
    }
    if (several) append_wrapped(out_, label + ":", 2, 4);
    report::append_walk(out_, several ? 4 : 2, report::walk_of(all[i], graph_));
  }
  if (first().has_more_ways) append_wrapped(out_, "and more of higher resistance", 2, 4);
}

void ExpectText::either(const ExpectReport::WithMeter& with) {
  const Expectation& made = with.expectation;
  if (made.buzzer != Buzzer::either) return;
  out_ += '\n';
  if (made.causes.empty())
    append_wrapped(out_,
                   "Whether it beeps" + of_meter(with) + " depends on values that the drawing doesn't give.",
                   0, 2);
  else
    append_wrapped(out_,
                   "Whether it beeps" + of_meter(with) + " depends on " +
                       report::list_of(made.causes, graph_, k_few_causes) + ".",
                   0, 2);
  if (made.steps)
    steps(with, "To be certain", buzzer_words(made.after_steps));
  else if (made.ways.front().is_copper)
    append_wrapped(out_, "Nothing to lift or pull settles that: read it in ohms.", 0, 2);
  else
    append_wrapped(
        out_,
        "Up to " + std::to_string(k_max_steps) +
            " lifts or pulls that leave the clamps under the probes alone don't settle that: read it "
            "in ohms, or lift more.",
        0, 2);
}

void ExpectText::hidden(const ExpectReport::WithMeter& with) {
  const Expectation& made = with.expectation;
  if (made.buzzer != Buzzer::beeps || made.hidden.empty()) return;
  out_ += '\n';
  append_wrapped(out_, "A beep" + of_meter(with) + " would not show a break of all of it:", 0, 2);
  const std::size_t shown = detail_ == Detail::everything || made.hidden.size() <= k_few_hidden + 1
                                ? made.hidden.size()
                                : k_few_hidden;
  for (std::size_t i = 0; i < shown; ++i) {
    const HiddenBreak& broken = made.hidden[i];
    const bool several = broken.elements.size() > 1;
    append_wrapped(
        out_,
        report::capitalised(report::list_of(broken.elements, graph_, k_few_causes)) +
            (several ? ": any of them broken, it still may beep by " : ": broken, it still may beep by ") +
            report::elements_aside(broken.second, made.ways.front(), graph_) + " (" +
            report::range_text(broken.second.ohms) + ").",
        2, 4);
  }
  if (shown < made.hidden.size())
    append_wrapped(out_, std::to_string(made.hidden.size() - shown) + " more (--all shows them)", 2, 4);
  if (made.steps)
    steps(with, "For a beep to prove all of it", "");
  else
    append_wrapped(
        out_, "Up to " + std::to_string(k_max_steps) + " lifts or pulls don't make a beep prove it.", 0, 2);
}

void ExpectText::steps(const ExpectReport::WithMeter& with, std::string_view purpose,
                       std::string_view result) {
  const Steps& fewest = *with.expectation.steps;
  std::string line = std::string(purpose) + ", " + report::steps_words(fewest.settings, graph_);
  if (!result.empty()) line += ": then it " + std::string(result);
  line += " (--when \"" + (report_.when.empty() ? "" : report_.when + "; ") +
          report::joined(fewest.settings, "; ") + "\").";
  if (!fewest.searched_whole)
    line += " There may be less to do.";
  else if (fewest.settings.size() > 1)
    line += " Nothing less does.";
  append_wrapped(out_, line, 0, 2);
}

}  // namespace

std::string expect_text(const ExpectReport& report, Detail detail) {
  return ExpectText(report, detail).write();
}

}  // namespace ringtrue
