#include "ways.hpp"

#include <algorithm>
#include <limits>
#include <queue>
#include <tuple>
#include <unordered_map>
#include <unordered_set>

#include "ringtrue/base/classes.hpp"

namespace ringtrue {

namespace {

constexpr std::uint32_t k_none = std::numeric_limits<std::uint32_t>::max();

/// Branches by node.
class Neighbours {
 public:
  explicit Neighbours(const Network& network) : at_(network.nodes) {
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
      at_[network.branches[i].a].push_back(i);
      // Current passes a diode one way only.
      if (!network.branches[i].is_diode) at_[network.branches[i].b].push_back(i);
    }
  }
  [[nodiscard]] const std::vector<std::uint32_t>& of(std::uint32_t node) const { return at_[node]; }

 private:
  std::vector<std::vector<std::uint32_t>> at_;
};

enum class Values : std::uint8_t { lowest, highest };

/// Cheapest ways from the red probe, by the sum of values, then by the number of elements.
class Search {
 public:
  Search(const Network& network, const std::vector<std::uint8_t>& barred, Values values)
      : network_(network), barred_(barred), values_(values), neighbours_(network), reached_(network.nodes) {}

  /// Branches from red to black, or nothing.
  std::optional<std::vector<std::uint32_t>> run() {
    offer({0, 0, Network::k_red}, k_none);
    while (!queue_.empty()) {
      const Entry entry = queue_.top();
      queue_.pop();
      const auto [sum, hops, node] = entry;
      if (node == network_.black) return branches_back();
      if (std::pair(sum, hops) > std::pair(reached_[node].sum, reached_[node].hops)) continue;
      for (const std::uint32_t i : neighbours_.of(node)) {
        if (barred_[i] != 0) continue;
        const Network::Branch& branch = network_.branches[i];
        const double ohms = (values_ == Values::lowest ? branch.ohms.lo : branch.ohms.hi).value;
        offer({sum + ohms, hops + 1, branch.a == node ? branch.b : branch.a}, i);
      }
    }
    return std::nullopt;
  }

 private:
  using Entry = std::tuple<double, std::uint32_t, std::uint32_t>;
  struct Reached {
    double sum = k_infinite_ohms.value;
    std::uint32_t hops = k_none, by = k_none;
  };

  void offer(const Entry& entry, std::uint32_t by) {
    const auto [sum, hops, node] = entry;
    Reached& reached = reached_[node];
    if (std::pair(sum, hops) >= std::pair(reached.sum, reached.hops)) return;
    reached = {sum, hops, by};
    queue_.push(entry);
  }

  [[nodiscard]] std::vector<std::uint32_t> branches_back() const {
    std::vector<std::uint32_t> found;
    for (std::uint32_t node = network_.black; node != Network::k_red;) {
      const std::uint32_t by = reached_[node].by;
      found.push_back(by);
      node = network_.branches[by].a == node ? network_.branches[by].b : network_.branches[by].a;
    }
    std::reverse(found.begin(), found.end());
    return found;
  }

  const Network& network_;
  const std::vector<std::uint8_t>& barred_;
  Values values_;
  Neighbours neighbours_;
  std::vector<Reached> reached_;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue_;
};

Way way_of(const Network& network, const std::vector<std::uint32_t>& branches) {
  Way way;
  double lo = 0, hi = 0;
  std::uint32_t node = Network::k_red;
  way.points.push_back(network.points[node]);
  for (const std::uint32_t i : branches) {
    const Network::Branch& branch = network.branches[i];
    node = branch.a == node ? branch.b : branch.a;
    way.points.push_back(network.points[node]);
    way.edges.push_back(branch.edge);
    way.edges.back().to = network.points[node];
    way.values.push_back(branch.ohms);
    way.is_copper = way.is_copper && branch.is_hard;
    lo += branch.ohms.lo.value;
    hi += branch.ohms.hi.value;
  }
  way.ohms = {Ohms{lo}, Ohms{hi}};
  return way;
}

/// Gives ways one after the other, each time without the loads of those before.
class DisjointWays {
 public:
  DisjointWays(const Network& network, Values values)
      : network_(network), values_(values), barred_(network.branches.size(), 0) {}

  std::optional<Way> next() {
    if (network_.black == network_.nodes) return std::nullopt;
    const auto branches = Search(network_, barred_, values_).run();
    if (!branches) return std::nullopt;
    for (const std::uint32_t i : *branches)
      if (!network_.branches[i].is_hard) barred_[i] = 1;
    return way_of(network_, *branches);
  }

 private:
  const Network& network_;
  Values values_;
  std::vector<std::uint8_t> barred_;
};

}  // namespace

std::vector<Way> ways_of(const Network& network, std::size_t most) {
  std::vector<Way> ways;
  // Copper goes first, even where a load may have less.
  std::vector<std::uint8_t> loads;
  for (const Network::Branch& branch : network.branches) loads.push_back(branch.is_hard ? 0 : 1);
  if (network.black != network.nodes)
    if (const auto copper = Search(network, loads, Values::lowest).run()) return {way_of(network, *copper)};
  DisjointWays source(network, Values::lowest);
  while (ways.size() < most) {
    auto way = source.next();
    if (!way) break;
    ways.push_back(std::move(*way));
  }
  return ways;
}

namespace {

/// Elements of the best ways, as many of them as are needed for their parallel value to come to the limit;
/// all elements where a mesh comes to it though none of its ways do.
std::vector<ElementId> elements_up_to(const Network& network, Ohms limit, Values values) {
  std::vector<ElementId> elements;
  const auto add = [&](const View::Edge& edge) {
    if (edge.element != ElementId::none) elements.push_back(edge.element);
  };
  double siemens = 0;
  DisjointWays source(network, values);
  while (siemens < 1 / limit.value) {
    const auto way = source.next();
    if (!way) break;
    double ohms = 0;
    for (const OhmInterval& value : way->values)
      ohms += (values == Values::lowest ? value.lo : value.hi).value;
    siemens += 1 / ohms;
    for (const View::Edge& edge : way->edges) add(edge);
    if (way->is_copper) break;
  }
  if (siemens < 1 / limit.value)
    for (const Network::Branch& branch : network.branches) add(branch.edge);
  std::sort(elements.begin(), elements.end());
  elements.erase(std::unique(elements.begin(), elements.end()), elements.end());
  return elements;
}

}  // namespace

std::vector<std::uint8_t> bypassed_edges(const Network& network, const Way& way) {
  std::unordered_set<ElementId> on_way;
  for (const View::Edge& edge : way.edges) on_way.insert(edge.element);
  Classes aside(network.nodes);
  for (const Network::Branch& branch : network.branches)
    if (on_way.count(branch.edge.element) == 0) aside.join(branch.a, branch.b);
  std::unordered_map<PointId, std::uint32_t> node_of;
  for (std::uint32_t node = 0; node < network.nodes; ++node) node_of.emplace(network.points[node], node);
  // Points of the way that are joined aside from it: what lies between the first and the last of them is
  // passed.
  std::unordered_map<std::uint32_t, std::pair<std::size_t, std::size_t>> reach;
  for (std::size_t i = 0; i < way.points.size(); ++i) {
    const auto node = node_of.find(way.points[i]);
    if (node == node_of.end()) continue;
    const auto [at, is_new] = reach.try_emplace(aside.of(node->second), i, i);
    at->second.second = i;
  }
  std::vector<std::size_t> last_from(way.points.size(), 0);
  for (const auto& [part, ends] : reach) last_from[ends.first] = std::max(last_from[ends.first], ends.second);
  std::vector<std::uint8_t> bypassed(way.edges.size(), 0);
  std::size_t passed_up_to = 0;
  for (std::size_t i = 0; i < way.edges.size(); ++i) {
    passed_up_to = std::max(passed_up_to, last_from[i]);
    bypassed[i] = i < passed_up_to ? 1 : 0;
  }
  return bypassed;
}

std::vector<ElementId> elements_to_break(const Network& network, Ohms limit) {
  if (lower_end(network) > limit) return {};
  return elements_up_to(network, limit, Values::lowest);
}

std::vector<ElementId> elements_to_raise(const Network& network, Ohms limit) {
  return elements_up_to(network, limit, Values::highest);
}

}  // namespace ringtrue
