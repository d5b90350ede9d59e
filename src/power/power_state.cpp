#include "power_state.hpp"

#include <algorithm>
#include <cmath>
#include <deque>

namespace ringtrue::power {

namespace {

constexpr double k_most_ohms = 20'000;  // 2 % of a meter of 1 MΩ

void add_once(std::vector<std::size_t>& list, std::size_t value) {
  if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
}

/// Greatest ohms of a load through which a meter shows the whole voltage; infinite for others. A coil or lamp
/// whose ohms aren't drawn has far less than would matter.
double leading_ohms(const Part& part) {
  switch (part.kind) {
    case PartKind::coil:
    case PartKind::lamp:
    case PartKind::resistor:
    case PartKind::motor:
    case PartKind::transformer:
      return std::isnan(part.ohms) ? (part.kind == PartKind::resistor ? HUGE_VAL : 0) : 1.1 * part.ohms;
    default:
      return HUGE_VAL;
  }
}

}  // namespace

PowerState::PowerState(const ConductionGraph& graph, const Sources& sources, const Switching& switching)
    : graph_(graph), sources_(sources), conducts_(conduction(graph, switching)) {
  settle(switching);
  expect();
}

/// A relay that may pull makes its contacts uncertain, which may feed further relays or supplies, and leaves
/// fewer supplies certain: all are judged anew until no relay is added.
void PowerState::settle(const Switching& switching) {
  do {
    live_.clear();
    for (const Origin& origin : sources_.origins) {
      const bool is_on = origin.fed == Fed::always || (origin.fed == Fed::outside && switching.supply_on);
      live_.push_back(is_on ? Conducts::yes : Conducts::no);
    }
    do label();
    while (feed_sources());
  } while (pull_relays(switching));
}

void PowerState::label() {
  nets_ = nets_of(graph_, conducts_);
  points_of_.assign(nets_.count, {});
  for (std::uint32_t p = 0; p < graph_.point_count(); ++p) points_of_[nets_.of[p]].push_back(PointId{p});
  fixed_.assign(nets_.count, {});
  for (std::size_t i = 0; i < sources_.origins.size(); ++i)
    if (live_[i] != Conducts::no) fixed_[net(sources_.origins[i].point)].push_back(i);
  for (Reached& joined : fixed_) keep_one_reference(joined);
}

/// References that copper joins are one, whichever system is counted from it; earth comes last.
void PowerState::keep_one_reference(Reached& joined) const {
  const auto is_reference = [&](std::size_t i) {
    return sources_.origins[i].volts == 0 && live_[i] == Conducts::yes;
  };
  if (joined.size() < 2 || !std::all_of(joined.begin(), joined.end(), is_reference)) return;
  const auto is_earth = [&](std::size_t i) {
    return graph_.netlist().potentials[sources_.origins[i].potential].kind == PotentialKind::pe;
  };
  const auto kept = std::find_if_not(joined.begin(), joined.end(), is_earth);
  joined = {kept == joined.end() ? joined.front() : *kept};
}

bool PowerState::feed_sources() {
  bool changed = false;
  for (std::size_t i = 0; i < sources_.origins.size(); ++i) {
    const Origin& origin = sources_.origins[i];
    if (origin.fed != Fed::inputs) continue;
    Conducts fed = Conducts::no;
    for (const ElementId input : origin.inputs) fed = std::max(fed, has_voltage(input));
    if (fed > live_[i]) {
      live_[i] = fed;
      changed = true;
    }
  }
  return changed;
}

Conducts PowerState::has_voltage(ElementId across) const {
  const PointId a = graph_.end_a(across), b = graph_.end_b(across);
  const Reached from_a = reach(a, across), from_b = reach(b, across);
  bool may = false, is_certain = fixed_[net(a)].size() == 1 && fixed_[net(b)].size() == 1;
  for (const std::size_t i : from_a)
    for (const std::size_t j : from_b) {
      may |= !sources_.are_alike(i, j);
      is_certain &= live_[i] == Conducts::yes && live_[j] == Conducts::yes &&
                    sources_.origins[i].system == sources_.origins[j].system;
    }
  if (!may) return Conducts::no;
  return is_certain ? Conducts::yes : Conducts::maybe;
}

bool PowerState::pull_relays(const Switching& switching) {
  std::unordered_set<std::string_view> pulled;
  for (std::uint32_t row = 0; row < graph_.netlist().parts.size(); ++row) {
    const Part& part = graph_.netlist().parts[row];
    const ElementId e = graph_.element_of_part(row);
    if (part.kind != PartKind::coil || conducts_[index(e)] == Conducts::no) continue;
    if (std::find(may_pull_.begin(), may_pull_.end(), part.part) != may_pull_.end()) continue;
    if (has_voltage(e) == Conducts::no || !pulled.insert(part.part).second) continue;
    may_pull_.push_back(part.part);
  }
  for (const ElementId e : graph_.contacts()) {
    const Part& part = graph_.netlist().parts[graph_.origin(e).row];
    const bool is_there = part.place != PartPlace::field && !switching.unplugged.contains(part.part);
    if (is_there && pulled.contains(part.actuated_by)) conducts_[index(e)] = Conducts::maybe;
  }
  return !pulled.empty();
}

template <class Visit>
void PowerState::for_each_way(std::uint32_t net, Visit&& visit) const {
  for (const PointId p : points_of_[net])
    for (const ElementId e : graph_.elements_at(p))
      if (conducts_[index(e)] != Conducts::no) visit(e, nets_.of[index(graph_.other_end(e, p))]);
}

PowerState::Reached PowerState::reach(PointId from, ElementId without) const {
  if (!fixed_[net(from)].empty()) return fixed_[net(from)];
  Reached reached;
  std::vector<std::uint32_t> todo{net(from)};
  std::unordered_set<std::uint32_t> seen{net(from)};
  while (!todo.empty()) {
    const std::uint32_t at = todo.back();
    todo.pop_back();
    for_each_way(at, [&](ElementId e, std::uint32_t to) {
      if (e == without) return;
      for (const std::size_t origin : fixed_[to]) add_once(reached, origin);
      if (fixed_[to].empty() && seen.insert(to).second) todo.push_back(to);
    });
  }
  return reached;
}

std::vector<std::size_t> PowerState::sources_at(PointId p) const {
  std::vector<std::size_t> sources = fixed_[net(p)];
  std::erase_if(sources, [&](std::size_t i) { return sources_.origins[i].volts == 0; });
  return sources;
}

bool PowerState::is_fed(PointId p) const {
  for (const std::size_t i : reach(p, ElementId::none))
    if (sources_.origins[i].volts != 0) return true;
  return false;
}

void PowerState::expect() {
  expectations_.assign(nets_.count, {});
  std::vector<std::uint8_t> done(nets_.count, 0);
  for (std::uint32_t n = 0; n < nets_.count; ++n)
    if (done[n] == 0) expect_island(n, done);
}

/// One net with an origin, or nets without one that loads and uncertain contacts join.
void PowerState::expect_island(std::uint32_t root, std::vector<std::uint8_t>& done) {
  std::vector<std::uint32_t> island{root};
  done[root] = 1;
  Reached reached = fixed_[root];
  for (std::size_t i = 0; i < island.size() && fixed_[root].empty(); ++i)
    for_each_way(island[i], [&](ElementId, std::uint32_t to) {
      for (const std::size_t origin : fixed_[to]) add_once(reached, origin);
      if (!fixed_[to].empty() || done[to] != 0) return;
      done[to] = 1;
      island.push_back(to);
    });
  Expectation common;
  if (reached.empty()) {
    common.shows = Shows::nothing;
  } else {
    const Origin& first = sources_.origins[reached[0]];
    const bool is_stated = std::all_of(reached.begin(), reached.end(), [&](std::size_t i) {
      return live_[i] == Conducts::yes && sources_.are_alike(i, reached[0]);
    });
    if (!is_stated || std::isnan(first.volts) || sources_.systems[first.system].reference == PointId::none)
      return;
    common.origin = reached[0];
    common.has_origin = true;
    common.is_hard = !fixed_[root].empty();
    if (first.volts == 0)
      common.shows = Shows::nothing;
    else if (common.is_hard)
      common.shows = Shows::volts;
  }
  for (const std::uint32_t n : island) expectations_[n] = common;
  if (common.has_origin && !common.is_hard && common.shows == Shows::not_stated) lead_on(std::move(island));
}

/// Nets of an island that certain ways through loads of small resistance join to its one voltage.
void PowerState::lead_on(std::vector<std::uint32_t> island) {
  std::unordered_map<std::uint32_t, double> ohms;
  const std::unordered_set<std::uint32_t> inside(island.begin(), island.end());
  std::deque<std::uint32_t> todo;
  const auto lead = [&](std::uint32_t to, std::uint32_t from, ElementId e) {
    const ElementOrigin origin = graph_.origin(e);
    if (conducts_[index(e)] != Conducts::yes || origin.from != ElementOrigin::From::part) return;
    const double sum =
        (ohms.contains(from) ? ohms[from] : 0) + leading_ohms(graph_.netlist().parts[origin.row]);
    if (sum > k_most_ohms || ohms.contains(to)) return;
    ohms[to] = sum;
    Expectation& reached = expectations_[to];
    reached.shows = Shows::volts;
    reached.through = expectations_[from].through;
    reached.through.push_back(e);
    todo.push_back(to);
  };
  for (const std::uint32_t n : island)
    for_each_way(n, [&](ElementId e, std::uint32_t to) {
      if (!fixed_[to].empty()) lead(n, to, e);
    });
  while (!todo.empty()) {
    const std::uint32_t from = todo.front();
    todo.pop_front();
    for_each_way(from, [&](ElementId e, std::uint32_t to) {
      if (inside.contains(to)) lead(to, from, e);
    });
  }
}

}  // namespace ringtrue::power
