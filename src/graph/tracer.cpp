// Two searches per path. The first stays on the net at rest, and only where the target is on it. Where it
// isn't, the second also walks what a condition could close, preferring few open elements, and never enters
// the net of a declared potential on its way: through a common every channel reaches every other.
#include "tracer.hpp"

#include <charconv>
#include <functional>
#include <queue>
#include <unordered_map>

namespace ringtrue {

namespace {

std::vector<PointId> feeding_points(const Netlist& net) {
  std::vector<PointId> feeds;
  for (const Potential& potential : net.potentials) feeds.push_back(potential.point);
  if (feeds.empty())
    for (const Part& part : net.parts)
      if (part.kind == PartKind::supply) feeds.push_back(part.a), feeds.push_back(part.b);
  return feeds;
}

void begin(TracedPath& path, PointId from) {
  path.verdict = PathVerdict::not_stated;
  path.from = from;
  path.to = PointId::none;
  path.inferred = false;
  path.points.clear();
  path.elements.clear();
  path.open_elements.clear();
  path.opened_by_condition.clear();
  path.stops_at.clear();
  path.target_side.clear();
}

}  // namespace

TraceGround::TraceGround(const ConductionGraph& of)
    : graph(of), feeds(of, feeding_points(of.netlist())), is_barrier_(of.net_count()) {
  const Netlist& net = graph.netlist();
  for (const Potential& potential : net.potentials)
    is_barrier_[index(graph.net_at_rest(potential.point))] = true;
  const auto net_of = [&](const Channel& channel) { return index(graph.net_at_rest(channel.point)); };
  start_.assign(graph.net_count() + 1, 0);
  for (const Channel& channel : net.channels) ++start_[net_of(channel) + 1];
  for (std::size_t i = 0; i + 1 < start_.size(); ++i) start_[i + 1] += start_[i];
  channels_.resize(net.channels.size());
  std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
  for (std::uint32_t i = 0; i < net.channels.size(); ++i) channels_[next[net_of(net.channels[i])]++] = i;
}

const ChannelTrace& Tracer::trace(std::size_t number) {
  const Channel& channel = graph_.netlist().channels[number];
  made_.channel = number;
  trace_signal(channel);
  trace_feed(channel.return_point, made_.return_path);
  trace_feed(channel.common, made_.common);
  made_.shares_net_with.clear();
  const NetId net = graph_.net_at_rest(channel.point);
  if (!ground_.is_barrier(net))
    for (const std::uint32_t other : ground_.channels_on(net))
      if (other != number) made_.shares_net_with.push_back(other);
  return made_;
}

void Tracer::trace_signal(const Channel& channel) {
  TracedPath& path = made_.signal;
  begin(path, channel.point);
  path.inferred = channel.field == PointId::none;
  path.to = path.inferred ? inferred_terminal(channel.point) : channel.field;
  if (path.to == PointId::none) {
    path.verdict = PathVerdict::no_target;
    find_boundary(channel.point, path.stops_at);
    return;
  }
  const Target target{ground_, path.to};
  const auto is_target = [&](PointId p) { return p == target.point; };
  if ((target.is_on_net_of(path.from) && walk_.find(path.from, is_target, path)) ||
      find_through_open(target, path))
    say_what_opens(path);
  else
    stop(path);
}

void Tracer::trace_feed(PointId from, TracedPath& path) {
  // The channels of one module mostly follow each other, and have one common.
  if (from == path.from) return;
  begin(path, from);
  if (from == PointId::none) return;
  if (ground_.feeds.reach(from)) {
    ground_.feeds.follow(from, path);
    path.to = path.points.back();
    say_what_opens(path);
  } else if (ground_.feeds.has_feeds() && find_through_open({ground_, PointId::none}, path)) {
    path.to = path.points.back();
    say_what_opens(path);
  } else {
    stop(path);
  }
}

void Tracer::stop(TracedPath& path) {
  path.verdict = PathVerdict::stops;
  find_boundary(path.from, path.stops_at);
  const auto is_end = [&](PointId p) { return is_dead_end(p, path.from); };
  if (!walk_.find(path.from, is_end, path)) path.points.push_back(path.from);
  if (path.to != PointId::none) find_nearest_of_net(path.to, path.stops_at.front(), path.target_side);
}

void Tracer::say_what_opens(TracedPath& path) const {
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
bool Tracer::find_through_open(const Target& target, TracedPath& path) {
  if (graph_.contacts().empty()) return false;
  using Length = std::pair<std::uint32_t, std::uint32_t>;  // open elements, all elements
  struct Step {
    Length length;
    PointId before;
    ElementId by;
  };
  using Entry = std::pair<Length, PointId>;
  std::unordered_map<PointId, Step> best{{path.from, {{0, 0}, PointId::none, ElementId::none}}};
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  queue.push({{0, 0}, path.from});
  while (!queue.empty()) {
    const auto [length, p] = queue.top();
    queue.pop();
    if (best.at(p).length != length) continue;
    if (target.is_at(p)) {
      lay_out(path, p, [&](PointId at) { return std::pair{best.at(at).before, best.at(at).by}; });
      return true;
    }
    for (const ElementId e : graph_.elements_at(p)) {
      if (!graph_.is_hard(e)) continue;
      const bool open = !graph_.is_on_at_rest(e);
      if (open && !is_closable(e)) continue;
      const PointId to = graph_.other_end(e, p);
      if (open && ground_.is_barrier(graph_.net_at_rest(to)) && !target.is_on_net_of(to)) continue;
      const Step next{{length.first + (open ? 1u : 0u), length.second + 1}, p, e};
      const auto [at, is_new] = best.emplace(to, next);
      if (!is_new && at->second.length <= next.length) continue;
      at->second = next;
      queue.push({next.length, to});
    }
  }
  return false;
}

/// Open at rest and closable: a contact. Spare cores and what stands in the field are not there.
bool Tracer::is_closable(ElementId e) const {
  return graph_.kind(e) == ElementKind::contact &&
         graph_.netlist().parts[graph_.origin(e).row].place != PartPlace::field;
}

/// Field side of a terminal of the net on which only cores or nothing lands, nearest in elements to the
/// channel.
PointId Tracer::inferred_terminal(PointId from) {
  if (ground_.is_barrier(graph_.net_at_rest(from))) return PointId::none;
  for (const PointId p : walk_.in_order(from)) {
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

/// No conducting element leads on from the point, but the one by which it is reached.
bool Tracer::is_dead_end(PointId p, PointId from) const {
  const auto elements = graph_.elements_at(p);
  const auto leading = std::count_if(elements.begin(), elements.end(), [&](ElementId e) {
    return graph_.is_hard(e) && graph_.is_on_at_rest(e) && graph_.other_end(e, p) != p;
  });
  return leading <= (p == from ? 0 : 1);
}

/// Reached dead ends, the farthest first; the start itself if the way goes in rings only.
void Tracer::find_boundary(PointId from, std::vector<PointId>& boundary) {
  for (const PointId p : walk_.in_order(from))
    if (is_dead_end(p, from)) boundary.push_back(p);
  if (boundary.empty()) boundary.push_back(from);
  std::reverse(boundary.begin(), boundary.end());
}

namespace {

/// Sheet number before the column: 12 of `12.3`; -1 where there is none.
int sheet_number(const ConductionGraph& graph, PointId p) {
  for (const ElementId e : graph.elements_at(p)) {
    const std::string_view sheet = graph.element_sheet(e);
    int number = 0;
    if (std::from_chars(sheet.data(), sheet.data() + sheet.size(), number).ec == std::errc{} && number >= 0)
      return number;
  }
  return -1;
}

}  // namespace

void Tracer::find_nearest_of_net(PointId target, PointId stop, std::vector<PointId>& nearest) {
  const int here = sheet_number(graph_, stop);
  std::vector<std::pair<int, PointId>> by_distance;
  for (const PointId p : walk_.in_order(target)) {
    const int sheet = sheet_number(graph_, p);
    by_distance.emplace_back(here < 0 || sheet < 0 ? 1'000'000 : std::abs(sheet - here), p);
  }
  std::stable_sort(by_distance.begin(), by_distance.end(),
                   [](const auto& x, const auto& y) { return x.first < y.first; });
  constexpr std::size_t k_shown = 5;
  for (std::size_t i = 0; i < std::min(k_shown, by_distance.size()); ++i)
    nearest.push_back(by_distance[i].second);
}

}  // namespace ringtrue
