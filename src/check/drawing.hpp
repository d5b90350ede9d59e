#pragma once
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "ringtrue/check/check.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue::check {

/// By point: a label that points joined by these elements have in common. `is_in` is by element.
[[nodiscard]] std::vector<std::uint32_t> joined_by(const ConductionGraph& graph,
                                                   const std::vector<bool>& is_in);

/// (group, row) pairs in order; the rows of a group follow each other.
using Groups = std::vector<std::pair<std::uint32_t, std::uint32_t>>;
/// Calls `visit(first, last)` for each group of the sorted pairs.
template <class Visit>
void for_each_group(const Groups& sorted, Visit&& visit) {
  for (auto first = sorted.begin(); first != sorted.end();) {
    auto last = first;
    while (last != sorted.end() && last->first == first->first) ++last;
    visit(first, last);
    first = last;
  }
}

/// The drawing as the rules look at it.
///
/// Nets at rest don't do for most rules: a drafter's net goes through field cables and ends at each contact
/// and fuse.
class Drawing {
 public:
  Drawing(const ConductionGraph& graph, const CheckOptions& options);

  const ConductionGraph& graph;
  const Netlist& netlist;
  const CheckOptions& options;

  /// By point: joined by conductors and terminals, as far as one wire number may go.
  std::vector<std::uint32_t> wire_net;
  /// By point: joined also inside parts, by whatever no condition but pulling a terminal's link opens.
  std::vector<std::uint32_t> copper_net;
  /// By element: those that make `copper_net`.
  std::vector<bool> is_copper;
  NumberingFound numbering;

  [[nodiscard]] const PointTable& points() const { return netlist.points; }
  [[nodiscard]] std::string name(PointId p) const { return points().name(p); }
  [[nodiscard]] std::string_view place(PointId p) const { return points().place_name(points().place(p)); }
  [[nodiscard]] std::uint32_t copper(PointId p) const { return copper_net[index(p)]; }
  [[nodiscard]] std::string_view text(ConductorText field, std::uint32_t conductor) const {
    return netlist.conductor_text.get(field, conductor);
  }
  /// Ends of conductors on the point, spare cores counted.
  [[nodiscard]] std::size_t conductors_at(PointId p) const;

  /// Index of the potential that the net at rest carries; nothing if it carries none or several.
  [[nodiscard]] std::optional<std::size_t> potential_at_rest(PointId p) const;
  /// The drawing has a protective conductor: a potential of that kind, or the rail of PE terminals.
  [[nodiscard]] bool has_pe() const { return has_pe_at_all_; }
  /// The point's copper leads to it.
  [[nodiscard]] bool leads_to_pe(PointId p) const { return has_pe_[copper(p)]; }
  /// The same, and to no other potential.
  [[nodiscard]] bool is_on_pe(PointId p) const;
  /// Index of the potential named in the conductor's own row; nothing if it names none that is declared.
  [[nodiscard]] std::optional<std::size_t> stated_potential(std::uint32_t conductor) const;

  [[nodiscard]] ProblemRow conductor_row(std::uint32_t conductor) const;
  [[nodiscard]] ProblemRow part_row(std::uint32_t part) const;
  [[nodiscard]] ProblemRow channel_row(std::size_t channel) const;
  [[nodiscard]] ProblemRow potential_row(std::size_t potential) const;
  /// Element of a walk; nothing for one that no row says.
  [[nodiscard]] std::optional<ProblemRow> element_row(ElementId element) const;
  /// `%IX0.3 HATCH_CLOSED at A1:0.7`, as far as it has them.
  [[nodiscard]] std::string channel_name(std::size_t channel) const;

 private:
  void label_nets();
  void find_potentials();

  static constexpr std::uint32_t k_none = 0xFFFFFFFFu, k_several = 0xFFFFFFFEu;
  std::vector<std::uint32_t> potential_at_rest_;  ///< by net at rest
  std::unordered_map<std::string_view, std::size_t> potential_by_name_;
  bool has_pe_at_all_ = false;
  std::vector<bool> has_pe_, has_other_;  ///< by label of `copper_net`
};

/// Takes what one rule finds.
class Found {
 public:
  Found(std::size_t rule, Severity severity, std::vector<Problem>& problems)
      : rule_(rule), severity_(severity), problems_(problems) {}
  /// `rows` by reference, so that the reason may be put together from them in the same call.
  void add(std::string reason, std::vector<ProblemRow>&& rows) {
    problems_.push_back({rule_, severity_, std::move(reason), std::move(rows)});
  }

 private:
  std::size_t rule_;
  Severity severity_;
  std::vector<Problem>& problems_;
};

/// `3 conductors`
[[nodiscard]] std::string counted(std::size_t number, std::string_view noun);

}  // namespace ringtrue::check
