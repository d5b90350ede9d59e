#include "shifts.hpp"

#include <algorithm>

namespace ringtrue {

bool Shifts::Refutation::holds_for(const RowOfWires::Run& run) const {
  const auto first = static_cast<std::ptrdiff_t>(run.first), last = static_cast<std::ptrdiff_t>(run.last);
  return run.places == places && after < first && first <= first_in && last_in <= last && last < before;
}

/// Looks for a reason why a run beside other faults can't be.
class Shifts::Trial {
 public:
  Trial(const Consistency& consistency, std::span<const Fault> faults, const RowOfWires& row,
        const RowOfWires::Run& run)
      : consistency_(consistency),
        graph_(consistency.graph()),
        row_(row),
        run_(run),
        faults_(faults.begin(), faults.end()) {
    faults_.push_back(row.shift(run));
  }

  [[nodiscard]] std::optional<Refutation> run(ReadingId to_explain) {
    if (stays_joined(to_explain)) return rests_on_;
    // In the middle of the run least depends on where it ends.
    const std::size_t middle = (run_.first + run_.last) / 2;
    for (std::size_t i = 0; i <= run_.last - run_.first; ++i) {
      const std::size_t place = i % 2 == 0 ? middle - i / 2 : middle + (i + 1) / 2;
      for (const ElementId e : graph_.elements_at(row_.points()[place])) {
        if (!is_wire_in_panel(e, graph_)) continue;
        for (const PointId p : {graph_.end_a(e), graph_.end_b(e)})
          if (auto found = refuted_at(p)) return found;
      }
    }
    return std::nullopt;
  }

 private:
  [[nodiscard]] std::optional<Refutation> refuted_at(PointId p) {
    constexpr std::size_t k_most_readings = 4;
    const std::span<const ReadingId> all = consistency_.readings_at(p);
    for (const ReadingId reading : all.first(std::min(all.size(), k_most_readings))) {
      const Probing& probing = consistency_.probing(reading);
      if (consistency_.comparison().standing[index(reading)] != Standing::agrees ||
          probing.value.kind != ValueKind::beep || probing.from_either_side || probing.to_either_side ||
          is_set_aside(faults_, reading))
        continue;
      see_under(consistency_.condition_of(reading), reading);
      if (is_apart(probing.from, probing.to) || is_apart(probing.to, probing.from)) return rests_on_;
    }
    return std::nullopt;
  }

  void see_under(std::uint16_t condition, ReadingId reading) {
    if (view_ && condition_ == condition) return;
    view_.reset();
    condition_ = condition;
    overlay_ = consistency_.overlay(faults_, reading);
    view_.emplace(graph_, overlay_);
  }

  /// A short path of copper leads from probe to probe of a reading that saw none.
  [[nodiscard]] bool stays_joined(ReadingId reading) {
    constexpr std::size_t k_most_points = 64;
    const Probing& probing = consistency_.probing(reading);
    if (probing.value.kind == ValueKind::beep || probing.value.kind == ValueKind::ohms ||
        probing.from_either_side || probing.to_either_side)
      return false;
    see_under(consistency_.condition_of(reading), reading);
    reached_.assign(1, probing.from);
    std::vector<std::pair<std::size_t, View::Edge>> came{{0, {}}};  // from which point, by which edge
    for (std::size_t i = 0; i < reached_.size() && reached_.size() < k_most_points; ++i)
      view_->for_each_hard(reached_[i], [&](const View::Edge& edge) {
        if (std::find(reached_.begin(), reached_.end(), edge.to) != reached_.end()) return;
        reached_.push_back(edge.to);
        came.emplace_back(i, edge);
      });
    const auto end = std::find(reached_.begin(), reached_.end(), probing.to);
    if (end == reached_.end()) return false;
    start_to_rest();
    double ohms = k_default_path_ohms;
    for (auto at = static_cast<std::size_t>(end - reached_.begin()); at != 0; at = came[at].first) {
      const View::Edge& edge = came[at].second;
      ohms += view_->stated_ohms(edge).value;
      if (edge.element != ElementId::none) rest_on(edge.element);
    }
    return ohms < seen_ohms(probing, consistency_.meter(reading)).lo.value;
  }

  void start_to_rest() {
    rests_on_ = {run_.places, -1, static_cast<std::ptrdiff_t>(run_.last),
                 static_cast<std::ptrdiff_t>(run_.first), static_cast<std::ptrdiff_t>(row_.points().size())};
  }

  /// `from` lies on copper that ends before `to`, soon, and without a load.
  [[nodiscard]] bool is_apart(PointId from, PointId to) {
    constexpr std::size_t k_most_points = 24;
    start_to_rest();
    reached_.assign(1, from);
    bool is_apart = from != to;
    const auto reach = [&](const View::Edge& edge) {
      if (edge.element != ElementId::none) rest_on(edge.element);
      if (std::find(reached_.begin(), reached_.end(), edge.to) == reached_.end()) reached_.push_back(edge.to);
      is_apart = is_apart && edge.to != to && reached_.size() <= k_most_points;
    };
    for (std::size_t i = 0; i < reached_.size() && is_apart; ++i) {
      const PointId at = reached_[i];
      if (index(at) < graph_.point_count()) {
        if (const auto place = row_.place_of(at)) rest_on_wires_at(static_cast<std::ptrdiff_t>(*place));
        for (const ElementId e : graph_.elements_at(at)) {
          rest_on(e);
          is_apart = is_apart && graph_.is_hard(e);
        }
      }
      view_->for_each_hard(at, reach);
      view_->for_each_load(at, [&](const View::Edge&) { is_apart = false; });
    }
    return is_apart;
  }

  /// Which wires are on the place, and which have come to it.
  void rest_on_wires_at(std::ptrdiff_t place) {
    rest_on(place);
    rest_on(place - run_.places);
  }
  /// Where the ends of the element are.
  void rest_on(ElementId e) {
    for (const PointId p : {graph_.end_a(e), graph_.end_b(e)})
      if (const auto place = row_.place_of(p)) rest_on(static_cast<std::ptrdiff_t>(*place));
  }
  void rest_on(std::ptrdiff_t place) {
    const auto first = static_cast<std::ptrdiff_t>(run_.first), last = static_cast<std::ptrdiff_t>(run_.last);
    if (place < first) {
      rests_on_.after = std::max(rests_on_.after, place);
    } else if (place > last) {
      rests_on_.before = std::min(rests_on_.before, place);
    } else {
      rests_on_.first_in = std::min(rests_on_.first_in, place);
      rests_on_.last_in = std::max(rests_on_.last_in, place);
    }
  }

  const Consistency& consistency_;
  const ConductionGraph& graph_;
  const RowOfWires& row_;
  const RowOfWires::Run run_;
  std::vector<Fault> faults_;
  std::uint16_t condition_ = 0;
  Overlay overlay_;
  std::optional<View> view_;
  std::vector<PointId> reached_;
  Refutation rests_on_{};
};

std::vector<Fault> Shifts::of(PointId drawn) {
  if (runs_ == Runs::all) return landing_.shifts_of(drawn);
  std::vector<Fault> shifts;
  if (!landing_.has_wires(drawn)) return shifts;
  if (runs_ == Runs::last_of_faults) add_last_runs(drawn, shifts);
  landing_.add_connectors(drawn, shifts);
  return shifts;
}

void Shifts::add_last_runs(PointId drawn, std::vector<Fault>& shifts) {
  const PointId first = RowOfWires::first_of(graph_, drawn);
  auto at = rows_.find(first);
  if (at == rows_.end()) at = rows_.emplace(first, Row{RowOfWires(graph_, first), {}}).first;
  auto& [row, refutations] = at->second;
  row.for_each_run(drawn, [&, &row = row, &refutations = refutations](const RowOfWires::Run& run) {
    auto refuted = std::find_if(refutations.begin(), refutations.end(),
                                [&](const Refutation& one) { return one.holds_for(run); });
    if (refuted == refutations.end()) {
      const auto found = Trial(consistency_, faults_, row, run).run(reading_);
      if (found)
        refuted = refutations.insert(refutations.end(), *found);
      else
        shifts.push_back(row.shift(run));
    }
    // As it refutes all that end later, too.
    return refuted == refutations.end() || refuted->before < std::ssize(row.points());
  });
}

}  // namespace ringtrue
