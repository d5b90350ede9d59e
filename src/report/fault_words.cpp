#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "element_words.hpp"
#include "reading_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"
#include "value_words.hpp"

// Each kind of fault has one function that gives all its sentences. They are read at the panel, so they say
// first what is wrong and where, and name the far end of a conductor too: a number that stands for a whole
// potential is on many conductors.

namespace ringtrue {

namespace {

using report::any_of;
using report::capitalised;
using report::in_sheets;
using report::row_place;

class Words {
 public:
  Words(const Fault& fault, const ConductionGraph& graph, const Readings& readings)
      : fault_(fault), graph_(graph), readings_(readings) {}

  [[nodiscard]] FaultWords open() const;
  [[nodiscard]] FaultWords missing_bridge() const;
  [[nodiscard]] FaultWords miswire() const;
  [[nodiscard]] FaultWords swap() const;
  [[nodiscard]] FaultWords joined() const;
  [[nodiscard]] FaultWords wrong_contact() const;
  [[nodiscard]] FaultWords bad_joint() const;
  [[nodiscard]] FaultWords wrong_load() const;
  [[nodiscard]] FaultWords shifted_run() const;
  [[nodiscard]] FaultWords exchanged_connectors() const;
  [[nodiscard]] FaultWords reversed() const;
  [[nodiscard]] FaultWords bad_reading() const;

 private:
  [[nodiscard]] std::string name(PointId p) const { return graph_.netlist().points.name(p); }
  [[nodiscard]] PointId moved(ElementId e, End end) const {
    return end == End::a ? graph_.end_a(e) : graph_.end_b(e);
  }
  [[nodiscard]] PointId far(ElementId e, End end) const {
    return end == End::a ? graph_.end_b(e) : graph_.end_a(e);
  }
  [[nodiscard]] std::string ends(ElementId e) const {
    return name(graph_.end_a(e)) + " to " + name(graph_.end_b(e));
  }
  [[nodiscard]] std::string noun(ElementId e) const { return element_noun(e, graph_); }
  [[nodiscard]] std::string row(ElementId e) const;
  [[nodiscard]] std::string field(End end) const { return end == End::a ? "\"from\"" : "\"to\""; }
  [[nodiscard]] std::string elsewhere_on_net(PointId p) const;
  [[nodiscard]] std::string cause_of_open() const;
  [[nodiscard]] std::string remedy_of_open() const;

  const Fault& fault_;
  const ConductionGraph& graph_;
  const Readings& readings_;
};

/// `row conductors.csv:12 (wire 214)`
std::string Words::row(ElementId e) const {
  const std::string place = row_place(e, graph_);
  return place.empty() ? "the row of " + noun(e) : "row " + place + " (" + noun(e) + ")";
}

/// ` (or X1:6.ext: the same net)`: a meter can't tell points of one net apart.
std::string Words::elsewhere_on_net(PointId p) const {
  constexpr std::size_t few = 4;
  const auto points = graph_.points_of_net(graph_.net_at_rest(p));
  if (points.size() < 2) return {};
  if (points.size() > few) return " (or elsewhere on the net of that point)";
  std::vector<std::string> others;
  for (const PointId other : points)
    if (other != p) others.push_back(name(other));
  return " (or on " + any_of(others) + ", the same net)";
}

std::string Words::cause_of_open() const {
  if (graph_.is_conductor(fault_.element)) return "missing, broken, or loose at a clamp";
  if (graph_.kind(fault_.element) == ElementKind::joint) return "not fitted, loose or broken";
  const Part* part = report::part_of(fault_.element, graph_);
  switch (part == nullptr ? PartKind::terminal : part->kind) {
    case PartKind::fuse:
      return "blown, missing or not seated";
    case PartKind::breaker:
    case PartKind::isolator:
      return "switched off, tripped or faulty";
    case PartKind::disconnect:
      return "its link is open, missing or loose";
    case PartKind::plug:
      return "not plugged in, a pin pushed back, or a clamp loose";
    case PartKind::contact_no:
    case PartKind::contact_nc:
      return "the contact does not close, or the part was not in the state stated";
    case PartKind::terminal:
    case PartKind::pe_terminal:
      return "broken, or a conductor not under its clamp";
    default:
      return "missing, unplugged or faulty";
  }
}

std::string Words::remedy_of_open() const {
  const ElementId e = fault_.element;
  const std::string a = name(graph_.end_a(e));
  const std::string b = name(graph_.end_b(e));
  if (graph_.is_conductor(e))
    return "Check both clamps first, " + a + " and " + b +
           ": conductor in, tight, no insulation under the clamp. If both are good, follow " + noun(e) +
           " and replace it.";
  const Part* part = report::part_of(e, graph_);
  switch (part == nullptr ? PartKind::terminal : part->kind) {
    case PartKind::fuse:
      return "Take out " + noun(e) +
             " and measure it; fit one of the drawn rating, then check both its clamps.";
    case PartKind::breaker:
    case PartKind::isolator:
      return "Check that " + noun(e) + " is on, then both its clamps; replace it if it stays open.";
    case PartKind::disconnect:
      return "Close the link of " + noun(e) + " and check both its clamps.";
    case PartKind::plug:
      return "Push " + noun(e) + " home, look at its pin, and check both its clamps.";
    case PartKind::contact_no:
    case PartKind::contact_nc:
      return "Check the clamps at " + a + " and " + b +
             ", then move the contact by hand and replace it if it stays open.";
    default:
      return "Check the clamps at " + a + " and " + b + " first, then " + noun(e) + " itself.";
  }
}

FaultWords Words::open() const {
  const ElementId e = fault_.element;
  const std::string row_text =
      row_place(e, graph_).empty()
          ? capitalised(noun(e)) +
                " stands in no row of the drawing; a row for it would have to say that it is open."
          : capitalised(row(e)) + " would have to go.";
  return {capitalised(noun(e)) + " does not conduct from " + ends(e) + in_sheets({e}, graph_) + ": " +
              cause_of_open() + ".",
          remedy_of_open() + " Then read " + ends(e) + " again.", row_text};
}

FaultWords Words::missing_bridge() const {
  const ElementId e = fault_.element;
  return {capitalised(noun(e)) + " is missing or makes no contact, " + ends(e) + in_sheets({e}, graph_) + ".",
          "Fit " + noun(e) + " or push it home, then read " + ends(e) + " again.",
          capitalised(row(e)) + " would have to go."};
}

FaultWords Words::miswire() const {
  const ElementId e = fault_.element;
  const std::string fixed = name(far(e, fault_.end));
  const std::string drawn = name(moved(e, fault_.end));
  const std::string found = name(fault_.p);
  return {capitalised(noun(e)) + " from " + fixed + " lands on " + found + elsewhere_on_net(fault_.p) +
              ", drawn on " + drawn + in_sheets({e}, graph_) + ".",
          "Move " + noun(e) + " from " + found + " to " + drawn + ", then read " + fixed + " to " + drawn +
              " and " + fixed + " to " + found + " again.",
          "In " + row(e) + ", " + field(fault_.end) + " would have to be " + found + " instead of " + drawn +
              "."};
}

FaultWords Words::swap() const {
  const ElementId one = fault_.element;
  const ElementId two = fault_.element2;
  const std::string far_one = name(far(one, fault_.end));
  const std::string far_two = name(far(two, fault_.end2));
  const std::string drawn_one = name(moved(one, fault_.end));
  const std::string drawn_two = name(moved(two, fault_.end2));
  return {capitalised(noun(one)) + " from " + far_one + " and " + noun(two) + " from " + far_two +
              " are exchanged: " + noun(one) + " lands on " + drawn_two + ", drawn on " + drawn_one + "; " +
              noun(two) + " lands on " + drawn_one + ", drawn on " + drawn_two +
              in_sheets({one, two}, graph_) + ".",
          "Exchange the two: " + noun(one) + " to " + drawn_one + ", " + noun(two) + " to " + drawn_two +
              ". Then read " + far_one + " to " + drawn_one + " and " + far_two + " to " + drawn_two +
              " again.",
          "In " + row(one) + ", " + field(fault_.end) + " would have to be " + drawn_two + " instead of " +
              drawn_one + ", and in " + row(two) + ", " + field(fault_.end2) + " would have to be " +
              drawn_one + " instead of " + drawn_two + "."};
}

FaultWords Words::joined() const {
  const std::string p = name(fault_.p);
  const std::string q = name(fault_.q);
  const std::string lacking =
      "The drawing lacks a conductor between " + p + " and " + q + ", or between their nets.";
  if (fault_.kind == FaultKind::extra_bridge)
    return {"The neighbours " + p + " and " + q +
                " are joined, drawn apart: a bridge too many, one that is too long, or " +
                "another joint between these two nets.",
            "Look for a bridge between " + p + " and " + q +
                "; take it out or fit a shorter one, then read " + p + " to " + q + " again.",
            lacking};
  return {"The nets of " + p + " and " + q +
              " are joined, drawn apart: a short or a conductor too many, there or elsewhere " +
              "on these two nets.",
          "Look along both nets for a stray strand, a crushed conductor or one too many, beginning at " + p +
              " and " + q + "; clear it, then read " + p + " to " + q + " again.",
          lacking};
}

FaultWords Words::wrong_contact() const {
  const ElementId e = fault_.element;
  const Part* part = report::part_of(e, graph_);
  const bool drawn_closed = part != nullptr ? part->kind == PartKind::contact_nc : graph_.is_on_at_rest(e);
  const std::string drawn = drawn_closed ? "normally closed" : "normally open";
  const std::string found = drawn_closed ? "normally open" : "normally closed";
  const auto partner = report::changeover_partner(e, graph_);
  std::string drawing =
      capitalised(row(e)) + " would have to be of kind " + (drawn_closed ? "contact-no" : "contact-nc");
  if (partner)
    drawing += ", and " + row(*partner) + " of kind " + (drawn_closed ? "contact-nc" : "contact-no");
  const std::string where =
      partner ? "The conductors of the NO and the NC pin may be exchanged, or the contact of the wrong kind."
              : "The contact may be of the wrong kind, or its conductors on a contact beside it.";
  return {capitalised(noun(e)) + " behaves as a " + found + " contact, drawn " + drawn +
              in_sheets({e}, graph_) + ": NO and NC exchanged.",
          where + " Correct it, then read " + ends(e) + " again, at rest and operated.", drawing + "."};
}

FaultWords Words::bad_joint() const {
  const ElementId e = fault_.element;
  return {capitalised(noun(e)) + " has too high a resistance from " + ends(e) + in_sheets({e}, graph_) +
              (fault_.above ? ", so high that a buzzer is silent" : ", though a buzzer still sounds") +
              ": a loose clamp, insulation under it, a burnt contact, or far more length than drawn.",
          "Open and make both its joints again, " + name(graph_.end_a(e)) + " and " + name(graph_.end_b(e)) +
              ", then read " + ends(e) + " in ohms again.",
          capitalised(row(e)) + " would have to state what it really has: length and size, or ohms."};
}

FaultWords Words::wrong_load() const {
  const ElementId e = fault_.element;
  const Part* part = report::part_of(e, graph_);
  const std::string drawn = part == nullptr || std::isnan(part->ohms)
                                ? "which has no value on the drawing"
                                : "drawn with " + report::ohms_text(Ohms{part->ohms});
  return {capitalised(noun(e)) + ", " + drawn + ", has another resistance" + in_sheets({e}, graph_) +
              ": a part of another type or voltage, or a damaged one.",
          "Unplug " + noun(e) + " or lift one of its conductors and measure it alone, " + ends(e) +
              "; compare with its rating plate and fit the drawn type. Then read " + ends(e) + " again.",
          capitalised(row(e)) + " would have to state the ohms of the part that is fitted."};
}

FaultWords Words::shifted_run() const {
  const std::vector<LandedEnd> ends = landed_ends(fault_, graph_);
  std::vector<ElementId> wires;
  for (const LandedEnd& moved : ends) wires.push_back(moved.conductor);
  const std::string drawn_first = name(fault_.p), drawn_last = name(fault_.q);
  const std::string found_first = name(ends.front().at), found_last = name(ends.back().at);
  const int off = std::abs(fault_.places);
  const std::string how_far = off == 1 ? "one place" : "two places";
  const std::string way = fault_.places > 0 ? "higher" : "lower";
  const std::string all = report::list_of(wires, graph_, wires.size());
  return {capitalised(all) + " are each " + how_far + " too " + (fault_.places > 0 ? "high" : "low") +
              ": they land on " + found_first + " to " + found_last + ", drawn on " + drawn_first + " to " +
              drawn_last + in_sheets({wires.front(), wires.back()}, graph_) + ".",
          "Move each of them " + how_far + " " + (fault_.places > 0 ? "lower" : "higher") + ", to " +
              drawn_first + " to " + drawn_last + ", then read each from end to end again.",
          "Each of their rows, from " + row(wires.front()) + " to " + row(wires.back()) +
              ", would have to name " + "the terminal " + how_far + " " + way + "."};
}

FaultWords Words::exchanged_connectors() const {
  const PointTable& points = graph_.netlist().points;
  const std::string one(part_of_place(points.place_name(points.place(fault_.p))));
  const std::string two(part_of_place(points.place_name(points.place(fault_.q))));
  std::vector<ElementId> wires;
  for (const LandedEnd& moved : landed_ends(fault_, graph_))  // a wire between the two moves with both ends
    if (std::find(wires.begin(), wires.end(), moved.conductor) == wires.end())
      wires.push_back(moved.conductor);
  constexpr std::size_t few = 8;
  return {"The wires of " + one + " and of " + two + " are exchanged, each on the same pin of the other (" +
              report::list_of(wires, graph_, few) +
              "): the connector is on the neighbouring part, or the two " +
              "parts sit in each other's place.",
          "Look which of " + one + " and " + two +
              " is which and put them or their connectors right, then read " +
              "each of the wires from end to end again.",
          "All rows with an end on " + one + " or " + two + " would have to name the other."};
}

FaultWords Words::reversed() const {
  const ElementId e = fault_.element;
  return {capitalised(noun(e)) + " is fitted the wrong way round: drawn with its anode on " +
              name(graph_.end_a(e)) + " and its cathode on " + name(graph_.end_b(e)) +
              in_sheets({e}, graph_) + ".",
          "Turn " + noun(e) + " round before anything is switched on, then read " + ends(e) +
              " again, both ways.",
          "In " + row(e) + ", the two pins would have to be exchanged."};
}

FaultWords Words::bad_reading() const {
  const Reading& reading = readings_.rows[index(fault_.reading)];
  const std::string points = std::string(reading.from) + " to " + std::string(reading.to);
  return {"Reading " + report::reading_label(readings_, fault_.reading) + ", " + points + ", read " +
              to_text(reading.value) +
              ": taken or written wrongly, at another point say; the panel may be as drawn.",
          "Read " + points + " again.", ""};
}

}  // namespace

FaultWords fault_words(const Fault& fault, const ConductionGraph& graph, const Readings& readings) {
  const Words words(fault, graph, readings);
  switch (fault.kind) {
    case FaultKind::open:
      return words.open();
    case FaultKind::missing_bridge:
      return words.missing_bridge();
    case FaultKind::miswire:
      return words.miswire();
    case FaultKind::swap:
      return words.swap();
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      return words.joined();
    case FaultKind::wrong_contact:
      return words.wrong_contact();
    case FaultKind::wrong_value:
      return graph.is_hard(fault.element) ? words.bad_joint() : words.wrong_load();
    case FaultKind::shift:
      return fault.places != 0 ? words.shifted_run() : words.exchanged_connectors();
    case FaultKind::reversed:
      return words.reversed();
    case FaultKind::bad_reading:
      return words.bad_reading();
  }
  return {};
}

FaultWords fault_words(std::span<const Fault> faults, const ConductionGraph& graph,
                       const Readings& readings) {
  FaultWords all;
  for (const Fault& fault : faults) {
    const FaultWords one = fault_words(fault, graph, readings);
    const auto add = [](std::string& to, const std::string& sentence) {
      if (!to.empty() && !sentence.empty()) to += ' ';
      to += sentence;
    };
    add(all.text, one.text);
    add(all.action, one.action);
    add(all.drawing, one.drawing);
  }
  return all;
}

}  // namespace ringtrue
