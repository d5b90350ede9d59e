#include "ringtrue/graph/trace.hpp"

#include <algorithm>

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

ChannelTracer::ChannelTracer(const ConductionGraph& graph)
    : ground_(std::make_shared<const TraceGround>(graph)), channels_(graph.netlist().channels.size()) {}

void ChannelTracer::trace(std::size_t first, std::size_t last, const Visit& visit) const {
  Tracer tracer(*ground_);
  for (std::size_t i = first; i < last; ++i) visit(tracer.trace(i));
}

void ChannelTracer::trace_all(Threads threads, const Visit& visit) const {
  constexpr std::size_t k_together = 1024;
  for_each_index(threads, (channels_ + k_together - 1) / k_together, [&](std::size_t block) {
    trace(block * k_together, std::min((block + 1) * k_together, channels_), visit);
  });
}

ChannelTrace trace_channel(const ConductionGraph& graph, std::size_t channel) {
  ChannelTrace made;
  ChannelTracer(graph).trace(channel, channel + 1, [&](const ChannelTrace& trace) { made = trace; });
  return made;
}

std::vector<ChannelTrace> trace_channels(const ConductionGraph& graph, Threads threads) {
  std::vector<ChannelTrace> traces(graph.netlist().channels.size());
  ChannelTracer(graph).trace_all(threads, [&](const ChannelTrace& trace) { traces[trace.channel] = trace; });
  return traces;
}

}  // namespace ringtrue
