#include <algorithm>

#include "drive_words.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using logic::DriveVerdict;
using logic::Step;
using report::append_entry;
using report::append_wrapped;

constexpr std::string_view k_cautions =
    "Power limited and fused, motors and actuators isolated. Jumper only by the sheet of ringtrue jumper, "
    "with "
    "an insulated, fused lead; none on safety functions. Local codes, the site's isolation procedure and "
    "licensed persons decide.";

std::string seconds(std::uint32_t ms) { return report::number_text(ms / 1000.0) + " s"; }

std::string_view verdict_words(DriveVerdict verdict) {
  switch (verdict) {
    case DriveVerdict::drivable:
      return "driven through the logic";
    case DriveVerdict::substitute:
      return "only with a box of real stop devices";
    case DriveVerdict::not_testable:
      return "not testable this way";
    case DriveVerdict::unreachable:
      return "not reachable";
    case DriveVerdict::no_logic:
      break;
  }
  return "no logic";
}

class DriveText {
 public:
  explicit DriveText(const ConductionGraph& graph) : graph_(graph) {}

  [[nodiscard]] std::string write(std::string_view logic, std::span<const DrivenOutput> outputs) {
    append_wrapped(out_,
                   panel_label(graph_.netlist().panel) + ", logic " + std::string(logic) + ": " +
                       report::counted(outputs.size(), "output"),
                   0, 2);
    append_wrapped(out_, k_cautions, 0, 2);
    for (const DrivenOutput& output : outputs) one(output);
    return std::move(out_);
  }

 private:
  void one(const DrivenOutput& output) {
    const report::DriveWords words(graph_, output);
    const logic::Drive& drive = output.drive;
    const Channel& drawn = words.channel(drive.output);
    std::string line = graph_.netlist().points.name(drawn.point) + "  " + std::string(word(drawn.type));
    for (const std::string_view text : {drawn.address, drawn.tag, drawn.text})
      if (!text.empty()) line.append("  ").append(text);
    out_ += '\n' + line + '\n';
    verdict(words, output);
    const DriveVerdict reached = logic::verdict_of(drive, output.outlet);
    if (reached == DriveVerdict::no_logic || reached == DriveVerdict::not_testable) return;
    entry("responds", words.responds());
    entry("measure", words.measure());
    if (drive.steps.empty()) return;
    start(words, drive);
    steps(words, drive.steps.front().choice, drive.steps);
    pairs(words, drive);
  }

  void entry(std::string_view label, const std::string& text) {
    append_entry(out_, 2, std::string(label) + ":", 10, text);
  }

  void verdict(const report::DriveWords& words, const DrivenOutput& output) {
    const DriveVerdict verdict = logic::verdict_of(output.drive, output.outlet);
    const std::string reason = words.reason();
    entry("verdict", std::string(verdict_words(verdict)) + (reason.empty() ? "" : ": " + reason));
    if (verdict == DriveVerdict::substitute) {
      append_wrapped(out_,
                     "Never by jumpers. Per the licensed procedure, a box with real stop devices, each "
                     "channel apart from the other, logged as substitute:",
                     4, 4);
      for (const std::string& contact : words.box()) append_wrapped(out_, "- " + contact, 4, 6);
    }
    if (output.drive.oscillates)
      append_wrapped(out_, "Some input states never come to rest; they were left out.", 4, 4);
  }

  void start(const report::DriveWords& words, const logic::Drive& drive) {
    std::string text = "all inputs at rest";
    for (const std::string& held : words.at_rest()) text += "; " + held;
    entry("start", text + ": output " + (drive.steps.front().is_on ? "on" : "off"));
    if (!drive.is_exact_order)
      append_wrapped(
          out_, "Fewest input states; among them the nearest first, not proven to be the fewest changes.", 4,
          4);
  }

  /// Lines of what to do, from the second step on or from the first if it changes something.
  void steps(const report::DriveWords& words, logic::Choice before, std::span<const Step> list) {
    std::size_t number = 0;
    for (const Step& step : list) {
      if (step.kind != Step::Kind::rest)
        append_entry(out_, 4, std::to_string(++number), 3, step_words(words, before, step));
      before = step.choice;
    }
  }

  static std::string step_words(const report::DriveWords& words, const logic::Choice& before,
                                const Step& step) {
    const std::string does = step.kind == Step::Kind::wait
                                 ? "wait " + seconds(step.wait_ms)
                                 : report::joined(words.actions(before, step.choice), "; ");
    return (step.is_together ? "at the same moment: " : "") + (does.empty() ? "change nothing" : does) +
           ": output " + (step.is_on ? "on" : "off");
  }

  void pairs(const report::DriveWords& words, const logic::Drive& drive) {
    if (drive.pairs.empty() && drive.unpaired.empty()) return;
    out_ += "  each input alone decides (unique-cause MC/DC):\n";
    logic::Choice before = drive.steps.front().choice;
    for (const logic::Pair& pair : drive.pairs) {
      if (!drive.is_chained) before = pair.prior.back().choice;
      append_wrapped(out_, words.input_name(pair.variable) + prior_words(words, drive, pair), 4, 6);
      const std::uint32_t waited_ms = std::max(waited(pair.first), waited(pair.second));
      member(words, before, pair.first, waited_ms);
      before = drive.is_chained ? pair.first.back().choice : pair.prior.back().choice;
      member(words, before, pair.second, waited_ms);
      before = pair.second.back().choice;
    }
    for (const logic::Unpaired& unpaired : drive.unpaired)
      append_wrapped(out_, words.input_name(unpaired.variable) + ": no pair, " + words.cause(unpaired), 4, 6);
  }

  static std::string prior_words(const report::DriveWords& words, const logic::Drive& drive,
                                 const logic::Pair& pair) {
    if (drive.is_chained) return "";
    std::string text = ", both from rest";
    logic::Choice before = pair.prior.front().choice;
    for (const Step& step : pair.prior) {
      if (step.kind == Step::Kind::wait) text += "; then wait " + seconds(step.wait_ms);
      if (step.kind == Step::Kind::change)
        text += "; then " + report::joined(words.actions(before, step.choice), "; ");
      before = step.choice;
    }
    return text + ":";
  }

  static std::uint32_t waited(std::span<const Step> list) {
    std::uint32_t ms = 0;
    for (const Step& step : list) ms += step.wait_ms;
    return ms;
  }

  /// @param waited_ms  how long the slower member of the pair waits.
  void member(const report::DriveWords& words, logic::Choice before, std::span<const Step> list,
              std::uint32_t waited_ms) {
    std::string text;
    for (const Step& step : list) {
      text += (text.empty() ? "" : "; ") + step_words(words, before, step);
      before = step.choice;
    }
    if (waited(list) < waited_ms) text += ", and still after " + seconds(waited_ms);
    append_entry(out_, 6, "-", 2, text);
  }

  const ConductionGraph& graph_;
  std::string out_;
};

}  // namespace

std::string drive_text(const ConductionGraph& graph, std::string_view logic,
                       std::span<const DrivenOutput> outputs) {
  return DriveText(graph).write(logic, outputs);
}

}  // namespace ringtrue
