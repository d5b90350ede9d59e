#include "consistency.hpp"

#include <algorithm>

namespace ringtrue {

namespace {

bool is_current(Standing standing) {
  return standing == Standing::agrees || standing == Standing::disagrees || standing == Standing::either;
}

}  // namespace

Consistency::Consistency(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison, const MeterSettings& meter)
    : graph_(graph), readings_(readings), comparison_(comparison), meter_(meter), stamp_(readings.rows.size(), 0) {
  index_conditions();
  index_readings();
}

void Consistency::index_conditions() {
  for (const ConditionOverlay& condition : comparison_.conditions.overlays) {
    const View view(graph_, condition.overlay);
    condition_nets_.push_back({{view.touched_nets().begin(), view.touched_nets().end()}});
  }
}

/// Nets at rest under both probes (up to four with bare terminal names). A loose end counts with the clamp it left.
std::vector<NetId> Consistency::nets_at_rest(ReadingId reading) const {
  std::vector<NetId> nets;
  const Probing& probing = comparison_.probings[index(reading)];
  const auto add = [&](PointId p, bool either_side) {
    if (index(p) >= graph_.point_count()) {
      for (const auto& lifted : comparison_.conditions.overlays[readings_.rows[index(reading)].condition].lifted)
        if (lifted.loose == p) p = lifted.end == End::a ? graph_.end_a(lifted.conductor) : graph_.end_b(lifted.conductor);
    }
    nets.push_back(graph_.net_at_rest(p));
    if (either_side) nets.push_back(graph_.net_at_rest(graph_.netlist().points.other_side(p)));
  };
  add(probing.from, probing.from_either_side);
  add(probing.to, probing.to_either_side);
  std::sort(nets.begin(), nets.end());
  nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  return nets;
}

void Consistency::index_readings() {
  std::vector<std::pair<NetId, ReadingId>> pairs;
  pairs.reserve(readings_.rows.size());
  for (std::uint32_t i = 0; i < readings_.rows.size(); ++i) {
    if (!is_current(comparison_.standing[i]) || comparison_.probings[i].value.kind >= ValueKind::volts) continue;
    for (const NetId net : nets_at_rest(ReadingId{i})) pairs.emplace_back(net, ReadingId{i});
  }
  entry_start_.assign(graph_.net_count() + 1, 0);
  for (const auto& [net, reading] : pairs) ++entry_start_[index(net) + 1];
  for (std::uint32_t net = 0; net < graph_.net_count(); ++net) entry_start_[net + 1] += entry_start_[net];
  entries_.resize(pairs.size());
  std::vector<std::uint32_t> next(entry_start_.begin(), entry_start_.end() - 1);
  for (const auto& [net, reading] : pairs) entries_[next[index(net)]++] = reading;
  if (readings_.conditions.size() == 1) return;
  for (std::uint32_t net = 0; net < graph_.net_count(); ++net)
    std::stable_sort(entries_.begin() + entry_start_[net], entries_.begin() + entry_start_[net + 1], [this](ReadingId x, ReadingId y) {
      return readings_.rows[index(x)].condition < readings_.rows[index(y)].condition;
    });
}

std::vector<NetId> Consistency::touched_by(std::span<const Fault> faults) const {
  std::vector<NetId> nets;
  const auto add = [&](PointId p) {
    if (p != PointId::none) nets.push_back(graph_.net_at_rest(p));
  };
  for (const Fault& fault : faults) {
    for (const ElementId e : {fault.element, fault.element2})
      if (e != ElementId::none) add(graph_.end_a(e)), add(graph_.end_b(e));
    add(fault.p);
    add(fault.q);
  }
  std::sort(nets.begin(), nets.end());
  nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  return nets;
}

void Consistency::add_runs(NetId net, std::vector<Run>& runs) const {
  std::uint32_t at = entry_start_[index(net)];
  const std::uint32_t end = entry_start_[index(net) + 1];
  while (at < end) {
    const std::uint16_t condition = readings_.rows[index(entries_[at])].condition;
    // A net with one condition, the common case, is one run; else the end is found by halving.
    const auto last = readings_.rows[index(entries_[end - 1])].condition == condition
                          ? entries_.begin() + end
                          : std::partition_point(entries_.begin() + at, entries_.begin() + end, [&](ReadingId r) {
                              return readings_.rows[index(r)].condition <= condition;
                            });
    const auto stop = static_cast<std::uint32_t>(last - entries_.begin());
    runs.push_back({condition, at, stop});
    at = stop;
  }
}

/// Runs of readings that the faults can change, by condition. Where a condition joins or parts nets that the faults
/// touch, its readings on all nets that it touches belong too.
std::vector<Consistency::Run> Consistency::affected_by(std::span<const Fault> faults) const {
  const std::vector<NetId> nets = touched_by(faults);
  std::vector<Run> runs;
  for (const NetId net : nets) add_runs(net, runs);
  std::vector<Run> more;
  for (std::uint16_t c = 1; c < condition_nets_.size(); ++c) {
    const std::vector<NetId>& touched = condition_nets_[c].touched;
    if (std::find_first_of(touched.begin(), touched.end(), nets.begin(), nets.end()) == touched.end()) continue;
    for (const NetId net : touched) {
      more.clear();
      add_runs(net, more);
      for (const Run& run : more)
        if (run.condition == c) runs.push_back(run);
    }
  }
  std::stable_sort(runs.begin(), runs.end(), [](const Run& x, const Run& y) { return x.condition < y.condition; });
  return runs;
}

template <class Visit>
void Consistency::for_each_affected(std::span<const Fault> faults, Visit&& visit) const {
  ++trials_;
  const std::uint32_t trial = ++trial_;
  const std::vector<Run> runs = affected_by(faults);
  for (std::size_t i = 0; i < runs.size();) {
    const std::uint16_t condition = runs[i].condition;
    Overlay overlay = comparison_.conditions.overlays[condition].overlay;
    for (const Fault& fault : faults) apply(fault, graph_, overlay);
    const View view(graph_, overlay);
    for (; i < runs.size() && runs[i].condition == condition; ++i) {
      for (std::uint32_t at = runs[i].first; at < runs[i].last; ++at) {
        const ReadingId reading = entries_[at];
        if (stamp_[index(reading)] == trial) continue;
        stamp_[index(reading)] = trial;
        const bool possible = judge(view, comparison_.probings[index(reading)], meter_).verdict != Verdict::disagrees;
        if (!visit(reading, possible)) return;
      }
    }
  }
}

bool Consistency::explains(std::span<const Fault> faults, const Scope& scope) const {
  // The cheapest refutation first: a set that leaves one of its own readings impossible.
  if (!scope.empty() && !explains_reading(faults, scope.back())) return false;
  std::size_t explained = 0;
  bool consistent = true;
  for_each_affected(faults, [&](ReadingId reading, bool possible) {
    if (is_disagreement(reading)) {
      if (!std::binary_search(scope.begin(), scope.end(), reading)) return true;
      explained += possible ? 1u : 0u;
    }
    consistent = possible;
    return consistent;
  });
  return consistent && explained == scope.size();
}

bool Consistency::is_unrefuted(std::span<const Fault> faults) const {
  bool unrefuted = true;
  for_each_affected(faults, [&](ReadingId reading, bool possible) {
    if (!is_disagreement(reading)) unrefuted = possible;
    return unrefuted;
  });
  return unrefuted;
}

bool Consistency::explains_reading(std::span<const Fault> faults, ReadingId reading) const {
  const Overlay with = overlay(faults, reading);
  return judge(View(graph_, with), probing(reading), meter_).verdict != Verdict::disagrees;
}

std::vector<ReadingId> Consistency::mispredicted(std::span<const Fault> faults, const Scope& scope) const {
  std::vector<ReadingId> wrong, explained;
  for_each_affected(faults, [&](ReadingId reading, bool possible) {
    const bool outside = is_disagreement(reading) && !std::binary_search(scope.begin(), scope.end(), reading);
    if (!outside) (possible ? explained : wrong).push_back(reading);
    return true;
  });
  std::sort(explained.begin(), explained.end());
  for (const ReadingId reading : scope)
    if (!std::binary_search(explained.begin(), explained.end(), reading)) wrong.push_back(reading);
  std::sort(wrong.begin(), wrong.end());
  wrong.erase(std::unique(wrong.begin(), wrong.end()), wrong.end());
  return wrong;
}

bool Consistency::affects(std::span<const Fault> faults, ReadingId reading) const {
  bool affected = false;
  for_each_affected(faults, [&](ReadingId one, bool) {
    affected = one == reading;
    return !affected;
  });
  return affected;
}

Overlay Consistency::overlay(std::span<const Fault> faults, ReadingId reading) const {
  Overlay with = comparison_.conditions.overlays[readings_.rows[index(reading)].condition].overlay;
  for (const Fault& fault : faults) apply(fault, graph_, with);
  return with;
}

}  // namespace ringtrue
