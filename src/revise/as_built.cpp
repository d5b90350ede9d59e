#include "ringtrue/revise/as_built.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <set>
#include <utility>

#include "fitted_value.hpp"
#include "row_drafts.hpp"

namespace ringtrue {

namespace {

using revise::RowDrafts;

std::string decimal(Ohms ohms) {
  std::array<char, 512> text;
  const auto end =
      std::to_chars(text.data(), text.data() + text.size(), ohms.value, std::chars_format::fixed);
  return {text.data(), end.ptr};
}

/// Turns faults into changes of rows, and gathers what no drawing can show.
class Decisions {
 public:
  Decisions(const ConductionGraph& graph, std::span<const std::vector<Fault>> decided,
            const Readings& readings, const Comparison& comparison, RowDrafts& drafts)
      : graph_(graph), readings_(readings), comparison_(comparison), drafts_(drafts) {
    for (std::size_t i = 0; i < decided.size(); ++i)
      for (const Fault& fault : decided[i])
        if (known_.insert(fault).second) faults_.emplace_back(i, fault);
    for (const auto& [decision, fault] : faults_) all_.push_back(fault);
  }

  /// @errors see `as_built`
  Errors draw() {
    for (const auto& [decision, fault] : faults_) {
      drafts_.begin_decision(decision);
      draw(fault);
    }
    return std::move(errors_);
  }

 private:
  void draw(const Fault& fault);
  void draw_open(ElementId element);
  void draw_value(const Fault& fault);
  void land(const LandedEnd& landed);
  [[nodiscard]] std::string noun(ElementId element) const {
    return std::string(graph_.element_kind_word(element)) + " " + graph_.element_name(element);
  }
  void refuse(std::string message) {
    errors_.push_back({ErrorCode::bad_call,
                       std::move(message),
                       {},
                       "",
                       "a repair of the panel, or somebody who accepts it as it is",
                       {}});
  }
  [[nodiscard]] std::uint32_t part_of(ElementId element) const { return graph_.origin(element).row; }

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  RowDrafts& drafts_;
  std::set<Fault> known_;
  std::vector<std::pair<std::size_t, Fault>> faults_;
  std::vector<Fault> all_;
  Errors errors_;
};

void Decisions::draw(const Fault& fault) {
  switch (fault.kind) {
    case FaultKind::open:
    case FaultKind::missing_bridge:
      return draw_open(fault.element);
    case FaultKind::miswire:
    case FaultKind::swap:
    case FaultKind::shift:
      for (const LandedEnd& landed : landed_ends(fault, graph_)) land(landed);
      return;
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      return drafts_.add_bridge(fault.p, fault.q);
    case FaultKind::wrong_contact:
      for (const ElementId contact : {fault.element, fault.element2})
        if (contact != ElementId::none)
          drafts_.set_kind(part_of(contact), drafts_.kind(part_of(contact)) == PartKind::contact_no
                                                 ? PartKind::contact_nc
                                                 : PartKind::contact_no);
      return;
    case FaultKind::reversed:
      return drafts_.exchange_pins(part_of(fault.element));
    case FaultKind::wrong_value:
      return draw_value(fault);
    case FaultKind::bad_reading:
      return;
  }
}

void Decisions::draw_open(ElementId element) {
  using From = ElementOrigin::From;
  const auto [from, row] = graph_.origin(element);
  if (from == From::conductor) return drafts_.remove_conductor(row);
  if (from == From::pe_rail) return drafts_.set_kind(row, PartKind::terminal);
  if (from == From::channel)
    return refuse("the drawing has no row for " + noun(element) + ", which is assumed of its channel");
  if (from == From::implied_terminal || graph_.netlist().parts[row].strip_like)
    return refuse("no drawing shows that " + noun(element) + " does not conduct between its sides");
  drafts_.remove_part(row);
}

void Decisions::draw_value(const Fault& fault) {
  if (graph_.is_hard(fault.element))
    return refuse("no drawing shows too much resistance in " + noun(fault.element));
  const auto ohms = revise::fitted_ohms(fault, all_, graph_, readings_, comparison_);
  drafts_.set_ohms(part_of(fault.element), ohms ? decimal(*ohms) : std::string());
}

void Decisions::land(const LandedEnd& landed) {
  const std::uint32_t row = graph_.origin(landed.conductor).row;
  if (drafts_.is_moved(row, landed.end) && drafts_.end(row, landed.end) != landed.at)
    return refuse("two decisions move the same end of " + noun(landed.conductor));
  drafts_.move_end(row, landed.end, landed.at);
}

/// Is the conductor's end lifted under the condition of some reading?
class LiftedByReadings {
 public:
  explicit LiftedByReadings(const Comparison& comparison) {
    for (const ConditionOverlay& overlay : comparison.conditions.overlays)
      for (const auto& lifted : overlay.lifted) ends_.insert({index(lifted.conductor), lifted.end});
  }
  [[nodiscard]] bool operator()(std::uint32_t conductor, End end) const {
    return ends_.count({conductor, end}) != 0;
  }

 private:
  std::set<std::pair<std::uint32_t, End>> ends_;
};

std::vector<ReadingId> not_judged_by(const Netlist& netlist, const Readings& readings,
                                     const Comparison& comparison) {
  const ConductionGraph graph(netlist);
  std::vector<Result<Condition>> conditions;
  for (const std::string& text : readings.conditions) conditions.push_back(parse_condition(text, graph));
  const auto is_there = [&](std::string_view point, const Condition& condition) {
    return point.find('@') == std::string_view::npos ||
           find_lifted_end(point, condition, overlay_of(condition, graph), graph).has_value();
  };
  std::vector<ReadingId> lost;
  for (std::uint32_t i = 0; i < readings.rows.size(); ++i) {
    if (comparison.standing[i] == Standing::unknown_point) continue;
    const Reading& reading = readings.rows[i];
    const Result<Condition>& condition = conditions[reading.condition];
    if (!condition || !is_there(reading.from, *condition) || !is_there(reading.to, *condition))
      lost.push_back(ReadingId{i});
  }
  return lost;
}

/// A row that goes may have been all that told whether a name has sides.
Errors points_lost(const PointTable& before, const PointTable& after) {
  for (std::uint32_t p = 0; p < before.place_count(); ++p) {
    const std::string_view name = before.place_name(PlaceId{p});
    const auto place = after.find_place(name);
    if (place && after.has_sides(*place) == before.has_sides(PlaceId{p})) continue;
    return {{ErrorCode::bad_call,
             "without the rows that would go the drawing no longer says what " + std::string(name) + " is",
             {},
             "",
             "a repair of the panel, or somebody who accepts it as it is",
             {}}};
  }
  return {};
}

}  // namespace

Result<AsBuilt> as_built(const ConductionGraph& graph, std::span<const std::vector<Fault>> decided,
                         const Readings& readings, const Comparison& comparison) {
  RowDrafts drafts(graph.netlist());
  if (Errors errors = Decisions(graph, decided, readings, comparison, drafts).draw(); !errors.empty())
    return tl::unexpected(std::move(errors));
  drafts.finish(LiftedByReadings(comparison));
  auto netlist = drafts.build();
  if (!netlist) return tl::unexpected(std::move(netlist.error()));
  if (Errors errors = points_lost(graph.netlist().points, netlist->points); !errors.empty())
    return tl::unexpected(std::move(errors));
  AsBuilt made{std::move(*netlist), drafts.changed_rows(), {}, {}};
  for (const std::vector<Fault>& faults : decided)
    for (const Fault& fault : faults)
      if (fault.kind == FaultKind::bad_reading && std::find(made.to_withdraw.begin(), made.to_withdraw.end(),
                                                            fault.reading) == made.to_withdraw.end())
        made.to_withdraw.push_back(fault.reading);
  made.no_longer_judged = not_judged_by(made.netlist, readings, comparison);
  return made;
}

}  // namespace ringtrue
