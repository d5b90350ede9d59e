// Declared potentials that closed copper joins at rest. What a contact only joins when it is operated is not
// seen here.
#include <algorithm>

#include "ringtrue/expect/hard_path.hpp"
#include "rules.hpp"

namespace ringtrue::check {

namespace {

enum class Joint : std::uint8_t { unlike, like, to_pe };

/// A minus or a neutral may be earthed on purpose, and supplies may share a pole; a line never joins another.
Joint joint_of(PotentialKind a, PotentialKind b) {
  const auto is_reference = [](PotentialKind kind) {
    return kind == PotentialKind::dc_minus || kind == PotentialKind::ac_neutral;
  };
  if ((a == PotentialKind::pe && is_reference(b)) || (b == PotentialKind::pe && is_reference(a)))
    return Joint::to_pe;
  return a == b && a != PotentialKind::ac_line ? Joint::like : Joint::unlike;
}

std::vector<ProblemRow> rows_between(const Drawing& drawing, std::size_t a, std::size_t b) {
  std::vector<ProblemRow> rows{drawing.potential_row(a), drawing.potential_row(b)};
  const Overlay at_rest;
  const View view(drawing.graph, at_rest);
  Probing probes;
  probes.from = drawing.netlist.potentials[a].point;
  probes.to = drawing.netlist.potentials[b].point;
  if (const auto path = hard_path(view, probes))
    for (const View::Edge& edge : path->edges)
      if (auto row = drawing.element_row(edge.element)) rows.push_back(std::move(*row));
  return rows;
}

void report_joined(const Drawing& drawing, Found& found, Joint wanted) {
  const std::vector<Potential>& all = drawing.netlist.potentials;
  Groups by_net;
  for (std::uint32_t i = 0; i < all.size(); ++i)
    by_net.emplace_back(index(drawing.graph.net_at_rest(all[i].point)), i);
  std::sort(by_net.begin(), by_net.end());
  for (std::size_t i = 1; i < by_net.size(); ++i) {
    if (by_net[i].first != by_net[i - 1].first) continue;
    const std::uint32_t a = by_net[i - 1].second, b = by_net[i].second;
    if (all[a].name == all[b].name || joint_of(all[a].kind, all[b].kind) != wanted) continue;
    found.add("Closed copper joins " + std::string(all[a].name) + " and " + std::string(all[b].name) + ".",
              rows_between(drawing, a, b));
  }
}

}  // namespace

void potentials_joined(const Drawing& drawing, Found& found) { report_joined(drawing, found, Joint::unlike); }
void like_potentials_joined(const Drawing& drawing, Found& found) {
  report_joined(drawing, found, Joint::like);
}
void potential_joined_to_pe(const Drawing& drawing, Found& found) {
  report_joined(drawing, found, Joint::to_pe);
}

}  // namespace ringtrue::check
