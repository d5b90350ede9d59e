#include "serve/pictures.hpp"

#include "ringtrue/graph/trace.hpp"
#include "ringtrue/picture/path_picture.hpp"
#include "ringtrue/picture/readings_map.hpp"
#include "ringtrue/picture/strip_picture.hpp"
#include "serve/http.hpp"
#include "serve/json.hpp"

namespace ringtrue::serve {

namespace {

constexpr std::size_t k_usual_width = 960, k_most_width = 4000;  // px

/// What is narrower than a picture can be is as narrow as it can be.
int width_of(const httplib::Request& request) {
  return static_cast<int>(number_in(request.get_param_value("width"), k_usual_width, k_most_width));
}

Answer svg(std::string picture) { return {200, std::move(picture), "image/svg+xml"}; }

}  // namespace

Answer path_svg(const LiveJob& live, const httplib::Request& request) {
  const ConductionGraph& graph = live.drawing()->graph;
  const auto channels = find_channels(graph.netlist(), request.get_param_value("channel"));
  if (!channels) return refusal(channels.error());
  const ChannelTrace trace = trace_channel(graph, channels->front());
  return svg(path_picture({graph, trace, &live.state().findings(), width_of(request)}));
}

Answer strip_svg(const LiveJob& live, const httplib::Request& request) {
  const ConductionGraph& graph = live.drawing()->graph;
  const auto strip = find_strip(request.get_param_value("name"), graph.netlist());
  if (strip) return svg(strip_pictures({graph, *strip, &live.state().findings(), width_of(request)}).front());
  Answer missing = refusal(strip.error());
  missing.status = 404;
  return missing;
}

Answer map_svg(const LiveJob& live, const httplib::Request& request) {
  return svg(readings_maps({live.drawing()->graph, &live.state().findings(), width_of(request)}).front());
}

Answer strips_text(const LiveJob& live) {
  Json names = Json::array();
  for (const TerminalStrip& strip : terminal_strips(live.drawing()->netlist)) names.push_back(strip.name);
  return {200, text_of({{"strips", std::move(names)}})};
}

}  // namespace ringtrue::serve
