#include "isolate.hpp"

#include <algorithm>
#include <unordered_map>

#include "group_tests.hpp"
#include "identify.hpp"

namespace ringtrue {

void isolate_all(Draft& draft) {
  GroupTests tests;
  tests.condition = draft.condition(prepared(draft, Pulled::every_load));
  const View view(draft.graph, draft.plan.conditions[tests.condition].made.overlay);
  std::vector<bool> in_field(draft.graph.point_count(), false);
  for (const Part& part : draft.graph.netlist().parts)
    if (part.place == PartPlace::field)
      for (const PointId p : draft.graph.points_of_part(part.a)) in_field[index(p)] = true;

  std::unordered_map<NetId, std::size_t> bundle_of;
  for (std::uint32_t p = 0; p < draft.graph.point_count(); ++p) {
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
  for (std::uint32_t p = 0; p < draft.graph.point_count(); ++p) {
    const NetId net = view.net(PointId{p});
    if (!in_field[p] && has_point.try_emplace(net, true).second)
      tests.bundles[bundle_of.at(net)].push_back(PointId{p});
  }
  tests.codes = codes_parting(tests.bundles.size());
  tests.tests = tests_parting(tests.bundles.size());
  tests.tests_stuck = ringtrue::tests_stuck(tests.bundles.size());
  tests.tests_locating = ringtrue::tests_locating(tests.bundles.size());
  draft.plan.group_tests.push_back(std::move(tests));
}

std::function<bool(const Fault&)> shown_by_group_tests(const Plan& plan, const ConductionGraph& graph) {
  constexpr std::uint32_t k_none = 0xFFFFFFFFu;
  std::vector<std::vector<std::uint32_t>> bundle_of;  // by tests, then by point
  for (const GroupTests& tests : plan.group_tests) {
    const View view(graph, plan.conditions[tests.condition].made.overlay);
    std::unordered_map<NetId, std::uint32_t> of_net;
    for (std::uint32_t bundle = 0; bundle < tests.bundles.size(); ++bundle)
      for (const PointId p : tests.bundles[bundle]) of_net[view.net(p)] = bundle;
    std::vector<std::uint32_t>& of_point = bundle_of.emplace_back(graph.point_count(), k_none);
    for (std::uint32_t p = 0; p < of_point.size(); ++p)
      if (const auto at = of_net.find(view.net(PointId{p})); at != of_net.end()) of_point[p] = at->second;
  }
  return [bundle_of = std::move(bundle_of)](const Fault& fault) {
    if (fault.kind != FaultKind::short_circuit && fault.kind != FaultKind::extra_bridge) return false;
    return std::any_of(bundle_of.begin(), bundle_of.end(), [&](const std::vector<std::uint32_t>& of_point) {
      const std::uint32_t one = of_point[index(fault.p)], other = of_point[index(fault.q)];
      return one != k_none && other != k_none && one != other;
    });
  };
}

}  // namespace ringtrue
