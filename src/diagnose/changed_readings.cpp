// Which readings faults can change: an index of the readings by the nets that a fault has to touch first, and
// by the points of their probes.
#include <algorithm>
#include <array>

#include "consistency.hpp"
#include "cut.hpp"
#include "grouped.hpp"
#include "ringtrue/expect/load_nets.hpp"

namespace ringtrue {

/// The point itself; for a loose end the clamp that it left.
PointId Consistency::clamp_of(std::uint32_t reading, PointId probe) const {
  if (index(probe) < graph_.point_count()) return probe;
  for (const auto& lifted : comparison_.conditions.overlays[readings_.rows[reading].condition].lifted)
    if (lifted.loose == probe)
      return lifted.end == End::a ? graph_.end_a(lifted.conductor) : graph_.end_b(lifted.conductor);
  return probe;
}

/// Calls `visit` once for each net at rest that a fault has to touch before it can change the reading: those
/// of the probes, and those that current may take part in.
template <class Visit>
void Consistency::for_each_net_at_rest(std::uint32_t reading, Visit&& visit) const {
  const Probing& probing = comparison_.probings[reading];
  std::array<NetId, 4> nets{};
  std::size_t count = 0;
  const auto is_known = [&](NetId net) {
    return std::find(nets.begin(), nets.begin() + static_cast<std::ptrdiff_t>(count), net) !=
           nets.begin() + static_cast<std::ptrdiff_t>(count);
  };
  const auto add = [&](NetId net) {
    if (is_known(net)) return;
    nets[count++] = net;
    visit(net);
  };
  const auto add_probe = [&](PointId probe, bool either_side) {
    const PointId p = clamp_of(reading, probe);
    add(graph_.net_at_rest(p));
    if (either_side) add(graph_.net_at_rest(graph_.netlist().points.other_side(p)));
  };
  add_probe(probing.from, probing.from_either_side);
  add_probe(probing.to, probing.to_either_side);
  for (const NetId net :
       at_rest(nets_through_loads(reading), drawn_views_[readings_.rows[reading].condition]))
    if (!is_known(net)) visit(net);
}

/// The same nets as the reading's condition has them, each once.
std::vector<NetId> Consistency::nets_under_condition(std::uint32_t reading) const {
  const Probing& probing = comparison_.probings[reading];
  const View& view = drawn_views_[readings_.rows[reading].condition];
  std::vector<NetId> nets = nets_through_loads(reading);
  for (PointId Probing::*lead : {&Probing::from, &Probing::to}) {
    const std::vector<NetId> probed = nets_under(view, probing, lead);
    nets.insert(nets.end(), probed.begin(), probed.end());
  }
  std::sort(nets.begin(), nets.end());
  nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  return nets;
}

/// Nets under its condition beyond those of the probes where a fault can change the reading, through loads.
/// Before a reading that's possible becomes impossible, a fault has to touch the way that keeps its
/// resistance down, or a cut that keeps it up; before one that is not becomes possible, what stands in its
/// way.
std::vector<NetId> Consistency::nets_through_loads(std::uint32_t reading) const {
  const Probing& probing = comparison_.probings[reading];
  const View& view = drawn_views_[readings_.rows[reading].condition];
  if (probing.value.kind != ValueKind::ohms && view.net(probing.from) == view.net(probing.to)) return {};
  const OhmInterval seen = seen_ohms(probing, comparison_.meters.of(ReadingId{reading}));
  const std::vector<NetId> red = nets_under(view, probing, &Probing::from);
  const std::vector<NetId> black = nets_under(view, probing, &Probing::to);
  if (std::find_first_of(red.begin(), red.end(), black.begin(), black.end()) != red.end()) {
    // Copper: no load matters where it may have nothing and the leads alone may have had what was shown.
    const bool is_any_copper = probing.value.kind != ValueKind::ohms ||
                               (seen.lo == Ohms{0} && !view.net_has_least_ohms(red.front()));
    return is_any_copper ? std::vector<NetId>{} : all_joined_by_loads(view, red, black);
  }
  std::vector<NetId> nets;
  const auto add_cut = [&](Ohms limit, CutValues values) {
    for (PointId Probing::*lead : {&Probing::from, &Probing::to})
      if (const auto cut = Cut::around(view, probing, lead, limit, values)) {
        nets.insert(nets.end(), cut->nets().begin(), cut->nets().end());
        return true;
      }
    return false;
  };
  if (is_disagreement(ReadingId{reading})) {
    if (probing.value.kind == ValueKind::beep && add_cut(seen.hi, CutValues::lowest)) return nets;
    return all_joined_by_loads(view, red, black);
  }
  if (seen.hi != k_infinite_ohms) {
    const std::vector<NetId> way = way_through_loads(view, red, black, seen.hi);
    if (way.empty()) return all_joined_by_loads(view, red, black);
    nets = way;
  }
  if (seen.lo > Ohms{0} && !add_cut(seen.lo, CutValues::highest))
    return all_joined_by_loads(view, red, black);
  return nets;
}

std::vector<NetId> Consistency::all_joined_by_loads(const View& view, const std::vector<NetId>& red,
                                                    const std::vector<NetId>& black) const {
  std::vector<NetId> nets;
  for (const auto& probed : {red, black})
    for (const NetId net : probed) {
      const std::vector<NetId> joined = nets_joined_by_loads(view, net);
      nets.insert(nets.end(), joined.begin(), joined.end());
    }
  return nets;
}

/// The nets at rest of which nets under a view are made, each once; more where one was labelled anew.
std::vector<NetId> Consistency::at_rest(std::vector<NetId> nets, const View& view) const {
  const auto is_new = [this](NetId net) { return index(net) >= graph_.net_count(); };
  const bool relabelled = std::any_of(nets.begin(), nets.end(), is_new);
  std::erase_if(nets, is_new);
  if (relabelled) nets.insert(nets.end(), view.touched_nets().begin(), view.touched_nets().end());
  std::sort(nets.begin(), nets.end());
  nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  return nets;
}

bool Consistency::add_reading(std::uint32_t reading) {
  bool widens = false;
  if (is_used(ReadingId{reading}))
    for_each_net_at_rest(reading, [&](NetId net) {
      index_->nets.push_back(net);
      if (!is_dear(ReadingId{reading}) || index_->read_in_ohms[index(net)]) return;
      index_->read_in_ohms[index(net)] = widens = true;
    });
  index_->nets_end.push_back(static_cast<std::uint32_t>(index_->nets.size()));
  const std::uint16_t condition = readings_.rows[reading].condition;
  if (condition != 0 && is_used(ReadingId{reading}))
    for (const NetId net : nets_under_condition(reading))
      index_->others.push_back({condition, net, ReadingId{reading}});
  return widens;
}

bool Consistency::add_last() {
  const bool widens = add_reading(static_cast<std::uint32_t>(index_->nets_end.size()));
  stamp_.resize(index_->nets_end.size(), 0);
  index_probes();
  index_nets();
  return widens;
}

std::span<const NetId> Consistency::nets_of(ReadingId reading) const {
  const std::uint32_t first = index(reading) == 0 ? 0 : index_->nets_end[index(reading) - 1];
  return {index_->nets.data() + first, index_->nets.data() + index_->nets_end[index(reading)]};
}

void Consistency::index_probes() {
  const auto for_each_probe = [this](auto&& visit) {
    for (auto i = static_cast<std::uint32_t>(readings_.rows.size()); i-- > 0;) {
      if (!is_used(ReadingId{i})) continue;
      const Probing& probing = comparison_.probings[i];
      for (const PointId p : {clamp_of(i, probing.from), clamp_of(i, probing.to)})
        visit(index(p), ReadingId{i});
    }
  };
  group_by_key(graph_.point_count(), for_each_probe, index_->probe_start, index_->at_probe);
}

/// Readings at rest by net; behind them the others, by condition and net under it.
void Consistency::index_nets() {
  const auto for_each_at_rest = [this](auto&& visit) {
    for (auto i = static_cast<std::uint32_t>(index_->nets_end.size()); i-- > 0;)
      if (readings_.rows[i].condition == 0)
        for (const NetId net : nets_of(ReadingId{i})) visit(index(net), ReadingId{i});
  };
  group_by_key(graph_.net_count(), for_each_at_rest, index_->entry_start, index_->entries);

  index_->under_condition.assign(drawn_views_.size(), {});
  std::sort(index_->others.begin(), index_->others.end());
  for (std::size_t first = 0, last = 0; first < index_->others.size(); first = last) {
    const auto begin = static_cast<std::uint32_t>(index_->entries.size());
    for (;
         last < index_->others.size() && index_->others[last].condition == index_->others[first].condition &&
         index_->others[last].net == index_->others[first].net;
         ++last)
      index_->entries.push_back(index_->others[last].reading);
    const auto end = static_cast<std::uint32_t>(index_->entries.size());
    index_->under_condition[index_->others[first].condition].emplace(
        index_->others[first].net, Run{index_->others[first].condition, begin, end});
  }
}

std::vector<PointId> Consistency::points_of(std::span<const Fault> faults) const {
  std::vector<PointId> points;
  const auto add = [&](PointId p) {
    if (p != PointId::none) points.push_back(p);
  };
  for (const Fault& fault : faults) {
    for (const ElementId e : {fault.element, fault.element2})
      if (e != ElementId::none) add(graph_.end_a(e)), add(graph_.end_b(e));
    add(fault.p);
    add(fault.q);
    if (fault.kind != FaultKind::shift) continue;
    for (const LandedEnd& landed : landed_ends(fault, graph_))
      add(graph_.end_a(landed.conductor)), add(graph_.end_b(landed.conductor)), add(landed.at);
  }
  return points;
}

std::vector<NetId> Consistency::touched_by(std::span<const Fault> faults) const {
  std::vector<NetId> nets;
  for (const PointId p : points_of(faults)) nets.push_back(graph_.net_at_rest(p));
  std::sort(nets.begin(), nets.end());
  nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  return nets;
}

/// Runs of readings that the faults can change, by condition: those that go by a net which the faults touch
/// under the condition.
std::vector<Consistency::Run> Consistency::affected_by(std::span<const Fault> faults) const {
  const std::vector<PointId> points = points_of(faults);
  std::vector<NetId> nets;
  const auto find_nets = [&](auto&& net_of) {
    nets.clear();
    for (const PointId p : points) nets.push_back(net_of(p));
    std::sort(nets.begin(), nets.end());
    nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  };
  std::vector<Run> runs;
  find_nets([this](PointId p) { return graph_.net_at_rest(p); });
  for (const NetId net : nets) {
    if (is_watching_) watched_.push_back(net);
    if (index_->entry_start[index(net)] != index_->entry_start[index(net) + 1])
      runs.push_back({0, index_->entry_start[index(net)], index_->entry_start[index(net) + 1]});
  }
  for (std::size_t c = 1; c < index_->under_condition.size(); ++c) {
    if (index_->under_condition[c].empty()) continue;
    find_nets([&](PointId p) { return drawn_views_[c].net(p); });
    for (const NetId net : nets)
      if (const auto at = index_->under_condition[c].find(net); at != index_->under_condition[c].end())
        runs.push_back(at->second);
  }
  return runs;
}

/// Some of the readings taken where the faults change something: they most often refute a set of faults.
std::vector<ReadingId> Consistency::probing_at(std::span<const Fault> faults) const {
  constexpr std::size_t k_per_point = 8, k_most = 64;
  std::vector<ReadingId> found;
  const auto add = [&](PointId p) {
    if (p == PointId::none || found.size() >= k_most) return;
    const std::span<const ReadingId> some =
        readings_at(p).first(std::min(readings_at(p).size(), k_per_point));
    found.insert(found.end(), some.begin(), some.end());
  };
  const auto add_terminal = [&](PointId p) {
    add(p);
    if (p != PointId::none) add(graph_.netlist().points.other_side(p));
  };
  for (const Fault& fault : faults) {
    for (const ElementId e : {fault.element, fault.element2})
      if (e != ElementId::none) add_terminal(graph_.end_a(e)), add_terminal(graph_.end_b(e));
    add_terminal(fault.p);
    add_terminal(fault.q);
  }
  return found;
}

namespace {

bool meet(std::span<const NetId> x, std::span<const NetId> y) {
  return std::find_first_of(x.begin(), x.end(), y.begin(), y.end()) != x.end();
}

}  // namespace

bool Consistency::can_change(std::span<const Fault> faults, ReadingId reading) const {
  return is_set_aside(faults, reading) || meet(nets_where_faults_change(reading), touched_by(faults));
}

/// Where the reading's condition touches one of its nets, all that it touches belong too.
std::vector<NetId> Consistency::nets_where_faults_change(ReadingId reading) const {
  const std::span<const NetId> own = nets_of(reading);
  std::vector<NetId> nets(own.begin(), own.end());
  const std::span<const NetId> touched = drawn_views_[condition_of(reading)].touched_nets();
  if (meet(touched, own)) nets.insert(nets.end(), touched.begin(), touched.end());
  return nets;
}

std::vector<NetId> Consistency::watched() const {
  std::sort(watched_.begin(), watched_.end());
  watched_.erase(std::unique(watched_.begin(), watched_.end()), watched_.end());
  is_watching_ = false;
  return std::move(watched_);
}

}  // namespace ringtrue
