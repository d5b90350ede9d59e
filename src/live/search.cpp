#include "ringtrue/live/search.hpp"

#include <algorithm>
#include <array>

#include "ringtrue/report/words.hpp"

namespace ringtrue {

namespace {

constexpr std::size_t k_few_wires = 4;

std::string in_small(std::string_view text) {
  std::string small(text);
  for (char& c : small)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return small;
}

/// How well a name fits: 0 is the name itself, 3 not at all.
std::size_t fit(std::string_view name, const std::string& wanted) {
  const std::string small = in_small(name);
  const std::size_t at = small.find(wanted);
  if (at == std::string::npos) return 3;
  return at != 0 ? 2 : small.size() == wanted.size() ? 0 : 1;
}

class Search {
 public:
  Search(const Drawing& drawing, std::string_view text, std::size_t most)
      : net_(drawing.netlist), graph_(drawing.graph), wanted_(in_small(text)), most_(most) {}

  [[nodiscard]] std::vector<Match> run() {
    if (wanted_.empty()) return {};
    look_at_channels();
    look_at_wires();
    look_at_points();
    std::vector<Match> all;
    for (std::vector<Found>& same : found_)
      for (const Found& found : same)
        if (all.size() < most_) all.push_back(match(found));
    return all;
  }

 private:
  struct Found {
    Match::Kind kind;
    std::uint32_t number;
  };

  void offer(std::size_t fit, Match::Kind kind, std::uint32_t number) {
    if (fit < found_.size() && found_[fit].size() < most_) found_[fit].push_back({kind, number});
  }

  void look_at_channels() {
    for (std::uint32_t i = 0; i < net_.channels.size(); ++i) {
      const Channel& channel = net_.channels[i];
      const std::size_t by_text = std::max<std::size_t>(2, fit(channel.text, wanted_));
      offer(std::min({fit(channel.tag, wanted_), fit(channel.address, wanted_), by_text}),
            Match::Kind::channel, i);
    }
  }

  void look_at_wires() {
    for (std::uint32_t i = 0; i < net_.conductors.size(); ++i)
      if (!net_.conductors[i].is_spare()) offer(fit(net_.conductor_name(i), wanted_), Match::Kind::wire, i);
  }

  void look_at_points() {
    for (std::uint32_t i = 0; i < net_.points.place_count(); ++i)
      offer(fit(net_.points.place_name(PlaceId{i}), wanted_), Match::Kind::point, i);
  }

  [[nodiscard]] Match match(const Found& found) const {
    switch (found.kind) {
      case Match::Kind::channel:
        return of_channel(net_.channels[found.number]);
      case Match::Kind::wire:
        return of_wire(found.number);
      case Match::Kind::point:
        return of_place(PlaceId{found.number});
    }
    return {};
  }

  [[nodiscard]] Match of_channel(const Channel& channel) const {
    Match match{Match::Kind::channel,
                std::string(channel.tag.empty() ? channel.address : channel.tag),
                name(channel.point),
                "",
                {name(channel.point)}};
    if (match.name.empty()) match.name = name(channel.point);
    if (!channel.text.empty()) match.text.append(", ").append(channel.text);
    if (channel.field != PointId::none) match.points.push_back(name(channel.field));
    return match;
  }

  [[nodiscard]] Match of_wire(std::uint32_t number) const {
    const Conductor& wire = net_.conductors[number];
    return {Match::Kind::wire,
            net_.conductor_name(number),
            name(wire.from) + " to " + name(wire.to),
            std::string(net_.conductor_text.get(ConductorText::sheet, number)),
            {name(wire.from), name(wire.to)}};
  }

  [[nodiscard]] Match of_place(PlaceId place) const {
    Match match{Match::Kind::point, std::string(net_.points.place_name(place)), "", "", {}};
    std::size_t told = 0, all = 0;
    for (const PointId p : points_of(place)) {
      match.points.push_back(name(p));
      for (const ElementId e : graph_.elements_at(p)) {
        if (!graph_.is_conductor(e) || ++all > k_few_wires) continue;
        ++told;
        const PointId other = graph_.end_a(e) == p ? graph_.end_b(e) : graph_.end_a(e);
        match.text.append(match.text.empty() ? "" : ", ")
            .append(element_noun(e, graph_))
            .append(" to ")
            .append(name(other));
      }
    }
    if (told < all) match.text += " and " + std::to_string(all - told) + " more";
    return match;
  }

  [[nodiscard]] std::vector<PointId> points_of(PlaceId place) const {
    if (!net_.points.has_sides(place)) return {net_.points.point(place, Side::single)};
    return {net_.points.point(place, Side::internal), net_.points.point(place, Side::external)};
  }
  [[nodiscard]] std::string name(PointId p) const { return net_.points.name(p); }

  const Netlist& net_;
  const ConductionGraph& graph_;
  std::string wanted_;
  std::size_t most_;
  std::array<std::vector<Found>, 3> found_;  ///< by how well they fit
};

}  // namespace

std::string_view word(Match::Kind kind) {
  switch (kind) {
    case Match::Kind::point:
      return "point";
    case Match::Kind::wire:
      return "wire";
    case Match::Kind::channel:
      return "channel";
  }
  return {};
}

std::vector<Match> search(const Drawing& drawing, std::string_view text, std::size_t most) {
  return Search(drawing, text, most).run();
}

}  // namespace ringtrue
