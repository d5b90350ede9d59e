#pragma once
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// What the traces of all channels share: where current comes from, and which channels sit on which net.
class Tracer {
 public:
  explicit Tracer(const ConductionGraph& graph);
  [[nodiscard]] ChannelTrace trace(std::size_t channel) const;

 private:
  enum class Through { closed, open_too };

  [[nodiscard]] TracedPath signal_path(const Channel& channel) const;
  [[nodiscard]] TracedPath feed_path(PointId from) const;
  void follow(TracedPath& path, const std::vector<PointId>& targets) const;
  bool search(TracedPath& path, const std::vector<PointId>& targets, Through through) const;
  template <class StepOf>
  static void unwind(TracedPath& path, PointId last, StepOf&& step_of);
  [[nodiscard]] bool may_pass(ElementId e, Through through) const;
  [[nodiscard]] bool leads_to(const std::vector<PointId>& targets, PointId p) const;
  [[nodiscard]] PointId inferred_terminal(PointId from) const;
  [[nodiscard]] std::vector<PointId> in_order(PointId from) const;
  [[nodiscard]] std::vector<PointId> boundary_of(PointId from) const;
  [[nodiscard]] std::vector<PointId> nearest_of_net(PointId target, PointId stop) const;

  const ConductionGraph& graph_;
  std::vector<PointId> feeds_;
  std::unordered_set<NetId> barriers_;
  std::unordered_map<NetId, std::vector<std::size_t>> channels_on_net_;
};

}  // namespace ringtrue
