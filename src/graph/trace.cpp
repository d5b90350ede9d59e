// Two searches per path. The first walks what conducts at rest. Only where that does not arrive does the
// second also walk what a condition could close, preferring few open elements, and it never enters the net of
// a declared potential on its way: through a common every channel reaches every other.
#include "ringtrue/graph/trace.hpp"

#include <algorithm>
#include <queue>
#include <unordered_map>
#include <unordered_set>

#include "ringtrue/base/nearest_names.hpp"
#include "tracer.hpp"

namespace ringtrue {

std::string_view word(PathVerdict verdict) {
  switch (verdict) {
    case PathVerdict::complete:
      return "complete";
    case PathVerdict::passes_open:
      return "passes-open";
    case PathVerdict::stops:
      return "stops";
    case PathVerdict::no_target:
      return "no-field-terminal";
    case PathVerdict::not_stated:
      return "not-stated";
  }
  return {};
}

bool ChannelTrace::is_complete() const {
  const auto fine = [](const TracedPath& path) {
    return path.verdict == PathVerdict::complete || path.verdict == PathVerdict::not_stated;
  };
  return signal.verdict == PathVerdict::complete && fine(return_path) && fine(common) &&
         shares_net_with.empty();
}

Tracer::Tracer(const ConductionGraph& graph) : graph_(graph) {
  const Netlist& net = graph.netlist();
  for (const Potential& potential : net.potentials) {
    feeds_.push_back(potential.point);
    barriers_.insert(graph.net_at_rest(potential.point));
  }
  if (feeds_.empty())
    for (const Part& part : net.parts)
      if (part.kind == PartKind::supply) feeds_.push_back(part.a), feeds_.push_back(part.b);
  for (std::size_t i = 0; i < net.channels.size(); ++i)
    channels_on_net_[graph.net_at_rest(net.channels[i].point)].push_back(i);
}

ChannelTrace Tracer::trace(std::size_t number) const {
  const Channel& channel = graph_.netlist().channels[number];
  ChannelTrace trace;
  trace.channel = number;
  trace.signal = signal_path(channel);
  trace.return_path = feed_path(channel.return_point);
  trace.common = feed_path(channel.common);
  const NetId net = graph_.net_at_rest(channel.point);
  if (barriers_.count(net) == 0)
    for (const std::size_t other : channels_on_net_.at(net))
      if (other != number) trace.shares_net_with.push_back(other);
  return trace;
}

TracedPath Tracer::signal_path(const Channel& channel) const {
  TracedPath path;
  path.from = channel.point;
  path.to = channel.field;
  if (path.to == PointId::none) {
    path.to = inferred_terminal(channel.point);
    path.inferred = true;
  }
  if (path.to == PointId::none) {
    path.verdict = PathVerdict::no_target;
    path.stops_at = boundary_of(channel.point);
    return path;
  }
  follow(path, {path.to});
  return path;
}

TracedPath Tracer::feed_path(PointId from) const {
  TracedPath path;
  path.from = from;
  if (from != PointId::none) follow(path, feeds_);
  return path;
}

void Tracer::follow(TracedPath& path, const std::vector<PointId>& targets) const {
  if (!search(path, targets, Through::closed) && !search(path, targets, Through::open_too)) {
    path.verdict = PathVerdict::stops;
    path.stops_at = boundary_of(path.from);
    search(path, path.stops_at, Through::closed);
    if (path.to != PointId::none) path.target_side = nearest_of_net(path.to, path.stops_at.front());
    return;
  }
  path.to = path.points.back();
  for (const ElementId e : path.elements) {
    const ElementKind kind = graph_.kind(e);
    if (!graph_.is_on_at_rest(e))
      path.open_elements.push_back(e);
    else if (kind == ElementKind::breakable || kind == ElementKind::contact)
      path.opened_by_condition.push_back(e);
  }
  path.verdict = path.open_elements.empty() ? PathVerdict::complete : PathVerdict::passes_open;
}

/// Shortest walk by (open elements passed, elements), ties by point (Dijkstra 1959).
bool Tracer::search(TracedPath& path, const std::vector<PointId>& targets, Through through) const {
  struct Step {
    std::pair<std::uint32_t, std::uint32_t> length;  // open elements, all elements
    PointId before;
    ElementId by;
  };
  using Entry = std::pair<std::pair<std::uint32_t, std::uint32_t>, PointId>;
  const std::unordered_set<PointId> wanted(targets.begin(), targets.end());
  std::unordered_map<PointId, Step> best{{path.from, {{0, 0}, PointId::none, ElementId::none}}};
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  queue.push({{0, 0}, path.from});
  while (!queue.empty()) {
    const auto [length, p] = queue.top();
    queue.pop();
    if (best.at(p).length != length) continue;
    if (wanted.count(p) != 0) {
      unwind(path, p, [&](PointId at) { return std::pair{best.at(at).before, best.at(at).by}; });
      return true;
    }
    for (const ElementId e : graph_.elements_at(p)) {
      if (!may_pass(e, through)) continue;
      const bool open = !graph_.is_on_at_rest(e);
      const PointId to = graph_.other_end(e, p);
      if (open && barriers_.count(graph_.net_at_rest(to)) != 0 && !leads_to(targets, to)) continue;
      const Step next{{length.first + (open ? 1u : 0u), length.second + 1}, p, e};
      const auto [at, is_new] = best.emplace(to, next);
      if (!is_new && at->second.length <= next.length) continue;
      at->second = next;
      queue.push({next.length, to});
    }
  }
  return false;
}

template <class StepOf>
void Tracer::unwind(TracedPath& path, PointId last, StepOf&& step_of) {
  path.points.clear();
  path.elements.clear();
  for (PointId p = last; p != PointId::none;) {
    path.points.push_back(p);
    const auto [before, by] = step_of(p);
    if (before != PointId::none) path.elements.push_back(by);
    p = before;
  }
  std::reverse(path.points.begin(), path.points.end());
  std::reverse(path.elements.begin(), path.elements.end());
}

bool Tracer::may_pass(ElementId e, Through through) const {
  if (!graph_.is_hard(e)) return false;
  if (graph_.is_on_at_rest(e)) return true;
  // Open at rest and closable: a contact. Spare cores and what stands in the field are not there.
  if (through == Through::closed || graph_.kind(e) != ElementKind::contact) return false;
  const ElementOrigin from = graph_.origin(e);
  return graph_.netlist().parts[from.row].place != PartPlace::field;
}

bool Tracer::leads_to(const std::vector<PointId>& targets, PointId p) const {
  return std::any_of(targets.begin(), targets.end(),
                     [&](PointId target) { return graph_.net_at_rest(target) == graph_.net_at_rest(p); });
}

/// Field side of a terminal of the net on which only cores or nothing lands, nearest in elements to the
/// channel.
PointId Tracer::inferred_terminal(PointId from) const {
  if (barriers_.count(graph_.net_at_rest(from)) != 0) return PointId::none;
  for (const PointId p : in_order(from)) {
    if (graph_.netlist().points.side(p) != Side::external) continue;
    const auto elements = graph_.elements_at(p);
    const bool only_field = std::all_of(elements.begin(), elements.end(), [&](ElementId e) {
      const bool core =
          graph_.is_conductor(e) && graph_.netlist().conductors[index(e)].kind == ConductorKind::core;
      return core || graph_.other_end(e, p) == graph_.netlist().points.other_side(p);
    });
    if (only_field) return p;
  }
  return PointId::none;
}

/// Points joined to `from` at rest, breadth first.
std::vector<PointId> Tracer::in_order(PointId from) const {
  std::vector<PointId> queue{from};
  std::unordered_set<PointId> seen{from};
  for (std::size_t next = 0; next < queue.size(); ++next)
    for (const ElementId e : graph_.elements_at(queue[next]))
      if (may_pass(e, Through::closed) && seen.insert(graph_.other_end(e, queue[next])).second)
        queue.push_back(graph_.other_end(e, queue[next]));
  return queue;
}

/// Reached points from which no conducting element leads on, the farthest first; the start itself if it leads
/// nowhere.
std::vector<PointId> Tracer::boundary_of(PointId from) const {
  std::vector<PointId> boundary;
  for (const PointId p : in_order(from)) {
    const auto elements = graph_.elements_at(p);
    const auto leading = std::count_if(elements.begin(), elements.end(), [&](ElementId e) {
      return may_pass(e, Through::closed) && graph_.other_end(e, p) != p;
    });
    if (leading <= (p == from ? 0 : 1)) boundary.push_back(p);
  }
  if (boundary.empty()) boundary.push_back(from);
  std::reverse(boundary.begin(), boundary.end());
  return boundary;
}

namespace {

/// Sheet number before the column: 12 of `12.3`; -1 where there is none.
int sheet_number(const ConductionGraph& graph, PointId p) {
  for (const ElementId e : graph.elements_at(p)) {
    const std::string_view sheet = graph.element_sheet(e);
    if (!sheet.empty() && sheet.front() >= '0' && sheet.front() <= '9')
      return std::atoi(std::string(sheet).c_str());
  }
  return -1;
}

}  // namespace

std::vector<PointId> Tracer::nearest_of_net(PointId target, PointId stop) const {
  const int here = sheet_number(graph_, stop);
  std::vector<std::pair<int, PointId>> by_distance;
  for (const PointId p : in_order(target)) {
    const int sheet = sheet_number(graph_, p);
    by_distance.emplace_back(here < 0 || sheet < 0 ? 1'000'000 : std::abs(sheet - here), p);
  }
  std::stable_sort(by_distance.begin(), by_distance.end(),
                   [](const auto& x, const auto& y) { return x.first < y.first; });
  constexpr std::size_t k_shown = 5;
  std::vector<PointId> points;
  for (std::size_t i = 0; i < std::min(k_shown, by_distance.size()); ++i)
    points.push_back(by_distance[i].second);
  return points;
}

ChannelTrace trace_channel(const ConductionGraph& graph, std::size_t channel) {
  return Tracer(graph).trace(channel);
}

std::vector<ChannelTrace> trace_channels(const ConductionGraph& graph) {
  const Tracer tracer(graph);
  std::vector<ChannelTrace> traces;
  for (std::size_t i = 0; i < graph.netlist().channels.size(); ++i) traces.push_back(tracer.trace(i));
  return traces;
}

namespace {

std::string lower(std::string_view text) {
  std::string low(text);
  std::transform(low.begin(), low.end(), low.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return low;
}

}  // namespace

Result<std::vector<std::size_t>> find_channels(const Netlist& net, std::string_view typed) {
  std::string storage;
  const std::string wanted(split_point_name(typed, net.panel.designation, storage).place);
  std::vector<std::size_t> points, exact, loose;
  NearestNames nearest(typed);
  for (std::size_t i = 0; i < net.channels.size(); ++i) {
    const Channel& channel = net.channels[i];
    const std::string_view point = net.points.place_name(net.points.place(channel.point));
    if (point == wanted) points.push_back(i);
    for (const std::string_view name : {point, channel.address, channel.tag}) {
      if (name.empty()) continue;
      nearest.offer(name);
      if (name == wanted || name == typed)
        exact.push_back(i);
      else if (lower(name) == lower(wanted))
        loose.push_back(i);
    }
  }
  for (std::vector<std::size_t>* found : {&points, &exact, &loose}) {
    found->erase(std::unique(found->begin(), found->end()), found->end());
    if (!found->empty()) return *found;
  }
  return fail({ErrorCode::unknown_channel,
               "the drawing has no such channel",
               {},
               std::string(typed),
               "a channel's point, address or tag",
               nearest.take()});
}

}  // namespace ringtrue
