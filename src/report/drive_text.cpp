#include <algorithm>

#include "drive_lines.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "ringtrue/report/words.hpp"
#include "stop_words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using logic::DriveVerdict;
using report::append_entry;
using report::append_wrapped;

constexpr std::string_view k_cautions =
    "Power limited and fused, motors and actuators isolated. A jumper is an insulated, fused test lead; none "
    "on "
    "safety functions. Local codes, the site's isolation procedure and licensed persons decide.";

constexpr std::string_view k_record =
    "To record an output: ringtrue log JOB, then io TAG logic pass (or fail), with the box of real stop "
    "devices io "
    "TAG substitute pass.";

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
  explicit DriveText(const DriveReport& report) : report_(report), graph_(report.graph) {}

  [[nodiscard]] std::string write() {
    append_wrapped(out_,
                   panel_label(graph_.netlist().panel) + ", logic " + std::string(report_.logic) + ": " +
                       report::counted(report_.outputs.size(), "output"),
                   0, 2);
    append_wrapped(out_, k_cautions, 0, 2);
    append_wrapped(out_, k_record, 0, 2);
    fitted();
    for (const logic::StopCircuit& circuit : report_.circuits) stop_circuit(circuit);
    for (const DrivenOutput& output : report_.outputs) one(output);
    return std::move(out_);
  }

 private:
  void fitted() {
    const auto channels = report::fitted_channels(report_);
    if (channels.empty()) return;
    out_ += "\nJumpers and simulators used, by their tags below (ringtrue jumper, ringtrue analog):\n";
    std::size_t width = 0;
    const auto name = [&](std::size_t channel) {
      const Channel& drawn = graph_.netlist().channels[channel];
      return std::string(drawn.tag.empty() ? drawn.address : drawn.tag);
    };
    for (const auto& [channel, how] : channels) width = std::max(width, name(channel).size() + 2);
    bool is_any_held = false;
    for (const auto& [channel, how] : channels) {
      const InputTest& test = report_.fittings.tests[channel];
      is_any_held |= test.jumper && test.jumper->answer == JumperAnswer::hold;
      append_entry(out_, 2, name(channel), width, report::judged_fitting_words(channel, report_));
    }
    if (is_any_held)
      append_wrapped(
          out_, "hold: not before what is named has been read or checked; --done READINGS, or a job.", 2, 4);
  }

  void entry(std::string_view label, const std::string& text) {
    append_entry(out_, 2, std::string(label) + ":", 11, text);
  }

  void line(std::size_t number, const std::string& act, const std::string& expect) {
    append_entry(out_, 2, "[ ] " + std::to_string(number), 8, act + ": " + expect);
  }

  void stop_circuit(const logic::StopCircuit& circuit) {
    const report::StopWords words(circuit, graph_);
    if (circuit.relay.empty())
      out_ += "\nStop and guard devices that are not here\n";
    else
      loops(circuit, words);
    if (!circuit.missing.empty()) {
      append_wrapped(out_,
                     "Box of real stop devices, each channel apart from the other, logged as a temporary "
                     "change while it is there:",
                     2, 4);
      for (const std::string& contact : words.box()) append_wrapped(out_, "- " + contact, 2, 4);
      append_wrapped(out_, "ringtrue log JOB, once it is connected:", 2, 4);
      out_ += "    " + words.log_line() + '\n';
      append_wrapped(out_, "once it is off, with the number that log gave it:", 2, 4);
      out_ += "    undone N\n";
    }
    std::size_t number = 0;
    for (const report::StopStepWords& step : words.steps())
      append_entry(out_, 2, "[ ] " + std::to_string(++number), 8, step.act + " " + step.expect + ".");
    if (circuit.relay.empty()) return;
    if (circuit.steps.empty())
      append_wrapped(out_, "No steps: the drawing has no reset device on a loop of the relay.", 2, 4);
    else if (!circuit.missing.empty())
      append_wrapped(out_, "All of it again with the real devices in place of the box.", 2, 4);
  }

  void loops(const logic::StopCircuit& circuit, const report::StopWords& words) {
    out_ += "\nStop circuit " + circuit.relay + ", role " + std::string(word(circuit.role)) + '\n';
    append_wrapped(
        out_,
        "Never jumpered. It is tested as a whole by the site's licensed procedure; these steps show "
        "each channel by real devices and leave it working.",
        2, 2);
    for (std::size_t i = 0; i < circuit.channels.size(); ++i) {
      entry("channel " + std::to_string(i + 1), words.loop(circuit.channels[i]));
      append_wrapped(out_, words.way(circuit.channels[i]), 14, 14);
    }
    entry("reset", words.reset());
    entry("moves", words.moves());
    entry("shown by", words.shown_by());
  }

  void one(const DrivenOutput& output) {
    const report::DriveWords words(report_, output);
    const logic::Drive& drive = output.drive;
    const Channel& drawn = words.channel(drive.output);
    std::string line = graph_.netlist().points.name(drawn.point) + "  " + std::string(word(drawn.type));
    for (const std::string_view text : {drawn.address, drawn.tag, drawn.text})
      if (!text.empty()) line.append("  ").append(text);
    out_ += '\n' + line + '\n';
    verdict(words, output);
    const DriveVerdict reached = words.verdict();
    if (reached == DriveVerdict::no_logic || reached == DriveVerdict::not_testable) return;
    entry("responds", words.responds());
    entry("measure", words.measure());
    if (drive.steps.empty()) return;
    start(words);
    std::size_t number = 0;
    for (const report::DriveLine& l : report::sequence_lines(words, number).lines)
      this->line(l.number, l.act, l.expect);
    if (!drive.is_exact_order)
      append_wrapped(out_, "Fewest input states; not proven to be the fewest changes.", 2, 4);
    deciding(words, drive.deciding, "Each input alone decides (unique-cause MC/DC)", number);
    if (drive.with_box)
      deciding(words, *drive.with_box,
               "With the box of real stop devices also (" + report::joined(held_closed(words), ", ") + ")",
               number);
  }

  static std::vector<std::string> held_closed(const report::DriveWords& words) {
    std::vector<std::string> list;
    for (const logic::Source& source : words.drive().with_box->sources)
      if (source.how == logic::How::hold && source.role != Role::none)
        list.push_back(words.at_rest({source}).front());
    return list;
  }

  void verdict(const report::DriveWords& words, const DrivenOutput& output) {
    const std::string reason = words.reason();
    entry("verdict", std::string(verdict_words(words.verdict())) + (reason.empty() ? "" : ": " + reason));
    if (words.verdict() == DriveVerdict::substitute) box();
    if (output.drive.oscillates)
      append_wrapped(out_, "Some input states never come to rest; they were left out.", 4, 4);
  }

  void box() {
    const bool is_any = std::any_of(report_.circuits.begin(), report_.circuits.end(),
                                    [](const logic::StopCircuit& c) { return !c.missing.empty(); });
    append_wrapped(out_,
                   is_any ? "Never by jumpers: connect the box of real stop devices (above), then reset."
                          : "Never by jumpers: real stop devices, per the licensed procedure, logged as "
                            "substitute.",
                   14, 14);
  }

  void start(const report::DriveWords& words) {
    const logic::Drive& drive = words.drive();
    std::string text = "controller started with all inputs at rest";
    for (const std::string& held : words.at_rest(drive.sources)) text += "; " + held;
    entry("start", text + ": " + (drive.steps.front().is_on ? "on" : "off"));
  }

  void deciding(const report::DriveWords& words, const logic::PairSet& set, const std::string& heading,
                std::size_t& number) {
    if (set.pairs.empty() && set.unpaired.empty()) return;
    const report::DecidingLines lines = report::deciding_lines(words, set, number);
    append_wrapped(out_, heading + (lines.how.empty() ? "" : ", " + lines.how) + ":", 2, 4);
    for (const report::DriveGroup& group : lines.groups) {
      if (!group.heading.empty()) append_wrapped(out_, group.heading, 4, 6);
      for (const report::DriveLine& l : group.lines) line(l.number, l.act, l.expect);
    }
    if (!set.is_exact_order) append_wrapped(out_, "Nearest next; not proven to be the fewest changes.", 2, 4);
    if (!lines.pairs.empty()) entry("pairs", report::joined(lines.pairs, "; "));
    for (const std::string& unpaired : lines.unpaired) append_wrapped(out_, unpaired, 2, 4);
  }

  const DriveReport& report_;
  const ConductionGraph& graph_;
  std::string out_;
};

}  // namespace

std::string drive_text(const DriveReport& report) { return DriveText(report).write(); }

}  // namespace ringtrue
