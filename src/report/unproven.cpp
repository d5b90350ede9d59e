#include "unproven.hpp"

#include "element_words.hpp"

namespace ringtrue::report {

std::vector<bool> listed_by_channels(const ConductionGraph& graph, const Findings& findings) {
  std::vector<bool> listed(graph.element_count());
  for (const ChannelResult& channel : findings.channels)
    for (const ElementId element : channel.unproven_elements) listed[index(element)] = true;
  return listed;
}

Unproven unproven_elements(const ConductionGraph& graph, const Findings& findings) {
  Unproven result;
  const std::vector<bool> listed = listed_by_channels(graph, findings);
  for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
    const ElementId element{i};
    const bool is_proven = i < findings.proven.size() && findings.proven[i] != 0;
    if (graph.origin(element).from == ElementOrigin::From::channel) continue;
    if (is_absent_field(element, graph)) {
      if (!is_proven) ++result.absent_field;
      continue;
    }
    const bool is_load = !graph.is_hard(element);
    if (!is_load) ++result.wiring;
    if (is_proven) continue;
    result.elements.push_back(element);
    if (is_load) ++result.loads;
    else if (!listed[i]) ++result.outside;
  }
  return result;
}

}  // namespace ringtrue::report
