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
/// A panel with more channels has the paths of faulty ones only: a thousand pages show nobody anything.
constexpr std::size_t k_most_paths = 200;

void add(std::vector<RecordPicture>& pictures, const std::string& caption, std::vector<std::string> drawn) {
  for (std::size_t i = 0; i < drawn.size(); ++i)
    pictures.push_back({drawn.size() == 1 ? caption
                                          : caption + ", part " + std::to_string(i + 1) + " of " +
                                                std::to_string(drawn.size()),
                        std::move(drawn[i])});
}

void add_path(std::vector<RecordPicture>& pictures, const RecordSource& source, std::size_t number) {
  const Channel& channel = source.graph.netlist().channels[number];
  std::string caption = "Path of channel " + source.graph.netlist().points.name(channel.point);
  if (!channel.tag.empty()) caption.append(", ").append(channel.tag);
  const ChannelTrace trace = trace_channel(source.graph, number);
  pictures.push_back(
      {std::move(caption), path_picture({source.graph, trace, &source.findings, k_page_width})});
}

void add_paths(Record& made, const RecordSource& source) {
  const std::size_t channels = source.graph.netlist().channels.size();
  std::size_t drawn = 0;
  for (std::size_t i = 0; i < channels; ++i) {
    const bool is_faulty = source.findings.channels[i].state == ChannelState::faulty;
    if (channels > k_most_paths && (!is_faulty || drawn == k_most_paths)) continue;
    add_path(made.pictures, source, i);
    ++drawn;
  }
  if (drawn == channels) return;
  const std::string most = std::to_string(k_most_paths);
  made.not_drawn =
      "Of " + std::to_string(channels) + " channels the paths of " + std::to_string(drawn) +
      " are drawn: where there are more than " + most + ", only faulty ones are, and at most " + most +
      " of them. All stand in the I/O check sheet; ringtrue trace JOB CHANNEL --svg FILE draws any.";
}

}  // namespace

void put_pictures(Record& made, const RecordSource& source) {
  add(made.pictures, "Map of the panel",
      readings_maps({source.graph, &source.findings, k_page_width, k_page_height}));
  for (const TerminalStrip& strip : terminal_strips(source.graph.netlist()))
    add(made.pictures, "Terminal strip " + std::string(strip.name),
        strip_pictures({source.graph, strip, &source.findings, k_strip_width, k_page_height}));
  add_paths(made, source);
}

std::string figures_html(const Record& record) {
  std::string out;
  if (!record.not_drawn.empty()) out = "<p>" + html_text(record.not_drawn) + "</p>\n";
  for (const RecordPicture& picture : record.pictures)
    out += "<figure>\n<figcaption>" + html_text(picture.caption) + "</figcaption>\n" + picture.svg +
           "</figure>\n";
  return out;
}

}  // namespace ringtrue::record
