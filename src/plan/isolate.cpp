// Isolation::all: two-group tests, with everything out and unplugged that can be.
#include <algorithm>
#include <unordered_map>

#include "group_tests.hpp"
#include "planner.hpp"

namespace ringtrue {

void Planner::isolate_all() {
  GroupTests tests;
  tests.condition = condition(prepared(Pulled::every_load));
  const View view(graph_, plan_.conditions[tests.condition].made.overlay);
  std::vector<bool> in_field(graph_.point_count(), false);
  for (const Part& part : graph_.netlist().parts)
    if (part.place == PartPlace::field)
      for (const PointId p : graph_.points_of_part(part.a)) in_field[index(p)] = true;

  std::unordered_map<NetId, std::size_t> bundle_of;
  for (std::uint32_t p = 0; p < graph_.point_count(); ++p) {
    if (in_field[p] || bundle_of.count(view.net(PointId{p})) != 0) continue;
    std::vector<NetId> nets = {view.net(PointId{p})};
    for (std::size_t i = 0; i < nets.size(); ++i) {
      if (!bundle_of.try_emplace(nets[i], tests.bundles.size()).second) continue;
      for (const ElementId load : view.loads_of_net(nets[i]))
        if (view.is_on(load))
          for (const PointId end : {view.end_a(load), view.end_b(load)})
            if (bundle_of.count(view.net(end)) == 0) nets.push_back(view.net(end));
    }
    tests.bundles.emplace_back();
  }
  std::unordered_map<NetId, bool> has_point;
  for (std::uint32_t p = 0; p < graph_.point_count(); ++p) {
    const NetId net = view.net(PointId{p});
    if (!in_field[p] && has_point.try_emplace(net, true).second)
      tests.bundles[bundle_of.at(net)].push_back(PointId{p});
  }
  tests.codes = codes_parting(tests.bundles.size());
  tests.tests = tests_parting(tests.bundles.size());
  tests.tests_stuck = ringtrue::tests_stuck(tests.bundles.size());
  tests.tests_locating = ringtrue::tests_locating(tests.bundles.size());
  plan_.group_tests.push_back(std::move(tests));
}

}  // namespace ringtrue
