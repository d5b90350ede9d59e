// Drawings changed to what the panel is, fault by fault: the changed rows have to join what a naive
// simulation of the panel with that fault joins.
#include <gtest/gtest.h>

#include <cstdio>
#include <map>

#include "ringtrue/revise/as_built.hpp"
#include "tests/support/drawn_faults.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_panel.hpp"

namespace ringtrue::testing {
namespace {

using Joined = std::map<std::string, std::string>;  ///< by point: the least name on its net

Joined joined(const Netlist& net, const std::vector<std::uint32_t>& nets) {
  std::map<std::uint32_t, std::string> least;
  for (std::uint32_t p = 0; p < nets.size(); ++p) {
    const std::string name = net.points.name(PointId{p});
    const auto [at, is_new] = least.emplace(nets[p], name);
    if (!is_new) at->second = std::min(at->second, name);
  }
  Joined all;
  for (std::uint32_t p = 0; p < nets.size(); ++p) all[net.points.name(PointId{p})] = least[nets[p]];
  return all;
}

/// `X1:4.int` so many places on; `A1:3` for connectors by `places` 0 is the pin on the other part.
std::string moved_name(std::string name, const Fault& shift, const PointTable& points) {
  if (shift.places == 0) {
    const std::string one(part_of_place(points.place_name(points.place(shift.p))));
    const std::string other(part_of_place(points.place_name(points.place(shift.q))));
    const std::string pin = name.substr(name.rfind(':'));
    return (name.substr(0, name.rfind(':')) == one ? other : one) + pin;
  }
  const std::size_t pin = name.rfind(':') + 1, dot = name.find('.', pin);
  const std::size_t last = name.find_last_of("0123456789", dot);
  const std::size_t first = name.find_last_not_of("0123456789", last) + 1;
  const int number = std::stoi(name.substr(first, last + 1 - first)) + shift.places;
  return name.replace(first, last + 1 - first, std::to_string(number));
}

/// A shift is so many wires landed elsewhere; which ones is told by the names of points.
void inject(const Fault& fault, const Netlist& net, OraclePanel& panel) {
  if (fault.kind != FaultKind::shift) return panel.inject(fault);
  const auto part_of = [&](PointId p) { return part_of_place(net.points.place_name(net.points.place(p))); };
  const auto number_of = [&](PointId p) {
    const std::string pin(pin_of_place(net.points.place_name(net.points.place(p))));
    const std::size_t first = pin.find_first_of("0123456789");
    return first == pin.npos ? -1 : std::stoi(pin.substr(first));
  };
  const auto is_on_it = [&](PointId at) {
    if (at == PointId::none) return false;
    if (fault.places == 0) return part_of(at) == part_of(fault.p) || part_of(at) == part_of(fault.q);
    const auto letters = [&](PointId p) {
      const std::string_view pin = pin_of_place(net.points.place_name(net.points.place(p)));
      return pin.substr(0, pin.find_first_of("0123456789"));
    };
    return letters(at) == letters(fault.p) && part_of(at) == part_of(fault.p) &&
           net.points.side(at) == net.points.side(fault.p) && number_of(at) >= number_of(fault.p) &&
           number_of(at) <= number_of(fault.q);
  };
  for (std::uint32_t i = 0; i < net.conductors.size(); ++i) {
    const Conductor& wire = net.conductors[i];
    if (wire.kind == ConductorKind::bridge || wire.kind == ConductorKind::busbar) continue;
    for (const End end : {End::a, End::b}) {
      const PointId at = end == End::a ? wire.from : wire.to;
      if (!is_on_it(at)) continue;
      Fault landed;
      landed.kind = FaultKind::miswire, landed.element = ElementId{i}, landed.end = end;
      landed.p = point(net, moved_name(net.points.name(at), fault, net.points));
      panel.inject(landed);
    }
  }
}

TEST(AsBuilt, JoinsWhatThePanelWithTheFaultJoins) {
  const unsigned seed = test_seed();
  std::map<FaultKind, std::size_t> drawn, refused;
  for (unsigned round = 0; round < 150; ++round) {
    const unsigned panel_seed = 1000 * seed + round;
    const Netlist net = netlist(random_panel(panel_seed));
    const ConductionGraph graph(net);
    const Readings none;
    const Comparison comparison = compare(graph, none, {}).value();
    for (const Fault& fault : universe_of(graph, none, comparison)) {
      const std::vector<Fault> decided[] = {{fault}};
      const auto built = as_built(graph, decided, none, comparison);
      ASSERT_EQ(!built.has_value(), cannot_be_drawn(fault, net))
          << panel_seed << " " << text_of(fault, graph);
      ++(built ? drawn : refused)[fault.kind];
      if (!built) continue;
      OraclePanel panel(net);
      inject(fault, net, panel);
      const OraclePanel as_drawn(built->netlist);
      for (const OracleAct& act : panel.acts())
        ASSERT_EQ(joined(built->netlist, as_drawn.nets(act)), joined(net, panel.nets(act)))
            << panel_seed << " " << text_of(fault, graph) << " " << act.text();
    }
  }
  for (const auto& [kind, count] : drawn)
    std::printf("%-15s drawn %zu, can't be drawn %zu\n", std::string(word(kind)).c_str(), count,
                refused[kind]);
  for (const FaultKind kind :
       {FaultKind::open, FaultKind::missing_bridge, FaultKind::miswire, FaultKind::swap, FaultKind::shift,
        FaultKind::short_circuit, FaultKind::extra_bridge, FaultKind::wrong_contact, FaultKind::reversed,
        FaultKind::wrong_value})
    EXPECT_GT(drawn[kind], 0u) << word(kind);
}

}  // namespace
}  // namespace ringtrue::testing
