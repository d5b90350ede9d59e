#include "repeated_conductors.hpp"

#include <algorithm>
#include <optional>
#include <span>
#include <utility>

#include "ringtrue/base/repeats.hpp"

namespace ringtrue {

namespace {

bool is_same_conductor(const Netlist& net, std::size_t x, std::size_t y) {
  const Conductor &a = net.conductors[x], &b = net.conductors[y];
  const bool same_way = a.from == b.from && a.to == b.to;
  const bool turned = a.from == b.to && a.to == b.from;
  if (!same_way && !turned) return false;
  const auto text = [&](ConductorText field, std::size_t row) { return net.conductor_text.get(field, row); };
  const auto same = [&](ConductorText field) { return text(field, x) == text(field, y); };
  if (!text(ConductorText::id, x).empty() && !text(ConductorText::id, y).empty())
    return same(ConductorText::id);
  return same(ConductorText::wire) && same(ConductorText::cable) && same(ConductorText::core);
}

/// A conductor and the earlier one that it repeats.
struct Repeated {
  std::size_t row;
  std::uint32_t of;
};

/// Open addressing over the unordered pair of ends.
std::vector<Repeated> find_repeated(const Netlist& net) {
  const auto ends_of = [&net](std::uint32_t i) {
    const Conductor& one = net.conductors[i];
    return std::optional(std::pair(index(one.from), index(one.is_spare() ? one.from : one.to)));
  };
  const auto rows = static_cast<std::uint32_t>(net.conductors.size());
  const std::vector<std::uint32_t> suspects = that_may_repeat(rows, net.points.size(), ends_of);
  constexpr std::uint32_t k_empty = 0xFFFFFFFFu;
  std::size_t slots = 64;
  while (slots < suspects.size() * 2) slots *= 2;
  std::vector<std::uint32_t> table(slots, k_empty);
  std::vector<Repeated> repeated;
  for (const std::uint32_t i : suspects) {
    const std::uint64_t a = index(net.conductors[i].from), b = index(net.conductors[i].to);
    const std::uint64_t hash = (std::min(a, b) << 32 | std::max(a, b)) * 0x9E3779B97F4A7C15u;
    std::size_t at = (hash >> 32) & (slots - 1);
    while (table[at] != k_empty && !is_same_conductor(net, table[at], i)) at = (at + 1) & (slots - 1);
    if (table[at] == k_empty)
      table[at] = i;
    else
      repeated.push_back({i, table[at]});
  }
  return repeated;
}

/// Where a conductor that is kept stands once the repeated rows before it are gone.
std::uint32_t place_after_merging(std::uint32_t kept, std::span<const Repeated> repeated) {
  const auto before = std::lower_bound(repeated.begin(), repeated.end(), kept,
                                       [](const Repeated& r, std::uint32_t row) { return r.row < row; });
  return kept - static_cast<std::uint32_t>(before - repeated.begin());
}

}  // namespace

void merge_repeated_conductors(Netlist& net) {
  const std::vector<Repeated> repeated = find_repeated(net);
  if (repeated.empty()) return;
  TextColumns<ConductorText> text;
  std::size_t kept = 0, next = 0;
  for (std::size_t i = 0; i < net.conductors.size(); ++i) {
    const RowSource source = net.conductors[i].source;
    if (next < repeated.size() && repeated[next].row == i) {
      net.repeated_conductors.push_back({place_after_merging(repeated[next].of, repeated), source});
      ++next;
      net.notes.push_back({"conductor " + net.conductor_name(i) + " is listed twice; counted once",
                           {net.files[source.file], source.line, "", ""}});
      continue;
    }
    for (std::size_t f = 0; f < static_cast<std::size_t>(ConductorText::count_); ++f)
      text.set(static_cast<ConductorText>(f), kept, net.conductor_text.get(static_cast<ConductorText>(f), i));
    net.conductors[kept++] = net.conductors[i];
  }
  net.conductors.resize(kept);
  net.conductor_text = std::move(text);
}

}  // namespace ringtrue
