#pragma once
#include <span>
#include <vector>

#include "feed_ways.hpp"
#include "net_walk.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// What the traces of all channels share: where current comes from, and which channels sit on which net.
class TraceGround {
 public:
  explicit TraceGround(const ConductionGraph& graph);

  const ConductionGraph& graph;
  const FeedWays feeds;
  /// The net of a declared potential: no way goes on from it, since every channel hangs on it.
  [[nodiscard]] bool is_barrier(NetId net) const { return is_barrier_[index(net)]; }
  [[nodiscard]] std::span<const std::uint32_t> channels_on(NetId net) const {
    return {channels_.data() + start_[index(net)], channels_.data() + start_[index(net) + 1]};
  }

 private:
  std::vector<bool> is_barrier_;      ///< by net
  std::vector<std::uint32_t> start_;  ///< by net: in `channels_`
  std::vector<std::uint32_t> channels_;
};

/// Traces one channel after the other into the same memory. For one thread.
class Tracer {
 public:
  explicit Tracer(const TraceGround& ground) : ground_(ground), graph_(ground.graph), walk_(ground.graph) {}
  /// Good until the next call.
  [[nodiscard]] const ChannelTrace& trace(std::size_t channel);

 private:
  /// What a path leads to: a point, or any that feeds the panel.
  struct Target {
    const TraceGround& ground;
    PointId point;  ///< `none`: any feed

    [[nodiscard]] bool is_at(PointId p) const {
      return point == PointId::none ? ground.feeds.is_feed(p) : p == point;
    }
    /// It conducts to the point at rest.
    [[nodiscard]] bool is_on_net_of(PointId p) const {
      return point == PointId::none ? ground.feeds.reach(p)
                                    : ground.graph.net_at_rest(p) == ground.graph.net_at_rest(point);
    }
  };

  void trace_signal(const Channel& channel);
  void trace_feed(PointId from, TracedPath& path);
  void stop(TracedPath& path);
  void say_what_opens(TracedPath& path) const;
  [[nodiscard]] bool find_through_open(const Target& target, TracedPath& path);
  [[nodiscard]] bool is_closable(ElementId e) const;
  [[nodiscard]] bool is_dead_end(PointId p, PointId from) const;
  [[nodiscard]] PointId inferred_terminal(PointId from);
  void find_boundary(PointId from, std::vector<PointId>& boundary);
  void find_nearest_of_net(PointId target, PointId stop, std::vector<PointId>& nearest);

  const TraceGround& ground_;
  const ConductionGraph& graph_;
  NetWalk walk_;
  ChannelTrace made_;
};

}  // namespace ringtrue
