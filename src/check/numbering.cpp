// A set numbers by conductor (each wire its own number) or by potential (all wires of a net the same). Each
// numbered conductor that shares a net with an earlier one speaks for one of the two: it repeats a number of
// the net, or brings a new one.
#include <algorithm>
#include <tuple>

#include "ringtrue/base/name_table.hpp"
#include "rules.hpp"

namespace ringtrue::check {

namespace {

/// The share of the conductors that must speak for one numbering before the rules go by it; estimate.
constexpr double k_least_confidence = 0.8;

struct Numbered {
  std::uint32_t net, number, conductor;
};

std::vector<Numbered> numbered_conductors(const Drawing& drawing, const std::vector<std::uint32_t>& net_of) {
  NameTable numbers;
  std::vector<Numbered> all;
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const std::string_view wire = drawing.text(ConductorText::wire, i);
    if (!wire.empty())
      all.push_back({net_of[index(drawing.netlist.conductors[i].from)], numbers.intern(wire), i});
  }
  return all;
}

std::vector<Numbered> by_net(const Drawing& drawing) {
  std::vector<Numbered> all = numbered_conductors(drawing, drawing.wire_net);
  std::sort(all.begin(), all.end(), [](const Numbered& a, const Numbered& b) {
    return std::tie(a.net, a.number, a.conductor) < std::tie(b.net, b.number, b.conductor);
  });
  return all;
}

}  // namespace

NumberingFound find_numbering(const Drawing& drawing) {
  NumberingFound found;
  std::size_t repeats = 0;
  const std::vector<Numbered> all = by_net(drawing);
  for (std::size_t i = 1; i < all.size(); ++i) {
    if (all[i].net != all[i - 1].net) continue;
    ++found.conductors;
    repeats += all[i].number == all[i - 1].number;
  }
  const double share =
      found.conductors == 0 ? 0.5 : static_cast<double>(repeats) / static_cast<double>(found.conductors);
  const bool is_repeating = share > 0.5;
  found.confidence = found.conductors == 0 ? 0 : std::max(share, 1 - share);
  if (found.confidence >= k_least_confidence)
    found.numbering = is_repeating ? Numbering::per_potential : Numbering::per_conductor;
  if (drawing.options.numbering != Numbering::undecided) {
    found.numbering = drawing.options.numbering;
    found.is_given = true;
  }
  return found;
}

void wire_number_on_two_nets(const Drawing& drawing, Found& found) {
  std::vector<Numbered> all = numbered_conductors(drawing, drawing.copper_net);
  std::sort(all.begin(), all.end(), [](const Numbered& a, const Numbered& b) {
    return std::tie(a.number, a.net, a.conductor) < std::tie(b.number, b.net, b.conductor);
  });
  for (std::size_t first = 0, last = 0; first < all.size(); first = last) {
    std::size_t nets = 1;
    for (last = first + 1; last < all.size() && all[last].number == all[first].number; ++last)
      nets += all[last].net != all[last - 1].net;
    if (nets == 1) continue;
    std::vector<std::uint32_t> conductors;
    for (std::size_t i = first; i < last; ++i) conductors.push_back(all[i].conductor);
    std::sort(conductors.begin(), conductors.end());
    std::vector<ProblemRow> rows;
    for (const std::uint32_t conductor : conductors) rows.push_back(drawing.conductor_row(conductor));
    found.add("Wire number " + std::string(drawing.text(ConductorText::wire, all[first].conductor)) +
                  " stands on " + counted(nets, "net") + " that no copper joins.",
              std::move(rows));
  }
}

void net_under_several_numbers(const Drawing& drawing, Found& found) {
  if (drawing.numbering.numbering != Numbering::per_potential) return;
  const std::vector<Numbered> all = by_net(drawing);
  for (std::size_t first = 0, last = 0; first < all.size(); first = last) {
    std::vector<ProblemRow> rows{drawing.conductor_row(all[first].conductor)};
    std::string numbers(drawing.text(ConductorText::wire, all[first].conductor));
    for (last = first + 1; last < all.size() && all[last].net == all[first].net; ++last) {
      if (all[last].number == all[last - 1].number) continue;
      rows.push_back(drawing.conductor_row(all[last].conductor));
      numbers.append(", ").append(drawing.text(ConductorText::wire, all[last].conductor));
    }
    if (rows.size() > 1)
      found.add("One net carries the wire numbers " + numbers + ", and the set numbers by potential.",
                std::move(rows));
  }
}

}  // namespace ringtrue::check
