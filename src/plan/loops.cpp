#include "loops.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "ringtrue/base/classes.hpp"
#include "ringtrue/expect/openers.hpp"

namespace ringtrue {

PlanCondition condition_of(const Parting& parting, const ConductionGraph& graph) {
  PlanCondition made;
  for (const std::string& setting : parting.pulled) made.text += (made.text.empty() ? "" : "; ") + setting;
  if (!made.text.empty())
    if (const auto condition = parse_condition(made.text, graph)) made.made = overlay_of(*condition, graph);
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
      : graph_(graph), classes_(graph.points_of_net(net).size()) {}
  /// False if the element's ends were joined before.
  bool join(ElementId e) {
    const std::uint32_t a = find(graph_.end_a(e)), b = find(graph_.end_b(e));
    if (a != b) classes_.join(a, b);
    return a != b;
  }
  [[nodiscard]] bool are(ElementId e) { return find(graph_.end_a(e)) == find(graph_.end_b(e)); }

 private:
  [[nodiscard]] std::uint32_t find(PointId p) { return classes_.of(graph_.rank_in_net(p)); }

  const ConductionGraph& graph_;
  Classes classes_;
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
      number_of_(number_of) {
  for (const ElementId e : elements_) {
    const bool can_be_lifted =
        graph_.kind(e) == ElementKind::conductor && (is_liftable(e, End::a) || is_liftable(e, End::b));
    (is_pullable(e, graph_) ? pullable_ : can_be_lifted ? conductors_ : fixed_).push_back(e);
  }
}

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

/// With all that can be pulled out of the way, no conductor that stays closes a loop, and nothing joins the
/// ends of what can be pulled but what can't be opened.
bool Loops::opens_enough(const std::vector<ElementId>& lifted) const {
  Joined fixed(graph_, net_of(elements_, graph_)), all(graph_, net_of(elements_, graph_));
  for (const ElementId e : fixed_) fixed.join(e), all.join(e);
  for (const ElementId e : conductors_)
    if (std::find(lifted.begin(), lifted.end(), e) == lifted.end() && !all.join(e)) return false;
  return std::all_of(pullable_.begin(), pullable_.end(),
                     [&](ElementId e) { return wanted_[index(e)] == 0 || fixed.are(e) || !all.are(e); });
}

/// Conductors that close a loop, in their order, after what can't be lifted and what can be pulled.
std::vector<ElementId> Loops::beyond_a_tree() const {
  Joined joined(graph_, net_of(elements_, graph_));
  for (const ElementId e : fixed_) joined.join(e);
  for (const ElementId e : pullable_) joined.join(e);
  std::vector<ElementId> beyond;
  for (const ElementId e : conductors_)
    if (!joined.join(e)) beyond.push_back(e);
  return beyond;
}

namespace {

/// Work done to find what to lift, over all that is tried: points or elements looked at.
constexpr double k_most_looks = 400'000;

/// Calls `use` for each choice of `size` of them, until it returns false.
void for_each_choice(const std::vector<ElementId>& of, std::size_t size,
                     const std::function<bool(const std::vector<ElementId>&)>& use) {
  std::vector<ElementId> chosen;
  const std::function<bool(std::size_t)> choose = [&](std::size_t from) {
    if (chosen.size() == size) return use(chosen);
    for (std::size_t i = from; i < of.size(); ++i) {
      chosen.push_back(of[i]);
      const bool goes_on = choose(i + 1);
      chosen.pop_back();
      if (!goes_on) return false;
    }
    return true;
  };
  (void)choose(0);
}

double choices(std::size_t of, std::size_t size) {
  double count = 1;
  for (std::size_t i = 0; i < size; ++i) count *= static_cast<double>(of - i) / static_cast<double>(i + 1);
  return count;
}

}  // namespace

/// The smallest sets that open enough; at least one, which may be empty.
std::vector<std::vector<ElementId>> Loops::fewest_lifts() const {
  const std::vector<ElementId> enough = beyond_a_tree();
  double looks = 0;
  for (std::size_t size = 0; size < enough.size(); ++size) {
    looks += choices(conductors_.size(), size) * static_cast<double>(elements_.size());
    if (looks > k_most_looks) return {enough};
    std::vector<std::vector<ElementId>> sets;
    for_each_choice(conductors_, size, [&](const std::vector<ElementId>& lifted) {
      if (opens_enough(lifted)) sets.push_back(lifted);
      return true;
    });
    if (!sets.empty()) return sets;
  }
  if (choices(conductors_.size(), enough.size()) * static_cast<double>(elements_.size()) > k_most_looks)
    return {enough};
  std::vector<std::vector<ElementId>> sets;
  for_each_choice(conductors_, enough.size(), [&](const std::vector<ElementId>& lifted) {
    if (opens_enough(lifted)) sets.push_back(lifted);
    return true;
  });
  return sets;
}

std::vector<Parting::Lift> Loops::at_best_ends(const std::vector<std::vector<ElementId>>& sets) const {
  std::vector<Parting::Lift> best;
  const auto first_end = [this](ElementId e) { return is_liftable(e, End::a) ? End::a : End::b; };
  for (const ElementId e : sets.front()) best.push_back({e, first_end(e)});
  if (best.empty()) return best;
  const double tries = static_cast<double>(sets.size()) * std::pow(2.0, static_cast<double>(best.size()));
  const auto size_of_net = static_cast<double>(graph_.points_of_net(net_of(elements_, graph_)).size());
  if (tries * size_of_net > k_most_looks) return after_exchanges(std::move(best));
  auto least = badness(best);
  for (const std::vector<ElementId>& set : sets)
    for (std::size_t ends = 0; ends < std::size_t{1} << set.size(); ++ends) {
      std::vector<Parting::Lift> lifts;
      for (std::size_t i = 0; i < set.size(); ++i)
        lifts.push_back({set[i], (ends >> i & 1u) != 0 ? End::b : End::a});
      const bool can_be = std::all_of(lifts.begin(), lifts.end(), [this](const Parting::Lift& lift) {
        return is_liftable(lift.conductor, lift.end);
      });
      if (!can_be) continue;
      if (const auto now = badness(lifts); now < least) least = now, best = std::move(lifts);
    }
  return best;
}

std::vector<Parting::Lift> Loops::after_exchanges(std::vector<Parting::Lift> lifts) const {
  auto least = badness(lifts);
  double looks = 0;
  const auto size_of_net = static_cast<double>(graph_.points_of_net(net_of(elements_, graph_)).size());
  for (bool better = true; better;) {
    better = false;
    for (std::size_t place = 0; place < lifts.size(); ++place)
      for (const ElementId e : conductors_)
        for (const End end : {End::a, End::b}) {
          if (looks > k_most_looks) return lifts;
          std::vector<Parting::Lift> other = lifts;
          other[place] = {e, end};
          std::vector<ElementId> conductors;
          for (const Parting::Lift& lift : other) conductors.push_back(lift.conductor);
          looks += static_cast<double>(elements_.size());
          if (!is_liftable(e, end) || !opens_enough(conductors)) continue;
          looks += size_of_net;
          if (const auto now = badness(other); now < least)
            least = now, lifts = std::move(other), better = true;
        }
  }
  return lifts;
}

/// What is to be pulled with these lifts: each time what shows most of what is left, pulling least; out of
/// all that can be pulled together, or, where that is much, of nothing, everything, and everything but one.
Loops::Pulls Loops::with_pulls(const std::vector<Parting::Lift>& lifts) const {
  std::vector<Parting> choices;
  constexpr std::size_t k_few = 5;
  const std::size_t count = pullable_.size();
  if (count <= k_few)
    for (std::size_t set = 0; set < std::size_t{1} << count; ++set) {
      std::vector<ElementId> pulled;
      for (std::size_t i = 0; i < count; ++i)
        if ((set >> i & 1u) != 0) pulled.push_back(pullable_[i]);
      choices.push_back({settings_for(pulled, ElementId::none, graph_), lifts});
    }
  else
    choices = {{{}, lifts}, {settings_for(pullable_, ElementId::none, graph_), lifts}};
  for (std::size_t i = 0; count > k_few && i < count; ++i)
    choices.push_back({settings_for(pullable_, pullable_[i], graph_), lifts});
  std::stable_sort(choices.begin(), choices.end(),
                   [](const Parting& x, const Parting& y) { return x.pulled.size() < y.pulled.size(); });

  Pulls made;
  for (const ElementId e : elements_)
    if (wanted_[index(e)] != 0) made.left.push_back(e);
  std::vector<std::vector<ElementId>> shown;
  for (const Parting& choice : choices) shown.push_back(shown_under(choice));
  const auto is_shown = [&shown](std::size_t by, ElementId e) {
    return std::find(shown[by].begin(), shown[by].end(), e) != shown[by].end();
  };
  while (!made.left.empty()) {
    std::size_t best = 0, most = 0;
    for (std::size_t i = 0; i < choices.size(); ++i) {
      const auto news = static_cast<std::size_t>(
          std::count_if(made.left.begin(), made.left.end(), [&](ElementId e) { return is_shown(i, e); }));
      if (news > most) best = i, most = news;
    }
    if (most == 0) break;
    (made.partings.empty() ? made.by_first : made.by_others) += readings_for(made.left, choices[best]);
    made.partings.push_back(choices[best]);
    std::erase_if(made.left, [&](ElementId e) { return is_shown(best, e); });
  }
  return made;
}

/// Readings that show as many of the elements as the parting lets them.
std::size_t Loops::readings_for(const std::vector<ElementId>& elements, const Parting& parting) const {
  const PlanCondition condition = condition_of(parting, graph_);
  const View view(graph_, condition.made.overlay);
  wanted_here_.resize(graph_.element_count(), 0);
  for (const ElementId e : elements) wanted_here_[index(e)] = 1;
  const std::size_t readings =
      Cover(view, points_under(condition), wanted_here_, number_of_).least_readings();
  for (const ElementId e : elements) wanted_here_[index(e)] = 0;
  return readings;
}

Loops::Partings Loops::part(bool with_lifts) const {
  std::vector<Parting::Lift> lifts;
  if (with_lifts) lifts = at_best_ends(fewest_lifts());
  Pulls pulls = with_pulls(lifts);
  Partings made;
  made.all = std::move(pulls.partings);
  if (!made.all.empty())
    made.first_is_for_whole_net = readings_for_whole_net(made.all.front()) < at_rest_ + pulls.by_first;
  return made;
}

/// Elements not shown, then readings.
std::pair<std::size_t, std::size_t> Loops::badness(const std::vector<Parting::Lift>& lifts) const {
  const Pulls pulls = with_pulls(lifts);
  if (pulls.partings.empty()) return {pulls.left.size(), at_rest_};
  const std::size_t first =
      std::min(at_rest_ + pulls.by_first, readings_for_whole_net(pulls.partings.front()));
  return {pulls.left.size(), first + pulls.by_others};
}

std::size_t Loops::readings_for_whole_net(const Parting& parting) const {
  const PlanCondition condition = condition_of(parting, graph_);
  const View view(graph_, condition.made.overlay);
  return Cover(view, points_under(condition), wanted_, number_of_).least_readings();
}

std::vector<ElementId> Loops::shown_under(const Parting& parting) const {
  const PlanCondition condition = condition_of(parting, graph_);
  const View view(graph_, condition.made.overlay);
  const Cover cover(view, points_under(condition), wanted_, number_of_);
  std::vector<ElementId> shown;
  for (const ElementId e : elements_)
    if (wanted_[index(e)] != 0 && view.is_on(e) && cover.is_single(e)) shown.push_back(e);
  return shown;
}

std::vector<PointId> Loops::points_under(const PlanCondition& condition) const {
  const auto of_net = graph_.points_of_net(net_of(elements_, graph_));
  std::vector<PointId> points(of_net.begin(), of_net.end());
  for (const auto& lifted : condition.made.lifted) points.push_back(lifted.loose);
  if (number_of_.size() < graph_.point_count() + condition.made.lifted.size())
    number_of_.resize(graph_.point_count() + condition.made.lifted.size(), Numbering::k_unseen);
  return points;
}

}  // namespace ringtrue
