#include "plan_words.hpp"

#include <algorithm>
#include <map>

#include "element_words.hpp"
#include "text_layout.hpp"
#include "value_words.hpp"

namespace ringtrue::report {

namespace {

/// Elements at a point of the drawing; of a loose end, the conductor that it is the end of.
std::vector<ElementId> elements_at(PointId point, const PlanCondition& condition,
                                   const ConductionGraph& graph) {
  if (index(point) < graph.point_count()) {
    const auto all = graph.elements_at(point);
    return {all.begin(), all.end()};
  }
  for (const ConditionOverlay::LiftedEnd& lifted : condition.made.lifted)
    if (lifted.loose == point) return {lifted.conductor};
  return {};
}

/// `door` or `field`, if some part at the point is there.
std::string_view place_of(std::span<const ElementId> elements, const ConductionGraph& graph) {
  for (const ElementId element : elements) {
    const Part* part = part_of(element, graph);
    if (part != nullptr && part->place != PartPlace::panel) return word(part->place);
  }
  return {};
}

void add_sheets(std::vector<std::string>& sheets, std::span<const ElementId> elements,
                const ConductionGraph& graph) {
  for (const ElementId element : elements) {
    const std::string sheet(graph.element_sheet(element));
    if (!sheet.empty() && std::find(sheets.begin(), sheets.end(), sheet) == sheets.end())
      sheets.push_back(sheet);
  }
}

}  // namespace

std::string planned_id(std::size_t number) { return "P" + std::to_string(number + 1); }

std::string must_show(const PlannedReading& reading) {
  if (reading.expected == Expected::ohms) return range_text(reading.ohms);
  return reading.expected == Expected::beep ? "beep" : "no beep";
}

std::string must_show_in_cell(const PlannedReading& reading) {
  if (reading.expected != Expected::ohms) return std::string(word(reading.expected));
  std::string text = range_text(reading.ohms);
  constexpr std::string_view k_omega = "Ω";
  for (std::size_t at = text.find(k_omega); at != text.npos; at = text.find(k_omega))
    text.replace(at, k_omega.size(), "ohm");
  return text;
}

std::string place_words(std::initializer_list<PointId> points, const PlanCondition& condition,
                        const ConductionGraph& graph) {
  constexpr std::size_t few = 3;
  std::string text;
  for (const PointId point : points)
    if (const auto place = place_of(elements_at(point, condition, graph), graph); !place.empty())
      text +=
          (text.empty() ? "" : "; ") + std::string(place) + " " + point_name(point, condition.made, graph);
  const std::vector<std::string> sheets = sheets_of(points, condition, graph);
  if (sheets.empty()) return text;
  const std::size_t shown = sheets.size() <= few + 1 ? sheets.size() : few;
  text += (text.empty() ? "" : "; ") + std::string(sheets.size() == 1 ? "sheet " : "sheets ");
  text += joined(std::span(sheets).first(shown));
  return text + (shown < sheets.size() ? " and " + std::to_string(sheets.size() - shown) + " more" : "");
}

std::vector<std::string> sheets_of(std::initializer_list<PointId> points, const PlanCondition& condition,
                                   const ConductionGraph& graph) {
  std::vector<std::string> sheets;
  for (const PointId point : points) add_sheets(sheets, elements_at(point, condition, graph), graph);
  return sheets;
}

std::vector<AlikeNotCovered> alike_together(std::span<const NotCovered> not_covered) {
  using Key = std::pair<WhyNotCovered, std::vector<ElementId>>;
  const auto lot_of = [](const NotCovered& one) {
    Key lot{one.why, one.witness};
    lot.second.push_back(one.element);
    std::sort(lot.second.begin(), lot.second.end());
    return lot;
  };
  std::map<Key, std::size_t> lots;
  for (const NotCovered& one : not_covered) ++lots[lot_of(one)];

  std::vector<AlikeNotCovered> groups;
  std::map<Key, std::size_t> ring_of, group_of;
  for (const NotCovered& one : not_covered) {
    Key lot = lot_of(one), witness{one.why, one.witness};
    const bool is_ring = !one.witness.empty() && lots[lot] == lot.second.size();
    std::sort(witness.second.begin(), witness.second.end());
    const auto [place, is_new] = is_ring ? ring_of.emplace(std::move(lot), groups.size())
                                         : group_of.emplace(std::move(witness), groups.size());
    if (is_new) groups.push_back({{}, one.why, is_ring ? std::vector<ElementId>{} : one.witness, is_ring});
    groups[place->second].elements.push_back(one.element);
  }
  return groups;
}

std::string reason_words(const AlikeNotCovered& alike, const ConductionGraph& graph, std::size_t limit) {
  const bool one = alike.elements.size() == 1;
  std::string others = list_of(alike.witness, graph, limit);
  if (alike.each_other) others = alike.elements.size() == 2 ? "the other" : "the others";
  const std::string break_of = one ? "a break" : alike.each_other ? "a break of one" : "a break of any";
  switch (alike.why) {
    case WhyNotCovered::parallel:
      return break_of + " is hidden by " + (others.empty() ? "other copper" : others);
    case WhyNotCovered::needs_lift:
      return break_of + " is hidden by " + (others.empty() ? "other copper" : others) +
             " as long as no end is lifted";
    case WhyNotCovered::load_may_beep:
      return break_of + " may still beep by " + (others.empty() ? "a load" : others);
    case WhyNotCovered::copper_too_long:
      return "the copper itself may have too many ohms for the buzzer";
    case WhyNotCovered::value_not_stated:
      return one ? "the drawing doesn't state its ohms" : "the drawing doesn't state their ohms";
    case WhyNotCovered::load_beside_load:
      return break_of + " changes the ohms too little beside " + (others.empty() ? "other loads" : others);
    case WhyNotCovered::not_operable:
      return one ? "nothing that can be operated closes it" : "nothing that can be operated closes them";
  }
  return {};
}

std::string number_ranges(std::span<const std::size_t> numbers) {
  std::string text;
  for (std::size_t i = 0; i < numbers.size();) {
    std::size_t last = i;
    while (last + 1 < numbers.size() && numbers[last + 1] == numbers[last] + 1) ++last;
    text += (text.empty() ? "" : ", ") + std::to_string(numbers[i]);
    if (last > i) text += (last == i + 1 ? ", " : " to ") + std::to_string(numbers[last]);
    i = last + 1;
  }
  return text;
}

std::string clips_of(std::uint32_t code, std::uint32_t tests) {
  std::string clips;
  for (std::uint32_t test = 0; test < tests; ++test) clips += (code >> test & 1u) != 0 ? 'B' : 'A';
  return clips;
}

}  // namespace ringtrue::report
