#include "trace_verdict.hpp"

namespace ringtrue::report {

std::string_view channel_verdict(const ChannelTrace& trace) {
  for (const TracedPath* path : {&trace.signal, &trace.return_path, &trace.common}) {
    const bool is_trouble = path->verdict == PathVerdict::stops || path->verdict == PathVerdict::no_target;
    if (is_trouble) return word(path->verdict);
  }
  if (!trace.shares_net_with.empty()) return "shares-net";
  if (trace.is_complete()) return word(PathVerdict::complete);
  for (const TracedPath* path : {&trace.signal, &trace.return_path, &trace.common})
    if (path->verdict == PathVerdict::passes_open) return word(path->verdict);
  return word(trace.signal.verdict);
}

}  // namespace ringtrue::report
