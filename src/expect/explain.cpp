#include "ringtrue/expect/explain.hpp"

#include <algorithm>
#include <unordered_set>

#include "network.hpp"
#include "ringtrue/expect/effective_resistance.hpp"
#include "steps.hpp"
#include "ways.hpp"

namespace ringtrue {

std::string_view word(Buzzer buzzer) {
  switch (buzzer) {
    case Buzzer::beeps:
      return "beep";
    case Buzzer::silent:
      return "no-beep";
    case Buzzer::either:
      return "either";
  }
  return {};
}

Buzzer buzzer_on(OhmInterval circuit, Ohms limit) {
  const double on_the_limit = limit.value * (1 + k_solver_accuracy);
  if (circuit.hi.value <= on_the_limit) return Buzzer::beeps;
  return circuit.lo.value > on_the_limit ? Buzzer::silent : Buzzer::either;
}

std::vector<ElementId> loads_of(const Way& way, const ConductionGraph& graph) {
  std::vector<ElementId> loads;
  for (const View::Edge& edge : way.edges)
    if (edge.element != ElementId::none && !graph.is_hard(edge.element)) loads.push_back(edge.element);
  return loads;
}

namespace {

constexpr std::size_t k_most_ways = 4;

OhmInterval interval_for_buzzer(const Network& network) {
  const Ohms lo = lower_end(network);
  return lo == k_infinite_ohms ? k_open_interval : OhmInterval{lo, upper_end(network, Counting::limited)};
}

class Explaining {
 public:
  Explaining(const ConductionGraph& graph, const Probing& probing, std::string_view when, Ohms limit)
      : graph_(graph), asked_(graph, probing, when), limit_(limit) {}

  Expectation run() {
    asked_.with({}, [this](const View& view, const Probing& probing) { look(view, probing); });
    if (made_.buzzer == Buzzer::either) settle();
    if (made_.buzzer == Buzzer::beeps && !made_.hidden.empty()) uncover();
    if (!made_.steps) made_.after_steps = Buzzer::either;
    return std::move(made_);
  }

 private:
  void look(const View& view, const Probing& probing) {
    const Network network = network_of_points(view, probing);
    made_.to_buzzer = interval_for_buzzer(network);
    made_.ohms = made_.to_buzzer.is_open()
                     ? k_open_interval
                     : OhmInterval{made_.to_buzzer.lo, upper_end(network, Counting::whole)};
    made_.buzzer = buzzer_on(made_.to_buzzer, limit_);
    if (made_.to_buzzer.is_open()) return;
    made_.ways = ways_of(network, k_most_ways + 1);
    made_.has_more_ways = made_.ways.size() > k_most_ways;
    if (made_.has_more_ways) made_.ways.pop_back();
    if (made_.buzzer == Buzzer::either) find_causes();
    if (made_.buzzer == Buzzer::beeps) find_hidden(view, probing);
  }

  /// On copper, what the drawing states; else the loads of the ways that may come to the limit, or of all of
  /// them where only several together do.
  void find_causes() {
    const bool one_may = made_.ways.front().ohms.lo <= limit_;
    for (const Way& way : made_.ways) {
      if (one_may && way.ohms.lo > limit_) continue;
      for (std::size_t i = 0; i < way.edges.size(); ++i) {
        const ElementId e = way.edges[i].element;
        if (e != ElementId::none && (way.is_copper ? graph_.stated_ohms(e).value > 0.1 : !graph_.is_hard(e)))
          made_.causes.push_back(e);
      }
    }
  }

  void find_hidden(const View& view, const Probing& probing) {
    const Way& first = made_.ways.front();
    for (const View::Edge& edge : first.edges) on_first_way_.insert(edge.element);
    std::unordered_set<ElementId> known;
    const std::vector<std::uint8_t> bypassed = bypassed_edges(network_of_points(view, probing), first);
    for (std::size_t i = 0; i < first.edges.size(); ++i) {
      const ElementId e = first.edges[i].element;
      if (bypassed[i] == 0 || e == ElementId::none || known.count(e) != 0) continue;
      const Network network = network_without(e, view, probing);
      if (lower_end(network) > limit_) continue;
      // What carries the current past this break carries it past every other element that it avoids.
      HiddenBreak broken{{}, ways_of(network, 1).front()};
      std::unordered_set<ElementId> used;
      for (const View::Edge& edge : broken.second.edges) used.insert(edge.element);
      for (const View::Edge& edge : first.edges)
        if (edge.element != ElementId::none && used.count(edge.element) == 0 &&
            known.insert(edge.element).second)
          broken.elements.push_back(edge.element);
      made_.hidden.push_back(std::move(broken));
    }
  }

  [[nodiscard]] Network network_without(ElementId e, const View& view, const Probing& probing) const {
    Overlay without = view.overlay();
    without.switch_off(graph_, e);
    return network_of_points(View(graph_, without), probing);
  }

  void settle() {
    const ToBreak to_break = [this](const View& view, const Probing& probing) {
      const Network network = network_of_points(view, probing);
      made_.after_steps = buzzer_on(interval_for_buzzer(network), limit_);
      std::optional<std::vector<ElementId>> elements(std::in_place);
      if (made_.after_steps == Buzzer::either) elements = elements_to_break(network, limit_);
      return elements;
    };
    made_.steps = fewest_steps(asked_, to_break);
  }

  void uncover() {
    made_.after_steps = Buzzer::beeps;
    const ToBreak to_break = [this](const View& view, const Probing& probing) {
      std::optional<std::vector<ElementId>> elements;
      if (stands(made_.ways.front(), view)) elements = ways_past(view, probing);
      return elements;
    };
    made_.steps = fewest_steps(asked_, to_break);
  }

  /// Nothing on the way is open or lifted.
  [[nodiscard]] bool stands(const Way& way, const View& view) const {
    const auto is_end = [&](PointId p, ElementId e) {
      return index(p) >= graph_.point_count() || p == view.end_a(e) || p == view.end_b(e);
    };
    for (std::size_t i = 0; i < way.edges.size(); ++i) {
      const ElementId e = way.edges[i].element;
      if (e == ElementId::none) continue;
      if (!view.is_on(e) || !is_end(way.points[i], e) || !is_end(way.points[i + 1], e)) return false;
    }
    return true;
  }

  /// Elements of which one has to be opened before a break of the first way shows; none if each break shows
  /// already, nothing if a break can't be made to show.
  [[nodiscard]] std::optional<std::vector<ElementId>> ways_past(const View& view,
                                                                const Probing& probing) const {
    const Way& first = made_.ways.front();
    const std::vector<std::uint8_t> bypassed = bypassed_edges(network_of_points(view, probing), first);
    for (std::size_t i = 0; i < first.edges.size(); ++i) {
      const ElementId e = first.edges[i].element;
      if (bypassed[i] == 0 || e == ElementId::none) continue;
      std::vector<ElementId> elements = elements_to_break(network_without(e, view, probing), limit_);
      if (elements.empty()) continue;
      std::erase_if(elements, [this](ElementId one) { return on_first_way_.count(one) != 0; });
      if (elements.empty()) return std::nullopt;
      return elements;
    }
    return std::vector<ElementId>{};
  }

  const ConductionGraph& graph_;
  Asked asked_;
  Ohms limit_;
  std::unordered_set<ElementId> on_first_way_;
  Expectation made_;
};

}  // namespace

Result<Expectation> explain(const ConductionGraph& graph, const Probing& probing, std::string_view when,
                            const MeterSettings& meter) {
  const auto condition = parse_condition(when, graph);
  if (!condition) return tl::unexpected(condition.error());
  return Explaining(graph, probing, when, beep_limit(meter)).run();
}

}  // namespace ringtrue
