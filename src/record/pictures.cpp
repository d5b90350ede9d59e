#include "record/pictures.hpp"

#include "record/html_text.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/picture/path_picture.hpp"
#include "ringtrue/picture/readings_map.hpp"
#include "ringtrue/picture/strip_picture.hpp"

namespace ringtrue::record {

namespace {

// Of CSS, at 96 to an inch: what A4 and Letter both hold, landscape, with margins of 12 mm and a caption.
constexpr int k_page_width = 960;
constexpr int k_strip_width = 1000;  // texts stand side by side; Letter shrinks it a little
constexpr int k_page_height = 645;

void add(std::vector<RecordPicture>& pictures, const std::string& caption, std::vector<std::string> drawn) {
  for (std::size_t i = 0; i < drawn.size(); ++i)
    pictures.push_back({drawn.size() == 1 ? caption
                                          : caption + ", part " + std::to_string(i + 1) + " of " +
                                                std::to_string(drawn.size()),
                        std::move(drawn[i])});
}

}  // namespace

std::vector<RecordPicture> pictures_of(const RecordSource& source) {
  const ConductionGraph& graph = source.graph;
  const Netlist& netlist = graph.netlist();
  std::vector<RecordPicture> pictures;
  add(pictures, "Map of the panel", readings_maps({graph, &source.findings, k_page_width, k_page_height}));
  for (const TerminalStrip& strip : terminal_strips(netlist))
    add(pictures, "Terminal strip " + std::string(strip.name),
        strip_pictures({graph, strip, &source.findings, k_strip_width, k_page_height}));
  for (const ChannelTrace& trace : trace_channels(graph)) {
    const Channel& channel = netlist.channels[trace.channel];
    std::string caption = "Path of channel " + netlist.points.name(channel.point);
    if (!channel.tag.empty()) caption.append(", ").append(channel.tag);
    pictures.push_back({std::move(caption), path_picture({graph, trace, &source.findings, k_page_width})});
  }
  return pictures;
}

std::string figures_html(const std::vector<RecordPicture>& pictures) {
  std::string out;
  for (const RecordPicture& picture : pictures)
    out += "<figure>\n<figcaption>" + html_text(picture.caption) + "</figcaption>\n" + picture.svg +
           "</figure>\n";
  return out;
}

}  // namespace ringtrue::record
