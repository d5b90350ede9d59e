#include "unproven.hpp"

#include "element_words.hpp"
#include "ringtrue/base/name_table.hpp"

namespace ringtrue::report {

namespace {

/// By element: whether the path of some channel lists it.
std::vector<bool> listed_by_channels(const ConductionGraph& graph, const Findings& findings) {
  std::vector<bool> listed(graph.element_count());
  for (const ChannelResult& channel : findings.channels)
    for (const ElementId element : channel.unproven_elements) listed[index(element)] = true;
  return listed;
}

}  // namespace

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
    if (is_load)
      ++result.loads;
    else if (!listed[i])
      result.outside.push_back(element);
  }
  return result;
}

std::vector<WaitingChannels> waiting_channels(const Findings& findings) {
  std::vector<WaitingChannels> groups;
  // Lists of elements are told apart as names are: by their bytes.
  NameTable lists(findings.channels.size());
  for (std::size_t i = 0; i < findings.channels.size(); ++i) {
    const ChannelResult& channel = findings.channels[i];
    if (channel.state != ChannelState::unproven) continue;
    const std::span<const ElementId> elements = channel.unproven_elements;
    const std::uint32_t group =
        lists.intern({reinterpret_cast<const char*>(elements.data()), elements.size_bytes()});
    if (group == groups.size()) groups.push_back({elements, {}});
    groups[group].channels.push_back(i);
  }
  return groups;
}

}  // namespace ringtrue::report
