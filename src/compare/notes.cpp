#include "ringtrue/compare/notes.hpp"

#include <algorithm>

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
    if (kind.some.size() >= most_ || tried_ >= k_tried_for_each * most_) return;
    ++tried_;
    auto expectation = explain(graph_, comparison_.probings[index(reading)],
                               readings_.conditions[readings_.rows[index(reading)].condition],
                               comparison_.meters.of(reading));
    if (!expectation) return;
    if (&kind == &made_.hiding) return note_hidden(reading, std::move(*expectation));
    if (&kind == &made_.ohms && expectation->ways.size() < 2) return;
    kind.some.push_back({reading, 0, std::move(*expectation)});
  }

  void note_hidden(ReadingId reading, Expectation expectation) {
    // A beep that only a suspected fault keeps from proving anything hides nothing by itself.
    if (expectation.hidden.empty()) {
      --made_.hiding.all;
      return;
    }
    const std::vector<ElementId> ring = ring_of(expectation.hidden.front());
    const auto known = std::find(rings_.begin(), rings_.end(), ring);
    if (known != rings_.end()) {
      ++made_.hiding.some[static_cast<std::size_t>(known - rings_.begin())].alike;
      return;
    }
    rings_.push_back(ring);
    made_.hiding.some.push_back({reading, 0, std::move(expectation)});
  }

  /// The elements and those that carry the current past them: a ring is the same from each of its members.
  static std::vector<ElementId> ring_of(const HiddenBreak& broken) {
    std::vector<ElementId> ring = broken.elements;
    for (const View::Edge& edge : broken.second.edges) ring.push_back(edge.element);
    std::sort(ring.begin(), ring.end());
    return ring;
  }

  /// Most readings that may be worth a note turn out to be; more tries than this are not spent on others.
  static constexpr std::size_t k_tried_for_each = 20;
  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  const std::vector<std::uint8_t>& proven_;
  std::size_t most_;
  std::vector<View> views_;
  std::vector<std::vector<ElementId>> rings_;  ///< of `made_.hiding.some`
  std::size_t tried_ = 0;
  ReadingNotes made_;
};

}  // namespace

ReadingNotes note_readings(const ConductionGraph& graph, const Readings& readings,
                           const Comparison& comparison, const std::vector<std::uint8_t>& proven,
                           std::size_t most) {
  return Noting(graph, readings, comparison, proven, most).run();
}

}  // namespace ringtrue
