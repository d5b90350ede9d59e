#include "stop_words.hpp"

#include <algorithm>

#include "element_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

std::string any_name(const std::vector<PointId>& points, const Netlist& netlist) {
  std::vector<std::string> texts;
  for (const PointId point : points) texts.push_back(netlist.points.name(point));
  return any_of(texts);
}

}  // namespace

std::string StopWords::contact(ElementId contact) const {
  const Part& part = *part_of(contact, graph_);
  const std::string place =
      part.place == PartPlace::field ? "in the field, not connected" : std::string(word(part.place));
  return element_noun(contact, graph_) + " (" + place +
         (part.sheet.empty() ? "" : ", sheet " + std::string(part.sheet)) + ")";
}

std::string StopWords::loop(const logic::StopLoop& loop) const {
  std::vector<std::string> contacts;
  for (const ElementId one : loop.contacts) contacts.push_back(contact(one));
  const PointTable& points = graph_.netlist().points;
  return points.name(loop.from) + " to " + points.name(loop.to) + " by " + joined(contacts, ", then ");
}

std::string StopWords::way(const logic::StopLoop& loop) const {
  std::vector<std::string> names;
  for (const PointId point : loop.points) names.push_back(graph_.netlist().points.name(point));
  return joined(names, " - ");
}

std::string StopWords::reset() const {
  if (circuit_.resets.empty()) return "not on the drawing as a loop of its own";
  std::vector<std::string> texts;
  for (const logic::StopLoop& one : circuit_.resets) {
    std::vector<std::string> hands, dropped;
    for (const ElementId e : one.contacts) {
      const Part& part = *part_of(e, graph_);
      const bool is_hand = part.kind == PartKind::contact_no;
      (is_hand ? hands : dropped).push_back(std::string(part.actuated_by));
    }
    texts.push_back(loop(one) + ": " + circuit_.relay + " comes in only by " + joined(hands, " and ") +
                    (dropped.empty() ? "" : ", and only once " + joined(dropped, " and ") + " have dropped"));
  }
  return joined(texts, "; ");
}

std::string StopWords::moves() const {
  std::vector<std::string> texts;
  for (const logic::StopOutput& output : circuit_.outputs)
    texts.push_back(element_noun(output.contact, graph_) + " feeds " + element_noun(output.coil, graph_) +
                    in_sheets({output.coil}, graph_));
  return texts.empty() ? "no coil on the drawing" : joined(texts, "; ");
}

std::string StopWords::shown_by() const {
  std::vector<std::string> texts;
  for (const logic::StopShown& shown : circuit_.shown_by) {
    const Channel& channel = graph_.netlist().channels[shown.channel];
    texts.push_back(std::string(channel.tag.empty() ? channel.address : channel.tag) + " at " +
                    graph_.netlist().points.name(channel.point));
  }
  return texts.empty() ? "no input" : joined(texts);
}

std::vector<std::string> StopWords::box() const {
  std::vector<std::string> list;
  for (const logic::MissingContact& missing : circuit_.missing)
    list.push_back((circuit_.relay.empty() ? "" : channel_of(missing.contact) + ": ") + "a contact like " +
                   element_noun(missing.contact, graph_) + " between " +
                   any_name(missing.a, graph_.netlist()) + " and " + any_name(missing.b, graph_.netlist()) +
                   in_sheets({missing.contact}, graph_));
  return list;
}

std::string StopWords::log_line() const {
  std::string line;
  for (const logic::MissingContact& missing : circuit_.missing)
    for (const auto* const ends : {&missing.a, &missing.b})
      if (!ends->empty())
        line += (line.empty() ? "changed " : "; ") + graph_.netlist().points.name(ends->front());
  return line.empty() ? line
                      : line + " substitute: box of real stop devices" +
                            (circuit_.relay.empty() ? "" : " on " + circuit_.relay);
}

std::string StopWords::channel_of(ElementId contact) const {
  for (std::size_t i = 0; i < circuit_.channels.size(); ++i) {
    const auto& contacts = circuit_.channels[i].contacts;
    if (std::find(contacts.begin(), contacts.end(), contact) != contacts.end())
      return "channel " + std::to_string(i + 1);
  }
  return "channel";
}

std::string StopWords::followers() const {
  std::vector<std::string> names;
  for (const logic::StopOutput& output : circuit_.outputs) {
    const std::string name(part_of(output.coil, graph_)->part);
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return joined(names);
}

std::string StopWords::expect(const logic::StopStep& step) const {
  if (step.depends_on_make)
    return "As the relay's manual says: many come in only once both channels have been open";
  const std::string moved = followers();
  std::string text = circuit_.relay + (moved.empty() ? "" : ", " + moved) + (step.is_in ? " in" : " out");
  for (const logic::StopShown& shown : circuit_.shown_by) {
    const Channel& channel = graph_.netlist().channels[shown.channel];
    text += std::string("; ").append(channel.tag.empty() ? channel.address : channel.tag);
    text += step.is_in == shown.lit_when_in ? " lit" : " dark";
  }
  return text;
}

std::vector<StopStepWords> StopWords::steps() const {
  using What = logic::StopStep::What;
  std::vector<StopStepWords> list;
  for (const logic::StopStep& step : circuit_.steps) {
    const bool is_one = step.contacts.size() == 1 && circuit_.missing.size() > 1;
    const std::string what =
        is_one ? channel_of(step.contacts.front()) + " at the box, alone" : "all contacts of the box";
    std::string act;
    switch (step.what) {
      case What::connect:
        act = "Connect the box, its contacts closed; release all stop devices.";
        break;
      case What::reset:
        act = "Operate " + step.device + " and let go.";
        break;
      case What::open:
        act = "Open " + what + ".";
        break;
      case What::close:
        act = is_one ? "Close it." : "Close " + what + ".";
        break;
      case What::operate:
        act = "Operate " + step.device + ".";
        break;
      case What::release:
        act = "Release " + step.device + ".";
        break;
    }
    list.push_back({act, expect(step)});
  }
  return list;
}

}  // namespace ringtrue::report
