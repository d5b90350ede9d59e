#include "part_names.hpp"

#include <algorithm>
#include <set>

#include "described.hpp"

namespace ringtrue {

std::string PartNames::part(std::string_view name) const {
  const auto other = others.find(name);
  return other == others.end() ? std::string(name) : other->second;
}

std::string PartNames::place(std::string_view name) const {
  const std::string_view of = part_of_place(name);
  return part(of) + std::string(name.substr(of.size()));
}

std::string PartNames::point(const PointTable& points, PointId p) const {
  if (p == PointId::none) return {};
  const std::string name = points.name(p);
  return others.empty() ? name : place(name);
}

PartNames names_after(const std::vector<RenamedPart>& renamed) {
  PartNames names;
  for (const RenamedPart& part : renamed) names.others.emplace(part.before, part.after);
  return names;
}

namespace {

using Designations = std::set<std::string, std::less<>>;

// No designation holds such bytes.
constexpr const char *k_itself = "\x01", *k_open = "\x02";

/// What moves the contact; empty if the part is none.
std::string_view mover_of(const Part& part) {
  const bool is_contact = part.kind == PartKind::contact_no || part.kind == PartKind::contact_nc;
  return is_contact ? part.actuated_by : std::string_view();
}

Designations designations(const Netlist& net) {
  Designations all;
  for (std::uint32_t i = 0; i < net.points.place_count(); ++i)
    all.emplace(part_of_place(net.points.place_name(PlaceId{i})));
  for (const Part& part : net.parts)
    if (!mover_of(part).empty()) all.emplace(mover_of(part));
  return all;
}

/// What there is to be told of some parts of one revision.
class Looks {
 public:
  Looks(const ConductionGraph& graph, const Designations& parts) : graph_(graph) {
    const Netlist& net = graph.netlist();
    const auto note = [&](std::string_view part, ElementId e) {
      if (!parts.contains(part)) return;
      std::vector<ElementId>& elements = elements_[std::string(part)];
      if (elements.empty() || elements.back() != e) elements.push_back(e);
    };
    for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
      const ElementId e{i};
      for (const PointId end : {graph.end_a(e), graph.end_b(e)})
        if (end != PointId::none) note(part_of_place(net.points.place_name(net.points.place(end))), e);
      const ElementOrigin origin = graph.origin(e);
      if (origin.from == ElementOrigin::From::part) note(mover_of(net.parts[origin.row]), e);
    }
  }

  /// Its elements and what it moves, in an order of their own.
  [[nodiscard]] std::vector<std::string> of(const std::string& part, PartNames names) const {
    std::vector<std::string> looks;
    const auto found = elements_.find(part);
    if (found == elements_.end()) return looks;
    names.others[part] = k_itself;
    for (const ElementId e : found->second) looks.push_back(look(e, names));
    std::sort(looks.begin(), looks.end());
    return looks;
  }

 private:
  [[nodiscard]] std::string look(ElementId e, const PartNames& names) const {
    if (!graph_.is_conductor(e)) {
      const DescribedElement element = described_element(graph_, e, names);
      return element.place + element.make;
    }
    const DescribedConductor conductor = described_conductor(graph_, index(e), names);
    return conductor.ends() + "\n" + std::string(graph_.element_kind_word(e));
  }

  const ConductionGraph& graph_;
  std::map<std::string, std::vector<ElementId>, std::less<>> elements_;
};

/// Puts gone and new parts together.
class Renaming {
 public:
  Renaming(const ConductionGraph& before, const ConductionGraph& after, Designations gone, Designations added)
      : before_(before, gone), after_(after, added), gone_(std::move(gone)), new_(std::move(added)) {}

  [[nodiscard]] std::vector<RenamedPart> run() {
    while (decide_some()) {
    }
    while (take_back_some()) {
    }
    std::vector<RenamedPart> all;
    for (const auto& [was, is] : decided_) all.push_back({was, is});
    return all;
  }

 private:
  using Alike = std::map<std::vector<std::string>, std::vector<std::string>>;

  static PartNames open_but(const Designations& undecided,
                            std::map<std::string, std::string, std::less<>> names) {
    for (const std::string& part : undecided) names.emplace(part, k_open);
    return {std::move(names)};
  }
  static Alike alike(const Looks& looks, const Designations& parts, const PartNames& names) {
    Alike all;
    for (const std::string& part : parts) all[looks.of(part, names)].push_back(part);
    return all;
  }

  bool decide_some() {
    const Alike was = alike(before_, gone_, open_but(gone_, decided_)),
                is = alike(after_, new_, open_but(new_, {}));
    bool any = false;
    for (const auto& [look, parts] : was) {
      const auto others = is.find(look);
      if (look.empty() || parts.size() != 1 || others == is.end() || others->second.size() != 1) continue;
      decided_[parts.front()] = others->second.front();
      gone_.erase(parts.front()), new_.erase(others->second.front());
      any = true;
    }
    return any;
  }

  bool take_back_some() {
    const PartNames was = open_but(gone_, decided_), is = open_but(new_, {});
    return std::erase_if(decided_, [&](const auto& pair) {
             const bool is_same = before_.of(pair.first, was) == after_.of(pair.second, is);
             if (!is_same) gone_.insert(pair.first), new_.insert(pair.second);
             return !is_same;
           }) != 0;
  }

  Looks before_, after_;
  Designations gone_, new_;                                  ///< undecided
  std::map<std::string, std::string, std::less<>> decided_;  ///< before, after
};

}  // namespace

std::vector<RenamedPart> renamed_parts(const ConductionGraph& before, const ConductionGraph& after) {
  const Designations was = designations(before.netlist()), is = designations(after.netlist());
  Designations gone, added;
  std::set_difference(was.begin(), was.end(), is.begin(), is.end(), std::inserter(gone, gone.end()));
  std::set_difference(is.begin(), is.end(), was.begin(), was.end(), std::inserter(added, added.end()));
  if (gone.empty() || added.empty()) return {};
  return Renaming(before, after, std::move(gone), std::move(added)).run();
}

}  // namespace ringtrue
