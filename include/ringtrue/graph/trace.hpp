#pragma once
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/base/threads.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// How far a path of a channel leads.
enum class PathVerdict : std::uint8_t {
  complete,     ///< conducts at rest from end to end
  passes_open,  ///< complete only when the elements in `open_elements` conduct
  stops,        ///< does not reach its target; see `stops_at` and `target_side`
  no_target,    ///< the drawing names no target and none can be inferred
  not_stated,   ///< the channel has no such path on the drawing (no return, no common)
};
[[nodiscard]] std::string_view word(
    PathVerdict verdict);  ///< `complete`, `passes-open`, `stops`, `no-field-terminal`, `not-stated`

/// One way through the panel: a real walk in the graph; `points` is one longer than `elements`. Where the way
/// stops it leads to the nearest of the points at which it stops.
struct TracedPath {
  PathVerdict verdict = PathVerdict::not_stated;
  PointId from = PointId::none, to = PointId::none;  ///< `to` = the target reached or aimed at
  bool inferred = false;                             ///< the target is not declared but the only candidate
  std::vector<PointId> points;
  std::vector<ElementId> elements;
  std::vector<ElementId>
      open_elements;  ///< on the path and open at rest (contacts that must be operated, fields absent)
  std::vector<ElementId>
      opened_by_condition;  ///< on the path, conducting at rest, and opened by pulling or operating something
  std::vector<PointId>
      stops_at;  ///< where the search ended: reached points from which nothing leads on, farthest first
  std::vector<PointId>
      target_side;  ///< points of the target's net, nearest by sheet to the break first (at most 5)
};

/// The paths of one channel as drawn.
struct ChannelTrace {
  std::size_t channel = 0;                   ///< index into the netlist's channels
  TracedPath signal;                         ///< channel point to field terminal
  TracedPath return_path;                    ///< the device's other terminal to what feeds it
  TracedPath common;                         ///< the module's common to what feeds it
  std::vector<std::size_t> shares_net_with;  ///< other channels whose point is on the signal's net
  /// The signal leads to its field terminal, return and common are complete or not stated, and no other
  /// channel is on its net.
  [[nodiscard]] bool is_complete() const;
};

/// Follows one channel through hard elements with the fewest elements. The search stops at the nets of
/// declared potentials (other than as a target), or every channel would reach every other through a common.
///
/// A complete path is a real walk in the graph; `stops_at` is the exact boundary of what the channel point
/// reaches. Cost: that of a ChannelTracer, and linear in the size of the nets it touches. Thread-safe on a
/// shared graph.
[[nodiscard]] ChannelTrace trace_channel(const ConductionGraph& graph, std::size_t channel);

/// All channels in the order of the channel list. A plant's paths take hundreds of megabytes: where each is
/// needed only once, ChannelTracer gives them one by one.
[[nodiscard]] std::vector<ChannelTrace> trace_channels(const ConductionGraph& graph, Threads threads = {});

class TraceGround;

/// Traces many channels of one graph: what they have in common, the ways to where current comes from above
/// all, is found once. The graph must outlive it. Cost: linear in points and channels.
class ChannelTracer {
 public:
  using Visit = std::function<void(const ChannelTrace&)>;

  explicit ChannelTracer(const ConductionGraph& graph);
  /// Visits the traces of the channels from `first` up to, without, `last` in order. Each is good until the
  /// next: all are made in the same memory. Thread-safe: each call has its own.
  void trace(std::size_t first, std::size_t last, const Visit& visit) const;
  /// The same for all channels, each once, in no order: `visit` is called by several threads at a time.
  void trace_all(Threads threads, const Visit& visit) const;

 private:
  std::shared_ptr<const TraceGround> ground_;
  std::size_t channels_;
};

/// Finds channels by point, address or tag as typed (case matters only where two would match); what is
/// one's point is no other's tag.
/// @errors unknown_channel with the nearest names.
[[nodiscard]] Result<std::vector<std::size_t>> find_channels(const Netlist& netlist, std::string_view typed);

}  // namespace ringtrue
