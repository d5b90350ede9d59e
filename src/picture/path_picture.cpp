// The height is known only at the end: the body is drawn first, then the frame around it.
#include "ringtrue/picture/path_picture.hpp"

#include <algorithm>

#include "ringtrue/report/words.hpp"
#include "strip.hpp"

namespace ringtrue {

namespace picture {

namespace {

constexpr int k_margin = 14;
constexpr int k_least_cell = 128;
constexpr int k_most_cell = 160;
constexpr int k_heading_font = 19;

/// As many columns as the longest path needs and the width holds. Labels of the first and last point reach
/// half a cell out.
Columns columns_for(std::size_t elements, int width) {
  const int room = width - 2 * k_margin;
  const int most = std::max(1, room / k_least_cell - 1);
  const int count = std::clamp(static_cast<int>(std::min<std::size_t>(elements, 1000)), 1, most);
  const int cell = std::clamp(room / (count + 1), k_least_cell, k_most_cell);
  return {count, cell, k_margin + cell / 2};
}

class Picture {
 public:
  explicit Picture(const PathPicture& what)
      : what_(what),
        width_(std::max(what.width, k_least_picture_width)),
        marks_(what.graph, what.findings),
        columns_(columns_for(longest(), width_)) {}

  [[nodiscard]] std::string draw();

 private:
  [[nodiscard]] std::size_t longest() const;
  [[nodiscard]] std::string title() const;
  [[nodiscard]] std::string state() const;
  void heading();
  void draw_lane(const Lane& lane);
  void paragraph(std::string_view words, int font, Weight weight);
  [[nodiscard]] std::string framed(std::string_view description);

  const PathPicture& what_;
  int width_;
  Marks marks_;
  Columns columns_;
  Svg body_;
  int y_ = k_margin;  ///< down to where it is drawn
};

std::vector<std::pair<PathRole, const TracedPath*>> stated_paths(const ChannelTrace& trace) {
  std::vector<std::pair<PathRole, const TracedPath*>> stated;
  for (const auto& [role, path] :
       {std::pair{PathRole::signal, &trace.signal}, std::pair{PathRole::way_back, &trace.return_path},
        std::pair{PathRole::common, &trace.common}})
    if (path->verdict != PathVerdict::not_stated) stated.emplace_back(role, path);
  return stated;
}

std::size_t Picture::longest() const {
  std::size_t most = 0;
  for (const auto& [role, path] : stated_paths(what_.trace))
    most = std::max(
        most, path->elements.size() +
                  (path->verdict == PathVerdict::stops || path->verdict == PathVerdict::no_target ? 1u : 0u));
  return most;
}

std::string Picture::title() const {
  const Channel& channel = what_.graph.netlist().channels[what_.trace.channel];
  std::string text = what_.graph.netlist().points.name(channel.point);
  for (const std::string_view part : {word(channel.type), channel.address, channel.tag})
    if (!part.empty()) text.append("  ").append(part);
  return readable(text);
}

/// `Channel faulty, findings 2, 3`
std::string Picture::state() const {
  if (what_.findings == nullptr) return "As drawn; no readings are shown";
  const ChannelResult& result = what_.findings->channels[what_.trace.channel];
  std::string text = "Channel " + std::string(ringtrue::word(result.state));
  for (std::size_t i = 0; i < result.clusters.size(); ++i)
    text += (i != 0                        ? ", "
             : result.clusters.size() == 1 ? ": finding "
                                           : ": findings ") +
            std::to_string(result.clusters[i] + 1);
  return text;
}

void Picture::paragraph(std::string_view words, int font, Weight weight) {
  for (std::string& line : wrapped(words, width_ - 2 * k_margin, font, weight)) {
    y_ += font + 4;
    draw_text(body_, k_margin, y_, {std::move(line), weight}, font, "start");
  }
}

void Picture::heading() {
  const Netlist& netlist = what_.graph.netlist();
  paragraph(title(), k_heading_font, Weight::bold);
  paragraph(readable(netlist.channels[what_.trace.channel].text), k_font + 2, Weight::regular);
  paragraph(readable(panel_label(netlist.panel)) + ". " + state() + ".", k_font, Weight::regular);
  for (const std::string& shared : shared_net_words(what_.trace, what_.graph))
    paragraph(readable(shared) + ".", k_font, Weight::bold);
}

void Picture::draw_lane(const Lane& lane) {
  y_ += k_margin;
  body_.leaf("line", {{"x1", k_margin},
                      {"y1", y_},
                      {"x2", width_ - k_margin},
                      {"y2", y_},
                      {"stroke", "currentColor"},
                      {"stroke-width", 1}});
  y_ += 4;
  paragraph(std::string(word(lane.role)), k_font + 3, Weight::bold);
  paragraph(lane.verdict, k_font, Weight::regular);
  y_ = draw_strip(body_, lane, columns_, what_.graph, y_);
  for (const std::string& note : lane.notes) paragraph(note, k_font, Weight::regular);
}

std::string Picture::framed(std::string_view description) {
  Svg frame;
  const int height = y_ + k_margin;
  frame.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                     {"version", "1.1"},
                     {"width", width_},
                     {"height", height},
                     {"viewBox", "0 0 " + std::to_string(width_) + ' ' + std::to_string(height)},
                     {"role", "img"},
                     {"font-family", "sans-serif"},
                     {"fill", "currentColor"}});
  frame.text_leaf("title", title()).text_leaf("desc", description).put(body_.take()).close();
  return frame.take() + '\n';
}

std::string Picture::draw() {
  heading();
  std::string description = state() + ".";
  for (const auto& [role, path] : stated_paths(what_.trace)) {
    const Lane lane = lane_of(role, *path, what_.graph, marks_, columns_.cell);
    description += ' ' + spoken(lane);
    draw_lane(lane);
  }
  return framed(description);
}

}  // namespace

}  // namespace picture

std::string path_picture(const PathPicture& what) { return picture::Picture(what).draw(); }

}  // namespace ringtrue
