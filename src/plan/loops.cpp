#include "loops.hpp"

#include <algorithm>
#include <boost/pending/disjoint_sets.hpp>
#include <functional>

#include "ringtrue/expect/openers.hpp"

namespace ringtrue {

PlanCondition condition_of(const Parting& parting, const ConductionGraph& graph) {
  PlanCondition made;
  for (const std::string& setting : parting.pulled) made.text += (made.text.empty() ? "" : "; ") + setting;
  if (!made.text.empty())
    if (const auto condition = parse_condition(made.text, graph.netlist()))
      made.made = overlay_of(*condition, graph);
  for (const Parting::Lift& lift : parting.lifted) {
    made.made.lift(graph, lift.conductor, lift.end);
    made.text += (made.text.empty() ? "" : "; ") +
                 point_name(made.made.lifted.back().loose, made.made, graph) + "=lifted";
  }
  return made;
}

namespace {

/// Which points of a net are joined, by rank in the net.
class Joined {
 public:
  Joined(const ConductionGraph& graph, NetId net)
      : graph_(graph),
        rank_(graph.points_of_net(net).size(), 0),
        parent_(rank_.size()),
        sets_(rank_.data(), parent_.data()) {
    for (std::uint32_t i = 0; i < parent_.size(); ++i) sets_.make_set(i);
  }
  /// False if the element's ends were joined before.
  bool join(ElementId e) {
    const std::uint32_t a = find(graph_.end_a(e)), b = find(graph_.end_b(e));
    if (a != b) sets_.link(a, b);
    return a != b;
  }
  [[nodiscard]] bool are(ElementId e) { return find(graph_.end_a(e)) == find(graph_.end_b(e)); }

 private:
  [[nodiscard]] std::uint32_t find(PointId p) { return sets_.find_set(graph_.rank_in_net(p)); }

  const ConductionGraph& graph_;
  std::vector<std::uint8_t> rank_;
  std::vector<std::uint32_t> parent_;
  boost::disjoint_sets<std::uint8_t*, std::uint32_t*, boost::find_with_path_halving> sets_;
};

bool is_pullable(ElementId e, const ConductionGraph& graph) {
  return graph.kind(e) == ElementKind::breakable && !settings_that_open(e, graph, {}).empty();
}

std::vector<std::string> settings_for(const std::vector<ElementId>& pulled, ElementId but,
                                      const ConductionGraph& graph) {
  std::vector<std::string> settings;
  for (const ElementId e : pulled) {
    if (e == but) continue;
    const std::string setting = settings_that_open(e, graph, {}).front();
    if (std::find(settings.begin(), settings.end(), setting) == settings.end()) settings.push_back(setting);
  }
  return settings;
}

NetId net_of(const std::vector<ElementId>& elements, const ConductionGraph& graph) {
  return graph.net_at_rest(graph.end_a(elements.front()));
}

}  // namespace

Loops::Loops(const ConductionGraph& graph, std::vector<ElementId> elements,
             const std::vector<std::uint8_t>& wanted, std::size_t at_rest,
             std::vector<std::uint32_t>& number_of)
    : graph_(graph),
      elements_(std::move(elements)),
      wanted_(wanted),
      at_rest_(at_rest),
      number_of_(number_of) {}

/// A setting names a conductor by its number and a point; where several of that number lie on the point it
/// means the first in the list.
bool Loops::is_liftable(ElementId e, End end) const {
  const PointId clamp = end == End::a ? graph_.end_a(e) : graph_.end_b(e);
  const std::string name = graph_.element_name(e);
  const auto at = graph_.elements_at(clamp);
  return graph_.end_a(e) != graph_.end_b(e) && std::none_of(at.begin(), at.end(), [&](ElementId other) {
           return other < e && graph_.is_conductor(other) && graph_.element_name(other) == name;
         });
}

/// Those of them whose ends nothing else joins once all are pulled.
std::vector<ElementId> Loops::parted_by(const std::vector<ElementId>& pullable) const {
  Joined joined(graph_, net_of(elements_, graph_));
  for (const ElementId e : elements_)
    if (std::find(pullable.begin(), pullable.end(), e) == pullable.end()) joined.join(e);
  std::vector<ElementId> parted;
  for (const ElementId e : pullable)
    if (!joined.are(e)) parted.push_back(e);
  return parted;
}

/// Conductors that close a loop, in their order, after what can't be lifted.
std::vector<ElementId> Loops::beyond_a_tree(const std::vector<ElementId>& fixed,
                                            const std::vector<ElementId>& conductors) const {
  Joined joined(graph_, net_of(elements_, graph_));
  for (const ElementId e : fixed) joined.join(e);
  std::vector<ElementId> beyond;
  for (const ElementId e : conductors)
    if (!joined.join(e)) beyond.push_back(e);
  return beyond;
}

Loops::Partings Loops::part(bool with_lifts) const {
  std::vector<ElementId> pullable, conductors, fixed;
  for (const ElementId e : elements_) {
    const bool can_be_lifted =
        graph_.kind(e) == ElementKind::conductor && (is_liftable(e, End::a) || is_liftable(e, End::b));
    (is_pullable(e, graph_) ? pullable : can_be_lifted ? conductors : fixed).push_back(e);
  }
  const std::vector<ElementId> parted = parted_by(pullable);
  std::vector<ElementId> stay = fixed;
  for (const ElementId e : pullable)
    if (std::find(parted.begin(), parted.end(), e) == parted.end()) stay.push_back(e);

  Partings made;
  const bool needs_lifts = with_lifts && !beyond_a_tree(stay, conductors).empty();
  for (const ElementId e : pullable) {
    const bool is_parted = std::find(parted.begin(), parted.end(), e) != parted.end();
    if (is_parted && wanted_[index(e)] != 0) made.all.push_back({settings_for(parted, e, graph_), {}});
  }
  const std::vector<ElementId>& out = needs_lifts ? parted : pullable;
  Parting last{settings_for(out, ElementId::none, graph_), {}};
  if (needs_lifts) last = fewest_readings(stay, conductors, std::move(last));
  if (last.pulled.empty() && last.lifted.empty()) return made;
  if (made.all.empty() && last.pulled.empty()) {
    const Counts counts = count_under(last);
    made.last_for_whole_net = counts.whole < at_rest_ + counts.in_loops;
  }
  made.all.push_back(std::move(last));
  return made;
}

namespace {

/// Points looked at, over all choices of what to lift.
constexpr std::size_t k_most_looks = 400'000;

}  // namespace

Parting Loops::fewest_readings(const std::vector<ElementId>& fixed, const std::vector<ElementId>& conductors,
                               Parting parting) const {
  const std::vector<ElementId> first = beyond_a_tree(fixed, conductors);
  const auto end_of = [this](ElementId e) { return is_liftable(e, End::a) ? End::a : End::b; };
  for (const ElementId e : first) parting.lifted.push_back({e, end_of(e)});
  std::size_t tries = k_most_looks / graph_.points_of_net(net_of(elements_, graph_)).size();
  std::size_t best = readings_with(parting);
  const auto take_if_better = [&](const Parting& other) {
    const std::size_t readings = readings_with(other);
    if (tries > 0) --tries;
    if (readings >= best) return false;
    best = readings;
    parting = other;
    return true;
  };
  const auto opens_as_much = [&](const Parting& other) {
    std::vector<ElementId> left;
    for (const ElementId e : conductors)
      if (std::none_of(other.lifted.begin(), other.lifted.end(),
                       [e](const Parting::Lift& lift) { return lift.conductor == e; }))
        left.push_back(e);
    return beyond_a_tree(fixed, left).empty();
  };

  // All choices where they are few.
  double choices = 1;
  for (std::size_t i = 0; i < first.size(); ++i)
    choices *= 2.0 * static_cast<double>(conductors.size() - i) / static_cast<double>(i + 1);
  if (choices <= static_cast<double>(tries)) {
    Parting other = parting;
    const std::function<void(std::size_t, std::size_t)> choose = [&](std::size_t place, std::size_t from) {
      if (place == other.lifted.size()) {
        if (opens_as_much(other)) take_if_better(other);
        return;
      }
      for (std::size_t i = from; i < conductors.size(); ++i)
        for (const End end : {End::a, End::b})
          if (is_liftable(conductors[i], end)) {
            other.lifted[place] = {conductors[i], end};
            choose(place + 1, i + 1);
          }
    };
    choose(0, 0);
    return parting;
  }
  for (bool better = true; better && tries > 0;) {
    better = false;
    for (std::size_t place = 0; place < parting.lifted.size(); ++place)
      for (std::size_t i = 0; i < conductors.size() && tries > 0; ++i)
        for (const End end : {End::a, End::b}) {
          Parting other = parting;
          other.lifted[place] = {conductors[i], end};
          if (is_liftable(conductors[i], end) && opens_as_much(other))
            better = take_if_better(other) || better;
        }
  }
  return parting;
}

std::size_t Loops::readings_with(const Parting& parting) const {
  const Counts counts = count_under(parting);
  return std::min(counts.whole, at_rest_ + counts.in_loops);
}

Loops::Counts Loops::count_under(const Parting& parting) const {
  const PlanCondition condition = condition_of(parting, graph_);
  const View view(graph_, condition.made.overlay);
  const auto of_net = graph_.points_of_net(net_of(elements_, graph_));
  std::vector<PointId> points(of_net.begin(), of_net.end());
  for (const auto& lifted : condition.made.lifted) points.push_back(lifted.loose);
  if (number_of_.size() < graph_.point_count() + condition.made.lifted.size())
    number_of_.resize(graph_.point_count() + condition.made.lifted.size(), Numbering::k_unseen);
  wanted_here_.resize(graph_.element_count(), 0);
  for (const ElementId e : elements_) wanted_here_[index(e)] = wanted_[index(e)];
  Counts counts;
  counts.in_loops = Cover(view, points, wanted_here_, number_of_).least_readings();
  counts.whole = Cover(view, points, wanted_, number_of_).least_readings();
  for (const ElementId e : elements_) wanted_here_[index(e)] = 0;
  return counts;
}

}  // namespace ringtrue
