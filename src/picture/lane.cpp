#include "lane.hpp"

#include "ringtrue/report/words.hpp"

namespace ringtrue::picture {

namespace {

class LaneMaker {
 public:
  LaneMaker(const ConductionGraph& graph, const Marks& marks, int cell)
      : graph_(graph), marks_(marks), width_(cell - k_text_gap) {}

  [[nodiscard]] Lane::Stop stop(PointId point) const {
    const std::string name = readable(graph_.netlist().points.name(point));
    Label label = label_of(name, Weight::regular);
    if (const Marked marked = marks_.of(point); marked.mark != Mark::none) {
      add_mark(label, marked);
      label.said = name + " (" + readable(marked.text()) + ")";
    }
    return {point, std::move(label)};
  }

  [[nodiscard]] Lane::Step step(ElementId element) const {
    Label label = label_of(readable(element_noun(element, graph_)), Weight::bold);
    if (const std::string_view sheet = graph_.element_sheet(element); !sheet.empty())
      add_said(label, "sheet " + readable(sheet));
    if (!graph_.is_on_at_rest(element)) add_said(label, "open at rest");
    if (const Marked marked = marks_.of(element); marked.mark != Mark::none) {
      add_mark(label, marked);
      label.said += ", " + readable(marked.text());
    }
    return {element, std::move(label)};
  }

  /// The gap after the last point reached, and what lies beyond it.
  void add_gap(Lane& lane, const TracedPath& path) const {
    const bool has_target = path.verdict == PathVerdict::stops;
    lane.steps.push_back(
        {ElementId::none, label_of(has_target ? "gap: the path stops" : "nothing leads on", Weight::bold)});
    const PointId beyond = path.target_side.empty() ? path.to : path.target_side.front();
    if (beyond != PointId::none)
      lane.stops.push_back(stop(beyond));
    else
      lane.stops.push_back(
          {beyond,
           label_of(lane.role == PathRole::signal ? "no field terminal" : "no potential", Weight::regular)});
  }

 private:
  [[nodiscard]] Label label_of(std::string text, Weight weight) const {
    Label label;
    add(label.lines, text, weight);
    label.said = std::move(text);
    return label;
  }
  void add(Lines& lines, std::string_view text, Weight weight) const {
    for (std::string& line : wrapped(text, width_, k_font, weight))
      lines.push_back({std::move(line), weight});
  }
  void add_said(Label& label, const std::string& text) const {
    label.said += ", " + text;
    add(label.lines, text, Weight::regular);
  }
  void add_mark(Label& label, const Marked& marked) const {
    label.mark = marked.mark;
    add(label.mark_lines, word(marked.mark), Weight::bold);
    for (const std::string& reason : {marked.what, marked.findings})
      add(label.mark_lines, readable(reason), Weight::regular);
  }

  const ConductionGraph& graph_;
  const Marks& marks_;
  int width_;
};

}  // namespace

Lane lane_of(PathRole role, const TracedPath& path, const ConductionGraph& graph, const Marks& marks,
             int cell) {
  const LaneMaker maker(graph, marks, cell);
  Lane lane{role, readable(path_words(role, path, graph)), {}, {}, {}};
  for (const PointId point : path.points) lane.stops.push_back(maker.stop(point));
  if (path.points.empty()) lane.stops.push_back(maker.stop(path.from));
  for (const ElementId element : path.elements) lane.steps.push_back(maker.step(element));
  if (path.verdict == PathVerdict::stops || path.verdict == PathVerdict::no_target) maker.add_gap(lane, path);
  for (const std::string& note : stop_words(path, graph)) lane.notes.push_back(readable(note));
  return lane;
}

std::string spoken(const Lane& lane) {
  std::string text(word(lane.role));
  text += ": " + lane.verdict + ". From " + lane.stops.front().label.said;
  for (std::size_t i = 0; i < lane.steps.size(); ++i) {
    const bool is_gap = lane.steps[i].element == ElementId::none;
    text += (is_gap ? "; then " : "; by ") + lane.steps[i].label.said;
    text += (is_gap ? ", and beyond it " : ", to ") + lane.stops[i + 1].label.said;
  }
  text += '.';
  for (const std::string& note : lane.notes) text += ' ' + note + '.';
  return text;
}

}  // namespace ringtrue::picture
