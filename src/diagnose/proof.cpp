// An element of a net is proven where it is a single point of connection (a bridge of the graph, in the sense
// of graph theory) and some agreeing reading has its probes on either side. Both come out of one depth-first
// search (graph/numbering.hpp): everything behind a tree element is a range of numbers, and a reading crosses
// the element if exactly one of its probes is in the range. Crossing: the least and greatest partner number
// of any probe in the range shows whether one lies outside.
#include "proof.hpp"

#include <algorithm>
#include <span>
#include <unordered_map>

#include "grouped.hpp"
#include "ringtrue/graph/numbering.hpp"

namespace ringtrue {

namespace {

constexpr std::uint32_t k_unseen = Numbering::k_unseen;
constexpr std::uint32_t k_elsewhere = k_unseen - 1;

/// Where a condition leaves a net as it is, what was read under it proves the same as at rest.
bool is_under(const View& view, PointId p) {
  const ConductionGraph& graph = view.graph();
  return index(p) >= graph.point_count() || view.is_touched(graph.net_at_rest(p));
}

/// A row of nets, by number.
struct NetsFromTo {
  std::uint32_t first = 0, end = 0xFFFFFFFFu;
  [[nodiscard]] bool hold(NetId net) const { return first <= index(net) && index(net) < end; }
};

/// Marks the elements that readings prove on the nets that one condition touches, or, at rest, on all nets:
/// by readings taken under it, or under conditions that leave the net of a probe as it is.
class ConditionProof {
 public:
  /// `nets`: where the points lie that are looked at. `views`: by condition.
  ConditionProof(NetsFromTo nets, std::span<const View> views, std::size_t condition,
                 const Readings& readings, const Comparison& comparison,
                 std::vector<std::uint32_t>& number_of, std::vector<std::uint8_t>& proven)
      : nets_(nets),
        views_(views),
        is_at_rest_(condition == 0),
        view_(views[condition]),
        graph_(view_.graph()),
        readings_(readings),
        comparison_(comparison),
        number_of_(number_of),
        proven_(proven),
        numbering_(view_, number_of) {}

  /// `points`: of whole nets, which no other thread looks at.
  void run(const std::vector<PointId>& points, std::span<const ReadingId> readings) {
    for (const PointId p : points) numbering_.add(p);
    least_.assign(numbering_.points().size(), k_unseen);
    most_.assign(numbering_.points().size(), 0);
    least_by_.assign(numbering_.points().size(), ReadingId::none);
    most_by_.assign(numbering_.points().size(), ReadingId::none);
    taken_ = readings;
    for (const ReadingId reading : readings) enter(reading);
    for (auto number = static_cast<std::uint32_t>(numbering_.points().size()); number-- > 0;) settle(number);
    numbering_.forget();
  }

 private:
  [[nodiscard]] std::uint32_t number(PointId p) const { return number_of_[index(p)]; }
  /// A point on a net that isn't looked at lies outside every range.
  [[nodiscard]] std::uint32_t number_or_elsewhere(PointId p) const {
    if (!nets_.hold(view_.net(p))) return k_elsewhere;
    return number(p) == k_unseen && index(p) < graph_.point_count() ? k_elsewhere : number(p);
  }
  [[nodiscard]] bool is_behind(std::uint32_t number, std::uint32_t root) const {
    return numbering_.is_behind(number, root);
  }

  /// A bare terminal name counts on the side nearer to the other probe, so that its body is not on the way.
  [[nodiscard]] std::uint32_t probe_number(std::uint32_t own, PointId p, bool either_side,
                                           std::uint32_t partner) const {
    if (!either_side || own == k_elsewhere) return own;
    const PointId other_side = graph_.netlist().points.other_side(p);
    if (view_.net(other_side) != view_.net(p)) return own;
    const std::uint32_t other = number(other_side);
    if (other == k_unseen || own == k_unseen) return own;
    const std::uint32_t child = std::max(own, other), parent = std::min(own, other);
    if (numbering_.points()[child].parent != parent) return own;
    return is_behind(partner, child) ? child : parent;
  }

  /// The reading says something of the point's net as it is under this condition.
  [[nodiscard]] bool is_here(ReadingId reading, PointId p) const {
    return is_under(views_[readings_.rows[index(reading)].condition], p) != is_at_rest_;
  }
  [[nodiscard]] std::uint32_t number_for(ReadingId reading, PointId p) const {
    return is_here(reading, p) ? number_or_elsewhere(p) : k_elsewhere;
  }

  void enter(ReadingId reading) {
    const Probing& probing = comparison_.probings[index(reading)];
    const std::uint32_t from_raw = number_for(reading, probing.from),
                        to_raw = number_for(reading, probing.to);
    if (from_raw == k_unseen || to_raw == k_unseen) return;
    const std::uint32_t from = probe_number(from_raw, probing.from, probing.from_either_side, to_raw);
    const std::uint32_t to = probe_number(to_raw, probing.to, probing.to_either_side, from);
    note(from, to, reading);
    note(to, from, reading);
  }
  void note(std::uint32_t at, std::uint32_t partner, ReadingId reading) {
    if (at == k_elsewhere) return;
    if (least_[at] == k_unseen || partner < least_[at]) least_[at] = partner, least_by_[at] = reading;
    if (most_by_[at] == ReadingId::none || partner > most_[at]) most_[at] = partner, most_by_[at] = reading;
  }

  /// Children come after their parents in number, so each is complete when its turn comes from behind.
  void settle(std::uint32_t number) {
    const Numbering::Point& point = numbering_.points()[number];
    if (point.by == ElementId::none || least_[number] == k_unseen) return;
    const bool before = number > least_[number];
    const bool behind = most_[number] > point.last;
    if ((before || behind) && numbering_.is_single(number) && proven_[index(point.by)] == 0 &&
        is_proof(before ? least_by_[number] : most_by_[number], number, point))
      proven_[index(point.by)] = 1;
    note(point.parent, least_[number], least_by_[number]);
    note(point.parent, most_[number], most_by_[number]);
  }

  /// Without loads on the net the parted probes read open, so any crossing reading proves the element. With
  /// loads the reading is judged again with the element off; one taken with the loads unplugged may say what
  /// others could not.
  [[nodiscard]] bool is_proof(ReadingId crossing, std::uint32_t number, const Numbering::Point& point) {
    if (!net_has_loads(point.point) || is_missed_by(crossing, point.by)) return true;
    for (const ReadingId reading : readings_on(view_.net(point.point))) {
      const Probing& probing = comparison_.probings[index(reading)];
      const bool crosses = is_behind(number_for(reading, probing.from), number) !=
                           is_behind(number_for(reading, probing.to), number);
      if (crosses && !names_body(probing, point.by) && is_missed_by(reading, point.by)) return true;
    }
    return false;
  }
  /// The reading would have come out otherwise without the element.
  [[nodiscard]] bool is_missed_by(ReadingId reading, ElementId e) const {
    Overlay without = comparison_.conditions.overlays[readings_.rows[index(reading)].condition].overlay;
    without.switch_off(graph_, e);
    return judge(View(graph_, without), comparison_.probings[index(reading)],
                 comparison_.meters.of(reading)) == Verdict::disagrees;
  }
  /// A bare terminal name takes its body as conducting and never proves it.
  [[nodiscard]] bool names_body(const Probing& probing, ElementId e) const {
    const auto is_body_of = [&](PointId p, bool either_side) {
      return either_side && graph_.other_end(e, p) == graph_.netlist().points.other_side(p);
    };
    return is_body_of(probing.from, probing.from_either_side) ||
           is_body_of(probing.to, probing.to_either_side);
  }
  const std::vector<ReadingId>& readings_on(NetId net) {
    if (by_net_.empty())
      for (const ReadingId reading : taken_) {
        const Probing& probing = comparison_.probings[index(reading)];
        for (const PointId p : {probing.from, probing.to})
          if (is_here(reading, p)) by_net_[view_.net(p)].push_back(reading);
      }
    return by_net_[net];
  }
  [[nodiscard]] bool net_has_loads(PointId p) const {
    const NetId net = view_.net(p);
    if (index(net) < graph_.net_count()) return !graph_.loads_of_net(net).empty();
    return std::any_of(view_.touched_nets().begin(), view_.touched_nets().end(),
                       [this](NetId rest) { return !graph_.loads_of_net(rest).empty(); });
  }

  NetsFromTo nets_;
  std::span<const View> views_;
  bool is_at_rest_;
  const View& view_;
  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  std::vector<std::uint32_t>& number_of_;
  std::vector<std::uint8_t>& proven_;
  Numbering numbering_;
  std::span<const ReadingId> taken_;
  std::unordered_map<NetId, std::vector<ReadingId>> by_net_;  ///< of either probe; made when first needed
  std::vector<std::uint32_t> least_, most_;
  std::vector<ReadingId> least_by_, most_by_;  ///< the readings that gave them
};

/// Agrees, and shows that current passed.
bool shows_a_path(const Comparison& comparison, std::size_t reading) {
  const ValueKind kind = comparison.probings[reading].value.kind;
  return comparison.standing[reading] == Standing::agrees &&
         (kind == ValueKind::beep || kind == ValueKind::ohms);
}

std::vector<PointId> touched_points(const View& view) {
  const ConductionGraph& graph = view.graph();
  std::vector<PointId> points;
  for (const NetId net : view.touched_nets())
    points.insert(points.end(), graph.points_of_net(net).begin(), graph.points_of_net(net).end());
  for (std::uint32_t i = 0; i < view.overlay().loose_points(); ++i)
    points.push_back(PointId{graph.point_count() + i});
  return points;
}

/// A load is proven by a reading in ohms across it that would have come out otherwise without it.
void prove_loads(const View& view, const Readings& readings, const Comparison& comparison, std::uint32_t i,
                 std::vector<std::uint8_t>& proven) {
  const Probing& probing = comparison.probings[i];
  if (comparison.standing[i] != Standing::agrees || probing.value.kind != ValueKind::ohms) return;
  const ConductionGraph& graph = view.graph();
  const NetId from = view.net(probing.from), to = view.net(probing.to);
  if (from == to || index(probing.from) >= graph.point_count()) return;
  for (const ElementId load : graph.loads_of_net(graph.net_at_rest(probing.from))) {
    const NetId a = view.net(graph.end_a(load)), b = view.net(graph.end_b(load));
    if (proven[index(load)] != 0 || !((a == from && b == to) || (a == to && b == from))) continue;
    Overlay without = comparison.conditions.overlays[readings.rows[i].condition].overlay;
    without.switch_off(graph, load);
    if (judge(View(graph, without), probing, comparison.meters.of(ReadingId{i})) == Verdict::disagrees)
      proven[index(load)] = 1;
  }
}

std::vector<PointId> points_of_net(const View& view, NetId net) {
  const ConductionGraph& graph = view.graph();
  if (index(net) < graph.net_count())
    return {graph.points_of_net(net).begin(), graph.points_of_net(net).end()};
  std::vector<PointId> points = touched_points(view);
  std::erase_if(points, [&](PointId p) { return view.net(p) != net; });
  return points;
}

/// What the last reading proves of nets as they are under one condition.
void prove_by_last_under(const Consistency& consistency, std::size_t condition, const Readings& readings,
                         std::vector<std::uint8_t>& proven) {
  const Comparison& comparison = consistency.comparison();
  const std::span<const View> views = consistency.drawn_views();
  const View& view = views[condition];
  const ConductionGraph& graph = view.graph();
  const auto is_here = [&](std::uint32_t reading, PointId p) {
    return is_under(views[readings.rows[reading].condition], p) != (condition == 0);
  };
  const auto last = static_cast<std::uint32_t>(readings.rows.size() - 1);
  std::vector<NetId> nets;
  for (const PointId p : {comparison.probings[last].from, comparison.probings[last].to})
    if (is_here(last, p) && std::find(nets.begin(), nets.end(), view.net(p)) == nets.end())
      nets.push_back(view.net(p));
  if (nets.empty()) return;
  std::vector<ReadingId> on_nets;
  for (std::uint32_t i = 0; i <= last; ++i) {
    const std::uint16_t taken = readings.rows[i].condition;
    if (!shows_a_path(comparison, i) || (condition != 0 && taken != condition)) continue;
    const Probing& probing = comparison.probings[i];
    if ((is_here(i, probing.from) &&
         std::find(nets.begin(), nets.end(), view.net(probing.from)) != nets.end()) ||
        (is_here(i, probing.to) && std::find(nets.begin(), nets.end(), view.net(probing.to)) != nets.end()))
      on_nets.push_back(ReadingId{i});
  }
  std::vector<std::uint32_t> number_of(graph.point_count() + view.overlay().loose_points(), k_unseen);
  std::vector<PointId> points;
  for (const NetId net : nets)
    for (const PointId p : points_of_net(view, net)) points.push_back(p);
  ConditionProof({}, views, condition, readings, comparison, number_of, proven).run(points, on_nets);
}

/// Nets in order, cut into parts of so many points that what a search needs for one takes little room.
class PartsOfPlant {
 public:
  explicit PartsOfPlant(const ConductionGraph& graph) : graph_(graph) {
    constexpr std::size_t k_points = 20'000;
    std::size_t points = 0;
    for (std::uint32_t net = 0; net < graph.net_count(); ++net) {
      points += graph.points_of_net(NetId{net}).size();
      if (points < k_points && net + 1 < graph.net_count()) continue;
      ends_.push_back(net + 1);
      points = 0;
    }
  }
  [[nodiscard]] std::size_t count() const { return ends_.size(); }
  [[nodiscard]] std::size_t part_of(PointId p) const {
    const std::uint32_t net = index(graph_.net_at_rest(p));
    return static_cast<std::size_t>(std::upper_bound(ends_.begin(), ends_.end(), net) - ends_.begin());
  }
  [[nodiscard]] NetsFromTo nets(std::size_t part) const {
    return {part == 0 ? 0 : ends_[part - 1], ends_[part]};
  }
  [[nodiscard]] std::vector<PointId> points(std::size_t part) const {
    std::vector<PointId> points;
    for (std::uint32_t net = nets(part).first; net < nets(part).end; ++net)
      points.insert(points.end(), graph_.points_of_net(NetId{net}).begin(),
                    graph_.points_of_net(NetId{net}).end());
    return points;
  }

 private:
  const ConductionGraph& graph_;
  std::vector<std::uint32_t> ends_;  ///< by part: one behind its last net
};

/// What readings prove of the nets as they are at rest: those that show a path, and whose condition leaves
/// the net of a probe as it is.
void prove_at_rest(std::span<const View> views, const Readings& readings, const Comparison& comparison,
                   std::vector<std::uint32_t>& number_of, std::vector<std::uint8_t>& proven,
                   Threads threads) {
  const ConductionGraph& graph = views.front().graph();
  const PartsOfPlant parts(graph);
  const auto for_each_telling = [&](auto&& visit) {
    for (auto i = static_cast<std::uint32_t>(readings.rows.size()); i-- > 0;) {
      if (!shows_a_path(comparison, i)) continue;
      const View& view = views[readings.rows[i].condition];
      const Probing& probing = comparison.probings[i];
      if (is_under(view, probing.from) && is_under(view, probing.to)) continue;
      std::size_t last = parts.count();
      for (const PointId p : {probing.from, probing.to})
        if (index(p) < graph.point_count())
          if (const std::size_t part = parts.part_of(p); part != last) visit(last = part, ReadingId{i});
    }
  };
  std::vector<std::uint32_t> start;
  std::vector<ReadingId> by_part;
  group_by_key(parts.count(), for_each_telling, start, by_part);
  // No two of them write to the same point or element.
  for_each_index(threads, parts.count(), [&](std::size_t part) {
    ConditionProof(parts.nets(part), views, 0, readings, comparison, number_of, proven)
        .run(parts.points(part), std::span(by_part).subspan(start[part], start[part + 1] - start[part]));
  });
}

}  // namespace

std::vector<std::uint8_t> proven_by_readings(const ConductionGraph& graph, const Readings& readings,
                                             const Comparison& comparison, Threads threads) {
  const auto& conditions = comparison.conditions.overlays;
  std::vector<std::uint8_t> proven(graph.element_count(), 0);
  std::uint32_t loose = 0;
  std::vector<View> views;
  for (const ConditionOverlay& condition : conditions) {
    views.emplace_back(graph, condition.overlay);
    loose = std::max(loose, condition.overlay.loose_points());
  }
  std::vector<std::vector<ReadingId>> by_condition(conditions.size());
  for (std::uint32_t i = 0; i < readings.rows.size(); ++i) {
    const std::uint16_t condition = readings.rows[i].condition;
    const Probing& probing = comparison.probings[i];
    if (condition != 0 && shows_a_path(comparison, i) &&
        (is_under(views[condition], probing.from) || is_under(views[condition], probing.to)))
      by_condition[condition].push_back(ReadingId{i});
  }
  std::vector<std::uint32_t> number_of(graph.point_count() + loose, k_unseen);
  prove_at_rest(views, readings, comparison, number_of, proven, threads);
  for (std::size_t c = 1; c < views.size(); ++c)
    ConditionProof({}, views, c, readings, comparison, number_of, proven)
        .run(touched_points(views[c]), by_condition[c]);
  for (std::uint32_t i = 0; i < readings.rows.size(); ++i)
    prove_loads(views[readings.rows[i].condition], readings, comparison, i, proven);
  return proven;
}

void prove_by_last(const Consistency& consistency, const Readings& readings,
                   std::vector<std::uint8_t>& proven) {
  const Comparison& comparison = consistency.comparison();
  const auto last = static_cast<std::uint32_t>(readings.rows.size() - 1);
  if (!shows_a_path(comparison, last)) return;
  const std::uint16_t own = readings.rows[last].condition;
  prove_loads(consistency.drawn_view(own), readings, comparison, last, proven);
  for (const std::size_t condition : {std::size_t{own}, std::size_t{0}}) {
    prove_by_last_under(consistency, condition, readings, proven);
    if (own == 0) break;
  }
}

std::vector<ElementId> elements_touched(const std::vector<Fault>& faults, const ConductionGraph& graph) {
  std::vector<ElementId> touched;
  for (const Fault& fault : faults) {
    for (const ElementId e : {fault.element, fault.element2})
      if (e != ElementId::none) touched.push_back(e);
    if (fault.kind != FaultKind::shift) continue;
    for (const LandedEnd& moved : landed_ends(fault, graph)) touched.push_back(moved.conductor);
  }
  return touched;
}

}  // namespace ringtrue
