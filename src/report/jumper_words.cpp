#include <algorithm>
#include <array>
#include <cctype>

#include "analog_words.hpp"
#include "element_words.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

/// `wires 1, 2; S1:11-12`, or names, or both.
std::string told(const WhyJumper& why, const ConductionGraph& graph, Detail detail) {
  std::vector<std::string> all = why.names;
  const std::size_t limit = detail == Detail::everything ? why.elements.size() : 8;
  if (!why.elements.empty()) all.push_back(report::list_of(why.elements, graph, limit));
  return report::joined(all);
}

std::string name_of(PointId p, const ConductionGraph& graph) {
  return p == PointId::none ? std::string() : graph.netlist().points.name(p);
}

std::string what_to_read(const WhyJumper& why, const ConductionGraph& graph, Detail detail) {
  std::vector<std::string> pairs;
  for (const auto& [from, to] : why.to_read)
    pairs.push_back(name_of(from, graph) + " to " + name_of(to, graph));
  std::string text = "Not proven by readings.";
  if (!pairs.empty())
    text += " With the panel proven dead " + std::string(pairs.size() == 1 ? "this" : "these") +
            " must beep: " + report::joined(pairs) + ".";
  if (why.no_beep_shows.empty()) return text;
  const std::size_t limit = detail == Detail::everything ? why.no_beep_shows.size() : 8;
  return text + " No beep shows " + report::list_of(why.no_beep_shows, graph, limit) +
         " at rest: ringtrue plan says what to lift or operate.";
}

/// Of a device that is wired: it, or what moves its contact, has a role.
bool is_part_of_a_role(const WhyJumper& why, const ConductionGraph& graph) {
  const Netlist& netlist = graph.netlist();
  std::vector<std::string> devices = why.names;
  for (const ElementId contact : why.elements)
    devices.emplace_back(netlist.parts[graph.origin(contact).row].actuated_by);
  return std::any_of(devices.begin(), devices.end(), [&](const std::string& device) {
    const auto rows = netlist.parts_named(device);
    return std::any_of(rows.begin(), rows.end(),
                       [&](std::uint32_t row) { return netlist.parts[row].role != Role::none; });
  });
}

class Words {
 public:
  Words(const InputTest& test, const ConductionGraph& graph)
      : test_(test), graph_(graph), channel_(graph.netlist().channels[test.trace.channel]) {}

  void say(InputTestWords& words) const {
    say_kind(words);
    say_also(words);
    const bool is_fitted = test_.kind == InputTestKind::jumper || test_.kind == InputTestKind::sensor ||
                           test_.kind == InputTestKind::namur;
    if (is_fitted && !test_.is_there()) {
      words.act = "Fit and connect nothing here.";
      words.expect = words.stands_for = {};
    } else if (is_fitted && test_.jumper->answer == JumperAnswer::hold) {
      words.act.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(words.act.front())));
      words.act = "Once the hold is settled: " + words.act;
    }
    if (is_fitted && as_drawn_it_stays()) words.expect = "as drawn it stays " + at_rest();
  }

 private:
  void say_kind(InputTestWords& words) const {
    switch (test_.kind) {
      case InputTestKind::operate:
        return operate(words);
      case InputTestKind::actuate:
        return actuate(words);
      case InputTestKind::jumper:
        return jumper(words);
      case InputTestKind::sensor:
        return sensor(words);
      case InputTestKind::namur:
        return namur(words);
      case InputTestKind::analog:
        return analog(words);
      case InputTestKind::output:
        words.what = "none here: an output is driven";
        words.act = "ringtrue drive says how to turn it on and off.";
        return;
      case InputTestKind::none:
        words.what = "none";
        if (test_.jumper->has(JumperReason::channel_has_role) ||
            test_.jumper->has(JumperReason::joins_role_pins) ||
            test_.jumper->has(JumperReason::device_is_wired))
          words.act =
              "Not tested here: a safety function is tested as a whole, by the site's licensed procedure.";
    }
  }

  /// Fed the wrong way, so that nothing fitted there changes it.
  [[nodiscard]] bool as_drawn_it_stays() const {
    return test_.jumper->has(JumperReason::sense_does_not_fit) ||
           test_.jumper->has(JumperReason::two_supplies);
  }
  void say_also(InputTestWords& words) const {
    if (test_.also.empty() || words.expect.empty()) return;
    std::vector<std::string> names;
    for (const std::size_t i : test_.also) {
      const Channel& other = graph_.netlist().channels[i];
      names.push_back(name_of(other.point, graph_) + (other.tag.empty() ? "" : " ") + std::string(other.tag));
    }
    if (!words.stands_for.empty()) words.stands_for += ' ';
    words.stands_for += report::joined(names, " and ") + (names.size() == 1 ? " changes" : " change") +
                        " too, by the same device or terminal.";
  }

  void operate(InputTestWords& words) const;
  void actuate(InputTestWords& words) const;
  [[nodiscard]] std::string operated(const std::string& mover) const;
  void jumper(InputTestWords& words) const;
  void sensor(InputTestWords& words) const;
  void namur(InputTestWords& words) const;
  void analog(InputTestWords& words) const;
  void turn(InputTestWords& words, const Part& contact) const;

  [[nodiscard]] std::string back() const { return name_of(channel_.return_point, graph_); }
  [[nodiscard]] std::string field() const { return name_of(channel_.field, graph_); }
  [[nodiscard]] std::string device() const {
    return channel_.device.empty() ? "" : " " + std::string(channel_.device);
  }
  [[nodiscard]] std::string at_rest() const { return test_.lit_at_rest ? "lit" : "dark"; }
  [[nodiscard]] std::string other() const { return test_.lit_at_rest ? "dark" : "lit"; }

  const InputTest& test_;
  const ConductionGraph& graph_;
  const Channel& channel_;
};

void Words::operate(InputTestWords& words) const {
  const Part& contact = graph_.netlist().parts[graph_.origin(test_.contact).row];
  words.what = element_noun(test_.contact, graph_) + " wired in the " + std::string(word(contact.place));
  if (!contact.closed_in.empty()) return turn(words, contact);
  const std::string mover(contact.actuated_by);
  words.act = operated(mover) + " No jumper across its contact.";
  words.expect = at_rest() + "; " + mover + " operated: " + other() + "; released: " + at_rest();
}

void Words::actuate(InputTestWords& words) const {
  const std::string mover(channel_.device);
  const Part& part = graph_.netlist().parts[graph_.netlist().parts_named(mover).front()];
  words.what = mover + " wired in the " + std::string(word(part.place));
  words.act = operated(mover) + " No jumper for it.";
  words.expect = "changes when " + mover + " is operated, and changes back";
  if (channel_.normal)
    words.expect += std::string("; ") + (*channel_.normal ? "lit" : "dark") +
                    " in the plant at rest (normal=" + (*channel_.normal ? "1)" : "0)");
}

std::string Words::operated(const std::string& mover) const {
  const auto rows = graph_.netlist().parts_named(mover);
  const bool has_coil = std::any_of(rows.begin(), rows.end(), [&](std::uint32_t row) {
    return graph_.netlist().parts[row].kind == PartKind::coil;
  });
  return "Operate " + mover +
         (has_coil ? ", by its output or by hand where it can be, and let it fall back."
                   : ", then release it.");
}

void Words::turn(InputTestWords& words, const Part& contact) const {
  const std::string selector(contact.actuated_by);
  std::vector<std::string> positions;
  for (const int position : contact.closed_in) positions.push_back(std::to_string(position));
  const std::string closed = report::any_of(positions);
  words.act =
      "Turn " + selector + " to position " + closed + " and to every other. No jumper across its contact.";
  words.expect = at_rest() + " at rest; " + selector + " in position " + closed + ": lit; in any other: dark";
}

void Words::jumper(InputTestWords& words) const {
  words.what = "field contact" + device() + ", not connected";
  words.act = "Fit a jumper from " + back() + " to " + field() + ", then take it off.";
  words.expect = at_rest() + "; jumper fitted: lit; removed: dark";
  if (channel_.normal.value_or(false))
    words.stands_for =
        "Fitted stands for the healthy device, removed for the operated device or a broken wire (normal=1).";
}

void Words::sensor(InputTestWords& words) const {
  const bool sinks = channel_.sense == Sense::sink;
  const std::string third = name_of(test_.third, graph_);
  switch (channel_.sensor) {
    case Sensor::pnp:
      words.what = "PNP sensor" + device() + ", not connected";
      words.act = "Connect a PNP sensor or a simulator of one: plus to " + back() + ", signal to " + field() +
                  ", minus to " + (third.empty() ? "the minus of the same supply" : third) + ".";
      break;
    case Sensor::npn:
      words.what = "NPN sensor" + device() + ", not connected";
      words.act = "Connect an NPN sensor or a simulator of one: minus to " + back() + ", signal to " +
                  field() + ", plus to " + (third.empty() ? "the plus of the same supply" : third) + ".";
      break;
    default:
      words.what = "two-wire sensor" + device() + ", not connected";
      words.act = "Connect a two-wire sensor or a simulator of one: plus to " + (sinks ? back() : field()) +
                  ", minus to " + (sinks ? field() : back()) + ".";
  }
  words.act += " Switch it on and off.";
  words.expect = at_rest() + "; sensor on: lit; off: dark";
  if (channel_.sensor == Sensor::two_wire)
    words.act += " An input of type 1 (IEC 61131-2) isn't meant for two-wire sensors: its leak may light it.";
  words.stands_for =
      "A jumper from " + back() + " to " + field() + " would stand for the sensor switched on.";
  if (channel_.normal.value_or(false))
    words.stands_for +=
        " On stands for the healthy device, off for the operated device or a broken wire (normal=1).";
}

void Words::namur(InputTestWords& words) const {
  words.what = "NAMUR sensor" + device() + ", not connected";
  words.act =
      "Connect a NAMUR simulator, or a resistor, between " + back() + " and " + field() +
      ": 2.2 kΩ for switched on, 10 kΩ for off (IEC 60947-5-6, from memory; the module's manual decides). "
      "Never a plain jumper.";
  words.expect = "2.2 kΩ: lit; 10 kΩ: dark; nothing connected: the module's sign of a broken wire";
}

void Words::analog(InputTestWords& words) const {
  words.what = std::string(channel_.type == ChannelType::AI ? "analog input" : "analog output") +
               (channel_.signal.empty() ? "" : ", " + std::string(channel_.signal));
  words.act = "Connect " + report::hook_up_words(*test_.hook_up, channel_, graph_) +
              " ringtrue analog has its sheet.";
}

/// Mended in the drawing's files, without a screwdriver.
bool is_lack_of_drawing(JumperReason reason) {
  return reason == JumperReason::test_not_stated || reason == JumperReason::potential_unknown ||
         reason == JumperReason::safety_not_stated;
}

}  // namespace

std::string jumper_reason_text(const WhyJumper& why, const ConductionGraph& graph,
                               const JumperOptions& options, Detail detail) {
  const std::string these = told(why, graph, detail);
  switch (why.reason) {
    case JumperReason::joins_potentials:
      return "It would join " + report::joined(why.names, " and ") + " without a load.";
    case JumperReason::joins_role_pins:
      return "It would bridge " + these + ": part of a safety or explosion-protection circuit.";
    case JumperReason::on_role_net:
      return "It would be on a net of " + these + ": part of a safety or explosion-protection circuit.";
    case JumperReason::on_driven_net:
      return "It would be on the net of " + these + ", an output or a loop that may be fed.";
    case JumperReason::channel_has_role:
      return "The channel has the role " + these + ": no jumper on safety functions.";
    case JumperReason::namur_input:
      return "To a NAMUR input a plain jumper is a short circuit.";
    case JumperReason::test_not_stated:
      return "The channel list doesn't state " + these + ": columns of channels.csv.";
    case JumperReason::potential_not_dc:
      return "It would be on " + these + ", which is AC or PE.";
    case JumperReason::potential_unknown:
      return these.empty()
                 ? "No declared potential reaches it, so nothing says what it would carry."
                 : "The drawing doesn't state the volts of " + these + ": column volts of potentials.csv.";
    case JumperReason::potential_above_limit:
      return "It would be on " + these + ", above " + report::number_text(options.most_volts) + " V DC.";
    case JumperReason::across_closed_contact:
      return "Contacts in the panel join the two terminals at rest, and it would mask them.";
    case JumperReason::device_is_wired:
      return report::capitalised(these) + " is wired in the panel or door" +
             (is_part_of_a_role(why, graph) ? ", and part of a safety or explosion-protection circuit."
                                            : ": operate it instead.");
    case JumperReason::terminals_joined:
      return "As drawn, copper joins the two terminals already: check the channel list.";
    case JumperReason::no_channel:
      return "No channel has these two terminals.";
    case JumperReason::path_does_not_conduct:
      return (why.elements.empty() ? "As drawn, a path stops: " : "As drawn, open at rest or stopping: ") +
             these + ". ringtrue trace shows where.";
    case JumperReason::sense_does_not_fit:
      return "The other terminal is on " + these +
             ", from which an input of its sense doesn't light: check the "
             "channel list.";
    case JumperReason::two_supplies:
      return "The other terminal and the common are on two supplies that nothing joins: as drawn it can't "
             "light.";
    case JumperReason::finding_open:
      return "Readings contradict the drawing on its paths: put that right first (ringtrue compare).";
    case JumperReason::not_proven:
      return what_to_read(why, graph, detail);
    case JumperReason::safety_not_stated:
      return "The drawing doesn't state safety: check that every safety circuit carries a role, then state "
             "\"marked\", or \"none\" (panel.csv, key safety).";
  }
  return {};
}

InputTestWords input_test_words(const InputTest& test, const ConductionGraph& graph,
                                const JumperOptions& options, Detail detail) {
  InputTestWords words;
  Words(test, graph).say(words);
  const Channel& channel = graph.netlist().channels[test.trace.channel];
  words.led = channel.led;
  if (!channel.module.empty() && !channel.led.empty()) words.led += " on " + std::string(channel.module);
  if (!test.jumper) return words;
  const JumperVerdict& jumper = *test.jumper;
  words.verdict = word(jumper.answer);
  if (!jumper.unproven_by.empty()) words.verdict += " without proof, by " + jumper.unproven_by;
  // A refusal stands alone, but what the drawing leaves open is told at once, not line after line.
  const bool is_refused = jumper.answer == JumperAnswer::refused;
  const bool is_for_lacks = std::all_of(jumper.why.begin(), jumper.why.end(), [](const WhyJumper& why) {
    return !is_refusal(why.reason) || is_lack_of_drawing(why.reason);
  });
  for (const WhyJumper& why : jumper.why)
    if (!is_refused || is_refusal(why.reason) || (is_for_lacks && is_lack_of_drawing(why.reason)))
      words.reasons.push_back(jumper_reason_text(why, graph, options, detail));
  return words;
}

std::span<const std::string_view> input_test_cautions() {
  static constexpr std::array<std::string_view, 4> k_cautions = {
      "A jumper is an insulated, fused test lead, fitted at the two terminals named and nowhere else.",
      "Power is limited and fused, moving machinery disconnected.", "No jumper on safety functions.",
      "Local codes, the site's isolation procedure and licensed persons decide; ringtrue never says that a "
      "circuit is dead or safe."};
  return k_cautions;
}

}  // namespace ringtrue
