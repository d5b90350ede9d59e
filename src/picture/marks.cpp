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

std::string joined(const std::set<std::string>& texts, std::string_view between) {
  std::string all;
  for (const std::string& text : texts) all.append(all.empty() ? "" : between).append(text);
  return all;
}

std::string named(const std::vector<std::size_t>& clusters) {
  std::string text = clusters.size() == 1 ? "finding " : "findings ";
  for (const std::size_t cluster : clusters)
    text += (cluster == clusters.front() ? "" : ", ") + std::to_string(cluster + 1);
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
  std::vector<std::pair<std::string, std::vector<std::size_t>>> told;
  for (const auto& [cluster, alternatives] : causes) {
    const std::string text = joined(alternatives, " or ");
    const auto same =
        std::find_if(told.begin(), told.end(), [&](const auto& one) { return one.first == text; });
    if (same == told.end())
      told.push_back({text, {cluster}});
    else
      same->second.push_back(cluster);
  }
  if (told.size() == 1) return {mark, told.front().first, named(told.front().second)};
  Marked marked{mark, "", ""};
  for (const auto& [text, clusters] : told)
    marked.what += (marked.what.empty() ? "" : "; ") + text + " (" + named(clusters) + ")";
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
  Said<ElementId> elements;
  Said<PointId> points;
  for (const Fault& fault : faults) {
    const std::string kind = spaced(ringtrue::word(fault.kind));
    for (const ElementId element : {fault.element, fault.element2})
      if (element != ElementId::none) elements[element].insert(kind);
    if (fault.kind == FaultKind::shift)
      for (const LandedEnd& moved : landed_ends(fault, graph_)) elements[moved.conductor].insert(kind);
    if (is_likeliest) add_points(fault, points);
  }
  auto& blamed = is_likeliest ? faulty_ : suspect_;
  for (const auto& [element, said] : elements) blamed[element].causes[cluster].insert(joined(said, " and "));
  for (const auto& [point, said] : points) points_[point].causes[cluster].insert(joined(said, " and "));
}

void Marks::add_points(const Fault& fault, Said<PointId>& said) const {
  const PointTable& points = graph_.netlist().points;
  if (fault.kind == FaultKind::short_circuit || fault.kind == FaultKind::extra_bridge)
    for (const auto& [at, other] : {std::pair(fault.p, fault.q), std::pair(fault.q, fault.p)})
      said[at].insert(spaced(ringtrue::word(fault.kind)) + " to " + points.name(other));
  if (fault.kind == FaultKind::miswire || fault.kind == FaultKind::swap || fault.kind == FaultKind::shift)
    for (const LandedEnd& moved : landed_ends(fault, graph_))
      said[moved.at].insert(element_noun(moved.conductor, graph_) + " lands here");
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
