// The network is brought down to what carries current: joined nodes become one, parallel resistors one, and
// branches that end nowhere go. The rest is a grounded Laplacian, symmetric and positive definite, for
// Eigen's sparse LDLT with minimum-degree ordering (Davis 2006, from memory). Where 1e-3 ohms stand beside
// 1e7 the pivots lose digits, so the solution is refined by its residual; whatever error is left enters the
// two energy bounds squared.
#include "ringtrue/expect/effective_resistance.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "ringtrue/base/classes.hpp"

namespace ringtrue {

namespace {

constexpr std::uint32_t k_none = std::numeric_limits<std::uint32_t>::max();
/// Refinements at most; one is the rule.
constexpr int k_max_refinements = 20;

struct Edge {
  std::uint32_t a, b;
  double siemens;
};

using Vector = Eigen::VectorXd;

/// Nodes joined by 0 ohms share a number; `count` of them.
struct Merged {
  std::vector<std::uint32_t> number;
  std::uint32_t count = 0;
};

Merged merge_joined(std::uint32_t nodes, std::span<const Resistor> resistors) {
  Classes classes(nodes);
  for (const Resistor& r : resistors)
    if (r.ohms == 0) classes.join(r.a, r.b);
  Merged merged{std::vector<std::uint32_t>(nodes, k_none), 0};
  std::vector<std::uint32_t> number_of_root(nodes, k_none);
  for (std::uint32_t node = 0; node < nodes; ++node) {
    std::uint32_t& number = number_of_root[classes.of(node)];
    if (number == k_none) number = merged.count++;
    merged.number[node] = number;
  }
  return merged;
}

/// Resistors between different nodes, parallel ones added up, as rows of neighbours.
class Mesh {
 public:
  Mesh(const Merged& merged, std::span<const Resistor> resistors) {
    for (const Resistor& r : resistors) {
      const std::uint32_t a = merged.number[r.a], b = merged.number[r.b];
      if (a != b && r.ohms < k_infinite_ohms.value)
        edges_.push_back({std::min(a, b), std::max(a, b), 1 / r.ohms});
    }
    std::sort(edges_.begin(), edges_.end(),
              [](const Edge& x, const Edge& y) { return std::pair(x.a, x.b) < std::pair(y.a, y.b); });
    std::size_t kept = 0;
    for (const Edge& edge : edges_) {
      if (kept != 0 && edges_[kept - 1].a == edge.a && edges_[kept - 1].b == edge.b)
        edges_[kept - 1].siemens += edge.siemens;
      else
        edges_[kept++] = edge;
    }
    edges_.resize(kept);
    list_neighbours(merged.count);
  }

  /// Leaves the edges between the nodes that join the two, without branches that end nowhere. False if
  /// nothing joins them.
  bool reduce(std::uint32_t from, std::uint32_t to) {
    std::vector<std::uint8_t>& kept = reached_;
    kept.assign(start_.size() - 1, 0);
    std::vector<std::uint32_t> queue{from};
    kept[from] = 1;
    for (std::size_t next = 0; next < queue.size(); ++next)
      for_each(queue[next], [&](std::uint32_t far, std::uint32_t) {
        if (kept[far] != 0) return;
        kept[far] = 1;
        queue.push_back(far);
      });
    if (kept[to] == 0) return false;
    cut_dead_ends(from, to, queue, kept);
    std::erase_if(edges_, [&](const Edge& edge) { return kept[edge.a] == 0 || kept[edge.b] == 0; });
    list_neighbours(static_cast<std::uint32_t>(kept.size()));
    return true;
  }

  /// After `reduce` found nothing between the two: the node is joined to `from`.
  [[nodiscard]] bool is_reached(std::uint32_t node) const { return reached_[node] != 0; }
  [[nodiscard]] const std::vector<Edge>& edges() const { return edges_; }
  /// Nodes cut off, outermost first, each with the node it hung on.
  [[nodiscard]] const std::vector<std::pair<std::uint32_t, std::uint32_t>>& dead_ends() const {
    return dead_ends_;
  }
  template <class Visit>
  void for_each(std::uint32_t node, Visit&& visit) const {
    for (std::uint32_t i = start_[node]; i < start_[node + 1]; ++i) {
      const Edge& edge = edges_[at_[i]];
      visit(edge.a == node ? edge.b : edge.a, at_[i]);
    }
  }

 private:
  void list_neighbours(std::uint32_t nodes) {
    start_.assign(nodes + 1, 0);
    for (const Edge& edge : edges_) ++start_[edge.a + 1], ++start_[edge.b + 1];
    std::partial_sum(start_.begin(), start_.end(), start_.begin());
    at_.resize(2 * edges_.size());
    std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
    for (std::uint32_t i = 0; i < edges_.size(); ++i)
      at_[next[edges_[i].a]++] = i, at_[next[edges_[i].b]++] = i;
  }

  void cut_dead_ends(std::uint32_t from, std::uint32_t to, const std::vector<std::uint32_t>& reached,
                     std::vector<std::uint8_t>& kept) {
    std::vector<std::uint32_t> degree(kept.size(), 0), dead;
    const auto is_dead = [&](std::uint32_t node) { return degree[node] == 1 && node != from && node != to; };
    for (const std::uint32_t node : reached) {
      degree[node] = start_[node + 1] - start_[node];
      if (is_dead(node)) dead.push_back(node);
    }
    for (std::size_t next = 0; next < dead.size(); ++next) {
      kept[dead[next]] = 0;
      for_each(dead[next], [&](std::uint32_t far, std::uint32_t) {
        if (kept[far] == 0) return;
        dead_ends_.emplace_back(dead[next], far);
        --degree[far];
        if (is_dead(far)) dead.push_back(far);
      });
    }
  }

  std::vector<Edge> edges_;
  std::vector<std::uint32_t> start_, at_;
  std::vector<std::uint8_t> reached_;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> dead_ends_;
};

/// The mesh with `to` grounded and one ampere fed in at `from`.
class Grounded {
 public:
  Grounded(const Mesh& mesh, std::uint32_t nodes, std::uint32_t from, std::uint32_t to)
      : mesh_(mesh), from_(from), to_(to), row_(nodes, k_none) {
    for (const Edge& edge : mesh.edges()) add_node(edge.a), add_node(edge.b);
  }

  void solve() {
    factorise();
    const auto rows = static_cast<Eigen::Index>(nodes_.size());
    volts_ = Vector::Zero(rows);
    Vector residual = Vector::Zero(rows);
    residual[row_[from_]] = 1;
    for (int i = 0; i < k_max_refinements; ++i) {
      const Vector step = ldlt_.solve(residual);
      if (!step.allFinite()) break;
      volts_ += step;
      residual = residual_of(volts_);
      bounds_ = better(bounds_, enclose());
      if (bounds_.hi.value <= bounds_.lo.value * (1 + k_solver_accuracy / 4)) break;
    }
  }

  [[nodiscard]] OhmInterval bounds() const { return bounds_; }
  /// Volts of a node, per volt between the probes.
  [[nodiscard]] double potential(std::uint32_t node) const {
    return row_[node] == k_none ? 0 : volts_[row_[node]] / volts_[row_[from_]];
  }

 private:
  void add_node(std::uint32_t node) {
    if (node == to_ || row_[node] != k_none) return;
    row_[node] = static_cast<std::uint32_t>(nodes_.size());
    nodes_.push_back(node);
  }

  [[nodiscard]] double volts(std::uint32_t node) const { return node == to_ ? 0 : volts_[row_[node]]; }

  void factorise() {
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(3 * mesh_.edges().size());
    for (const Edge& edge : mesh_.edges()) {
      const std::uint32_t a = row_[edge.a], b = row_[edge.b];
      if (a != k_none) entries.emplace_back(a, a, edge.siemens);
      if (b != k_none) entries.emplace_back(b, b, edge.siemens);
      if (a != k_none && b != k_none) entries.emplace_back(std::max(a, b), std::min(a, b), -edge.siemens);
    }
    const auto rows = static_cast<Eigen::Index>(nodes_.size());
    Eigen::SparseMatrix<double> matrix(rows, rows);
    matrix.setFromTriplets(entries.begin(), entries.end());
    ldlt_.compute(matrix);
  }

  /// Current that is missing at each node, summed branch by branch, where it's exact to the last digits.
  [[nodiscard]] Vector residual_of(const Vector& of) const {
    Vector residual = Vector::Zero(of.size());
    residual[row_[from_]] = 1;
    for (const Edge& edge : mesh_.edges()) {
      const double amperes = edge.siemens * (volts(edge.a) - volts(edge.b));
      if (edge.a != to_) residual[row_[edge.a]] -= amperes;
      if (edge.b != to_) residual[row_[edge.b]] += amperes;
    }
    return residual;
  }

  static OhmInterval better(OhmInterval x, OhmInterval y) {
    return {std::max(x.lo, y.lo), std::min(x.hi, y.hi)};
  }

  /// Dirichlet below, Thomson above. Sums of positive terms only, so that rounding stays in the last digits.
  [[nodiscard]] OhmInterval enclose() const {
    double siemens = 0;
    const double across = volts(from_);
    for (const Edge& edge : mesh_.edges()) {
      const double share = (volts(edge.a) - volts(edge.b)) / across;
      siemens += edge.siemens * share * share;
    }
    constexpr double k_rounding = 1e-13;
    OhmInterval bounds{Ohms{0}, k_infinite_ohms};
    if (std::isfinite(siemens) && siemens > 0) bounds.lo = Ohms{(1 - k_rounding) / siemens};
    double ohms = 0;
    for (const auto& [amperes, edge_siemens] : conserved_flow()) ohms += amperes * amperes / edge_siemens;
    if (std::isfinite(ohms)) bounds.hi = Ohms{ohms * (1 + k_rounding)};
    return bounds;
  }

  /// The currents of the solution, with what is missing at each node sent along a tree of the best
  /// conductors, so that exactly one ampere goes from `from` to `to`.
  [[nodiscard]] std::vector<std::pair<double, double>> conserved_flow() const {
    std::vector<std::pair<double, double>> flow;
    for (const Edge& edge : mesh_.edges())
      flow.emplace_back(edge.siemens * (volts(edge.a) - volts(edge.b)), edge.siemens);
    if (tree_.empty()) grow_tree();
    Vector missing = residual_of(volts_);
    for (auto branch = tree_.rbegin(); branch != tree_.rend(); ++branch) {
      const Edge& edge = mesh_.edges()[branch->edge];
      const double excess = missing[row_[branch->node]];
      flow[branch->edge].first += edge.a == branch->node ? excess : -excess;
      if (branch->towards != to_) missing[row_[branch->towards]] += excess;
    }
    return flow;
  }

  struct Branch {
    std::uint32_t node, towards, edge;
  };
  /// Prim's tree from `to`, best conductor first; each branch leads a node towards `to`.
  void grow_tree() const {
    using Offer = std::pair<double, Branch>;
    const auto is_worse = [](const Offer& x, const Offer& y) { return x.first < y.first; };
    std::vector<Offer> offers;
    std::vector<std::uint8_t> in_tree(row_.size(), 0);
    const auto enter = [&](std::uint32_t node) {
      in_tree[node] = 1;
      mesh_.for_each(node, [&](std::uint32_t far, std::uint32_t edge) {
        if (in_tree[far] != 0) return;
        offers.push_back({mesh_.edges()[edge].siemens, {far, node, edge}});
        std::push_heap(offers.begin(), offers.end(), is_worse);
      });
    };
    enter(to_);
    while (!offers.empty()) {
      std::pop_heap(offers.begin(), offers.end(), is_worse);
      const Branch branch = offers.back().second;
      offers.pop_back();
      if (in_tree[branch.node] != 0) continue;
      tree_.push_back(branch);
      enter(branch.node);
    }
  }

  const Mesh& mesh_;
  std::uint32_t from_, to_;
  std::vector<std::uint32_t> row_;  ///< of the matrix, by node; none for `to` and nodes without current
  std::vector<std::uint32_t> nodes_;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> ldlt_;
  Vector volts_;
  OhmInterval bounds_;
  mutable std::vector<Branch> tree_;
};

}  // namespace

EffectiveResistance effective_resistance(std::uint32_t nodes, std::span<const Resistor> resistors,
                                         std::uint32_t from, std::uint32_t to) {
  const Merged merged = merge_joined(nodes, resistors);
  const std::uint32_t red = merged.number[from], black = merged.number[to];
  if (red == black) return {{Ohms{0}, Ohms{0}}, {}};
  Mesh mesh(merged, resistors);
  if (!mesh.reduce(red, black)) {
    EffectiveResistance open{k_open_interval, std::vector<double>(nodes, 0)};
    for (std::uint32_t node = 0; node < nodes; ++node)
      open.potential[node] = mesh.is_reached(merged.number[node]) ? 1 : 0;
    return open;
  }
  Grounded grounded(mesh, merged.count, red, black);
  grounded.solve();
  std::vector<double> potential(merged.count);
  for (std::uint32_t node = 0; node < merged.count; ++node) potential[node] = grounded.potential(node);
  for (auto end = mesh.dead_ends().rbegin(); end != mesh.dead_ends().rend(); ++end)
    potential[end->first] = potential[end->second];
  EffectiveResistance answer{grounded.bounds(), std::vector<double>(nodes, 0)};
  for (std::uint32_t node = 0; node < nodes; ++node) answer.potential[node] = potential[merged.number[node]];
  return answer;
}

}  // namespace ringtrue
