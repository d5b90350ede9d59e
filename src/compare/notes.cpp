#include "ringtrue/compare/notes.hpp"

#include <algorithm>
#include <unordered_map>

#include "ringtrue/expect/currents.hpp"

namespace ringtrue {

namespace {

class Noting {
 public:
  Noting(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
         const std::vector<std::uint8_t>& proven, std::size_t most)
      : graph_(graph), readings_(readings), comparison_(comparison), proven_(proven), most_(most) {
    views_.reserve(comparison.conditions.overlays.size());
    for (const ConditionOverlay& condition : comparison.conditions.overlays)
      views_.emplace_back(graph, condition.overlay);
  }

  ReadingNotes run() {
    for (std::uint32_t i = 0; i < readings_.rows.size(); ++i)
      if (NotedReadings* kind = kind_of(ReadingId{i})) note(ReadingId{i}, *kind);
    return std::move(made_);
  }

 private:
  /// Where the reading belongs; null for most.
  [[nodiscard]] NotedReadings* kind_of(ReadingId reading) {
    const Standing standing = comparison_.standing[index(reading)];
    const Probing& probing = comparison_.probings[index(reading)];
    if (standing != Standing::agrees && standing != Standing::either) return nullptr;
    const View& view = views_[readings_.rows[index(reading)].condition];
    switch (probing.value.kind) {
      case ValueKind::beep:
        if (standing == Standing::either) return &made_.beeps;
        return hides_a_break(probing) ? &made_.hiding : nullptr;
      case ValueKind::open:
      case ValueKind::over_range:
        return standing == Standing::either ? &made_.opens : nullptr;
      case ValueKind::ohms:
        return view.net(probing.from) != view.net(probing.to) ? &made_.ohms : nullptr;
      default:
        return nullptr;
    }
  }

  [[nodiscard]] bool hides_a_break(const Probing& probing) const {
    if (index(probing.from) >= graph_.point_count() || probing.from_either_side || probing.to_either_side)
      return false;
    const auto elements = graph_.elements_at(probing.from);
    return std::any_of(elements.begin(), elements.end(), [&](ElementId e) {
      return graph_.is_hard(e) && graph_.is_on_at_rest(e) && proven_[index(e)] == 0 &&
             graph_.other_end(e, probing.from) == probing.to;
    });
  }

  void note(ReadingId reading, NotedReadings& kind) {
    ++kind.all;
    std::size_t& tried = tried_[&kind];
    if (kind.some.size() >= most_ || tried >= k_tried_for_each * most_) return;
    if (&kind == &made_.ohms && !has_several_ways(reading)) return;
    if (&kind == &made_.hiding && is_in_known_ring(reading)) return;
    ++tried;
    auto expectation = explain(graph_, comparison_.probings[index(reading)],
                               readings_.conditions[readings_.rows[index(reading)].condition],
                               comparison_.meters.of(reading));
    if (!expectation) return;
    if (&kind == &made_.hiding) return note_hidden(reading, std::move(*expectation));
    kind.some.push_back({reading, 0, std::move(*expectation)});
  }

  [[nodiscard]] bool has_several_ways(ReadingId reading) const {
    const View& view = views_[readings_.rows[index(reading)].condition];
    return ways_between(view, comparison_.probings[index(reading)], 2).size() > 1;
  }

  /// Counts the reading to the ring that one of its elements is known to be in.
  bool is_in_known_ring(ReadingId reading) {
    const Probing& probing = comparison_.probings[index(reading)];
    for (const ElementId e : graph_.elements_at(probing.from)) {
      const auto ring = ring_of_.find(e);
      if (ring == ring_of_.end() || graph_.other_end(e, probing.from) != probing.to) continue;
      ++made_.hiding.some[ring->second].alike;
      return true;
    }
    return false;
  }

  void note_hidden(ReadingId reading, Expectation expectation) {
    // A beep that only a suspected fault keeps from proving anything hides nothing by itself.
    if (expectation.hidden.empty()) {
      --made_.hiding.all;
      return;
    }
    const HiddenBreak& broken = expectation.hidden.front();
    const auto enter = [&](ElementId e) {
      if (e != ElementId::none && graph_.is_hard(e)) ring_of_.emplace(e, made_.hiding.some.size());
    };
    for (const ElementId e : broken.elements) enter(e);
    const bool is_copper = broken.second.is_copper;
    for (const View::Edge& edge : broken.second.edges)
      if (is_copper) enter(edge.element);
    made_.hiding.some.push_back({reading, 0, std::move(expectation)});
  }

  /// Most readings that may be worth a note turn out to be; more tries than this are not spent on others.
  static constexpr std::size_t k_tried_for_each = 20;
  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  const std::vector<std::uint8_t>& proven_;
  std::size_t most_;
  std::vector<View> views_;
  std::unordered_map<ElementId, std::size_t> ring_of_;  ///< place in `made_.hiding.some`
  std::unordered_map<const NotedReadings*, std::size_t> tried_;
  ReadingNotes made_;
};

}  // namespace

ReadingNotes note_readings(const ConductionGraph& graph, const Readings& readings,
                           const Comparison& comparison, const std::vector<std::uint8_t>& proven,
                           std::size_t most) {
  return Noting(graph, readings, comparison, proven, most).run();
}

}  // namespace ringtrue
