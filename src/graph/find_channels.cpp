#include <algorithm>

#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

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
