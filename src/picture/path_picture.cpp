#include "ringtrue/picture/path_picture.hpp"

#include <algorithm>

#include "lane_rows.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue {

namespace picture {

namespace {

constexpr int k_least_cell = 128;
constexpr int k_most_cell = 160;

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
        page_(std::max(what.width, k_least_picture_width)),
        marks_(what.graph, what.findings),
        columns_(columns_for(longest(), page_.width())) {}

  [[nodiscard]] std::string draw();

 private:
  [[nodiscard]] std::size_t longest() const;
  [[nodiscard]] std::string title() const;
  [[nodiscard]] std::string state() const;
  void heading();
  void add_lane(const Lane& lane);

  const PathPicture& what_;
  Page page_;
  Marks marks_;
  Columns columns_;
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

void Picture::heading() {
  const Netlist& netlist = what_.graph.netlist();
  page_.paragraph(title(), k_heading_font, Weight::bold);
  page_.paragraph(readable(netlist.channels[what_.trace.channel].text), k_font + 2, Weight::regular);
  page_.paragraph(readable(panel_label(netlist.panel)) + ". " + state() + ".", k_font, Weight::regular);
  for (const std::string& shared : shared_net_words(what_.trace, what_.graph))
    page_.paragraph(readable(shared) + ".", k_font, Weight::bold);
}

void Picture::add_lane(const Lane& lane) {
  page_.rule();
  page_.paragraph(std::string(word(lane.role)), k_font + 3, Weight::bold);
  page_.paragraph(lane.verdict, k_font, Weight::regular);
  page_.y = draw_lane(page_.body(), lane, columns_, what_.graph, page_.y);
  for (const std::string& note : lane.notes) page_.paragraph(note, k_font, Weight::regular);
}

std::string Picture::draw() {
  heading();
  std::string description = state() + ".";
  for (const auto& [role, path] : stated_paths(what_.trace)) {
    const Lane lane = lane_of(role, *path, what_.graph, marks_, columns_.cell);
    description += ' ' + spoken(lane);
    add_lane(lane);
  }
  return page_.framed(title(), description);
}

}  // namespace

}  // namespace picture

std::string path_picture(const PathPicture& what) { return picture::Picture(what).draw(); }

}  // namespace ringtrue
