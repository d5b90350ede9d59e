#include "marks.hpp"

#include <algorithm>
#include <utility>

#include "ringtrue/report/words.hpp"

namespace ringtrue::picture {

namespace {

std::string spaced(std::string_view file_word) {
  std::string text(file_word);
  std::replace(text.begin(), text.end(), '-', ' ');
  return text;
}

}  // namespace

std::string_view word(Mark mark) {
  switch (mark) {
    case Mark::none:
      return "";
    case Mark::absent:
      return "absent";
    case Mark::unproven:
      return "unproven";
    case Mark::proven:
      return "proven";
    case Mark::suspect:
      return "suspect";
    case Mark::faulty:
      return "faulty";
  }
  return {};
}

std::size_t severity(Mark mark) {
  return static_cast<std::size_t>(std::find(k_worst_first.begin(), k_worst_first.end(), mark) -
                                  k_worst_first.begin());
}

std::string Marked::text() const {
  std::string text(word(mark));
  for (const std::string& reason : {what, findings})
    if (!reason.empty()) text += (text.ends_with(word(mark)) ? ": " : ", ") + reason;
  return text;
}

Marked Marks::Blame::marked(Mark mark) const {
  Marked marked{mark, "", clusters.size() == 1 ? "finding " : "findings "};
  for (const std::string& kind : kinds) marked.what += (marked.what.empty() ? "" : " or ") + kind;
  for (const std::size_t cluster : clusters)
    marked.findings += (cluster == *clusters.begin() ? "" : ", ") + std::to_string(cluster + 1);
  return marked;
}

Marks::Marks(const ConductionGraph& graph, const Findings* findings) : graph_(graph), findings_(findings) {
  if (findings == nullptr) return;
  for (std::size_t cluster = 0; cluster < findings->clusters.size(); ++cluster)
    for (const Diagnosis& diagnosis : findings->clusters[cluster].diagnoses) {
      blame(cluster, diagnosis.faults, diagnosis.rank == 1);
      for (const std::vector<Fault>& equivalent : diagnosis.equivalent) blame(cluster, equivalent, false);
    }
}

void Marks::blame(std::size_t cluster, const std::vector<Fault>& faults, bool is_likeliest) {
  auto& blamed = is_likeliest ? faulty_ : suspect_;
  const auto add = [&](ElementId element, const Fault& fault) {
    if (element == ElementId::none) return;
    blamed[element].kinds.insert(spaced(ringtrue::word(fault.kind)));
    blamed[element].clusters.insert(cluster);
  };
  for (const Fault& fault : faults) {
    add(fault.element, fault);
    add(fault.element2, fault);
    if (fault.kind == FaultKind::shift)
      for (const LandedEnd& moved : landed_ends(fault, graph_)) add(moved.conductor, fault);
    if (is_likeliest) blame_points(cluster, fault);
  }
}

void Marks::blame_points(std::size_t cluster, const Fault& fault) {
  const auto add = [&](PointId point, std::string what) {
    points_[point].kinds.insert(std::move(what));
    points_[point].clusters.insert(cluster);
  };
  const PointTable& points = graph_.netlist().points;
  if (fault.kind == FaultKind::short_circuit || fault.kind == FaultKind::extra_bridge) {
    add(fault.p, spaced(ringtrue::word(fault.kind)) + " to " + points.name(fault.q));
    add(fault.q, spaced(ringtrue::word(fault.kind)) + " to " + points.name(fault.p));
  }
  if (fault.kind == FaultKind::miswire || fault.kind == FaultKind::swap || fault.kind == FaultKind::shift)
    for (const LandedEnd& moved : landed_ends(fault, graph_))
      add(moved.at, element_noun(moved.conductor, graph_) + " lands here");
}

Marked Marks::of(ElementId element) const {
  if (findings_ == nullptr) return {};
  if (const auto at = faulty_.find(element); at != faulty_.end()) return at->second.marked(Mark::faulty);
  if (findings_->proven[index(element)] != 0) return {Mark::proven, "", ""};
  if (const auto at = suspect_.find(element); at != suspect_.end()) return at->second.marked(Mark::suspect);
  return {Mark::unproven, "", ""};
}

Marked Marks::in_the_shop(ElementId element) const {
  const Marked marked = of(element);
  const bool is_absent = marked.mark == Mark::unproven && is_absent_field(element, graph_);
  return is_absent ? Marked{Mark::absent, "", ""} : marked;
}

Marked Marks::of(PointId point) const {
  const auto at = points_.find(point);
  return at == points_.end() ? Marked{} : at->second.marked(Mark::faulty);
}

}  // namespace ringtrue::picture
