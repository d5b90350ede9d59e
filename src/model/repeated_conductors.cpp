#include "repeated_conductors.hpp"

#include <algorithm>

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

/// Open addressing over the unordered pair of ends: a million conductors, hardly any twice.
std::vector<std::size_t> find_repeated(const Netlist& net) {
  constexpr std::uint32_t k_empty = 0xFFFFFFFFu;
  std::size_t slots = 64;
  while (slots < net.conductors.size() * 2) slots *= 2;
  std::vector<std::uint32_t> table(slots, k_empty);
  std::vector<std::size_t> repeated;
  for (std::uint32_t i = 0; i < net.conductors.size(); ++i) {
    const std::uint64_t a = index(net.conductors[i].from), b = index(net.conductors[i].to);
    const std::uint64_t hash = (std::min(a, b) << 32 | std::max(a, b)) * 0x9E3779B97F4A7C15u;
    std::size_t at = (hash >> 32) & (slots - 1);
    while (table[at] != k_empty && !is_same_conductor(net, table[at], i)) at = (at + 1) & (slots - 1);
    if (table[at] == k_empty)
      table[at] = i;
    else
      repeated.push_back(i);
  }
  return repeated;
}

}  // namespace

void merge_repeated_conductors(Netlist& net) {
  const std::vector<std::size_t> repeated = find_repeated(net);
  if (repeated.empty()) return;
  TextColumns<ConductorText> text;
  std::size_t kept = 0, next = 0;
  for (std::size_t i = 0; i < net.conductors.size(); ++i) {
    const RowSource source = net.conductors[i].source;
    if (next < repeated.size() && repeated[next] == i) {
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
