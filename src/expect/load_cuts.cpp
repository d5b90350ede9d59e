#include "ringtrue/expect/load_cuts.hpp"

#include <algorithm>

namespace ringtrue {

LoadCuts::LoadCuts(const View& view, const Numbering& numbering) {
  const auto& points = numbering.points();
  root_.resize(points.size());
  end_.resize(points.size());
  for (std::uint32_t number = 0; number < points.size(); ++number) {
    root_[number] = points[number].parent == number ? number : root_[points[number].parent];
    end_[number] = points[number].last + 1;
  }
  std::vector<Load> loads = loads_between_nets(view, numbering);
  join_nets(loads);
  leave_out_dead_ends(loads);

  leading_back_.resize(points.size() + 1);
  all_.resize(points.size() + 1);
  for (std::uint32_t number = 0; number < points.size(); ++number) {
    Conductance &back = leading_back_[number + 1] = leading_back_[number],
                &all = all_[number + 1] = all_[number];
    view.for_each_load(points[number].point, [&](const View::Edge& edge) {
      has_loads_ = true;
      const double lowest = view.interval(edge).lo.value;
      const Conductance one = lowest > 0 ? Conductance{1 / lowest, 0} : Conductance{0, 1};
      all = all + one;
      const auto at = std::lower_bound(loads.begin(), loads.end(), edge.element,
                                       [](const Load& load, ElementId e) { return load.element < e; });
      if (at == loads.end() || at->element != edge.element || at->leads_back) back = back + one;
    });
  }
}

/// Sorted by element; loads of the overlay, and those with an end that isn't numbered, are not among them.
std::vector<LoadCuts::Load> LoadCuts::loads_between_nets(const View& view, const Numbering& numbering) const {
  std::vector<Load> loads;
  for (std::uint32_t number = 0; number < root_.size(); ++number) {
    const PointId p = numbering.points()[number].point;
    view.for_each_load(p, [&](const View::Edge& edge) {
      if (edge.element == ElementId::none || view.end_a(edge.element) != p) return;
      const std::uint32_t other = numbering.number(edge.to);
      if (other == Numbering::k_unseen || root_[other] == root_[number]) return;
      loads.push_back({edge.element, root_[number], root_[other], true});
    });
  }
  std::sort(loads.begin(), loads.end(), [](const Load& x, const Load& y) { return x.element < y.element; });
  return loads;
}

void LoadCuts::join_nets(const std::vector<Load>& loads) {
  joined_.resize(root_.size());
  for (std::uint32_t i = 0; i < joined_.size(); ++i) joined_[i] = i;
  const auto find = [this](std::uint32_t at) {
    while (joined_[at] != at) at = joined_[at] = joined_[joined_[at]];
    return at;
  };
  for (const Load& load : loads) joined_[find(load.a)] = find(load.b);
  for (std::uint32_t i = 0; i < joined_.size(); ++i) joined_[i] = find(i);
}

void LoadCuts::leave_out_dead_ends(std::vector<Load>& loads) const {
  std::vector<std::vector<std::uint32_t>> at_net(loads.empty() ? 0 : root_.size());
  std::vector<std::uint32_t> left(at_net.size(), 0), ends;
  for (std::uint32_t i = 0; i < loads.size(); ++i)
    for (const std::uint32_t net : {loads[i].a, loads[i].b}) at_net[net].push_back(i);
  for (std::uint32_t net = 0; net < at_net.size(); ++net) {
    left[net] = static_cast<std::uint32_t>(at_net[net].size());
    if (left[net] == 1) ends.push_back(net);
  }
  while (!ends.empty()) {
    const std::uint32_t net = ends.back();
    ends.pop_back();
    for (const std::uint32_t i : at_net[net]) {
      if (!loads[i].leads_back) continue;
      loads[i].leads_back = false;
      const std::uint32_t other = loads[i].a == net ? loads[i].b : loads[i].a;
      --left[net];
      if (--left[other] == 1) ends.push_back(other);
    }
  }
}

}  // namespace ringtrue
