#include "path_proof.hpp"

#include <algorithm>

#include "ringtrue/graph/view.hpp"

namespace ringtrue::io {

namespace {

/// Where a reading of the path ends: at its target, or where it stops short of it.
PointId end_of(const TracedPath& path) {
  return path.verdict == PathVerdict::complete || path.points.empty() ? path.to : path.points.back();
}

/// The path beeps up to there, and falls silent without the element.
bool beep_shows(const ConductionGraph& graph, const TracedPath& path, ElementId element) {
  const PointId end = end_of(path);
  if (end == PointId::none || graph.net_at_rest(path.from) != graph.net_at_rest(end)) return false;
  Overlay broken;
  broken.switch_off(graph, element);
  const View view(graph, broken);
  return view.net(path.from) != view.net(end);
}

}  // namespace

void say_what_to_read(const ConductionGraph& graph, const ChannelTrace& trace, WhyJumper& not_proven) {
  std::vector<ElementId> shown;
  for (const TracedPath* path : {&trace.signal, &trace.return_path, &trace.common}) {
    const std::size_t before = shown.size();
    for (const ElementId e : path->elements)
      if (std::binary_search(not_proven.elements.begin(), not_proven.elements.end(), e) &&
          beep_shows(graph, *path, e))
        shown.push_back(e);
    if (shown.size() > before) not_proven.to_read.push_back({path->from, end_of(*path)});
  }
  std::sort(shown.begin(), shown.end());
  std::set_difference(not_proven.elements.begin(), not_proven.elements.end(), shown.begin(), shown.end(),
                      std::back_inserter(not_proven.no_beep_shows));
}

}  // namespace ringtrue::io
