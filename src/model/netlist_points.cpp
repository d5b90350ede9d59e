// The second step of building a netlist: which places have two sides, which number each point has, and what
// bare names mean, once all rows are known.
#include <algorithm>
#include <unordered_map>
#include <unordered_set>

#include "netlist_builder_impl.hpp"

namespace ringtrue {

namespace {

/// Class letter X of IEC 81346-2 ("connecting"), for names that only a wire list knows.
bool is_connecting_letter(std::string_view part) {
  const std::size_t product = part.rfind('-');
  if (product != std::string_view::npos) part.remove_prefix(product + 1);
  return part.size() > 1 && part.front() == 'X' && part.find('.') == std::string_view::npos;
}

/// `F1, K1, K2 and others`.
std::string a_few(const std::vector<std::string_view>& names) {
  constexpr std::size_t k_most = 4;
  std::string text;
  for (std::size_t i = 0; i < std::min(names.size(), k_most); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  return names.size() > k_most ? text + " and others" : text;
}

}  // namespace

void NetlistBuilder::Impl::decide_sides() {
  std::unordered_set<std::string_view> in_field, plain_parts;
  for (const Part& part : net.parts) {
    if (part.place == PartPlace::field) in_field.insert(part.part);
    if (!part.strip_like) plain_parts.insert(part.part);
  }
  PointTable& points = net.points;
  const std::size_t count = places.size();
  points.two_sided_.assign(count, false);
  points.separable_.assign(count, false);
  for (std::uint32_t i = 0; i < count; ++i) {
    PlaceFlags& flag = flags[i];
    const std::string_view place = places.name(i);
    const std::string_view part = part_of_place(place);
    if (!in_field.empty()) flag.in_field = in_field.count(part) != 0 || in_field.count(place) != 0;
    const bool plain = !plain_parts.empty() && plain_parts.count(part) != 0;
    if (plain && flag.side_written && !flag.strip_like)
      error(ErrorCode::side_on_single_point, std::string(place) + " is a pin of a part, which has no sides",
            first_seen[i], "", "", "", "the bare name " + std::string(place));
    const bool implied = !flag.strip_like && !plain &&
                         (flag.side_written || (part.size() < place.size() && is_connecting_letter(part)));
    points.two_sided_[i] = flag.strip_like || implied;
    points.separable_[i] = flag.separable;
    if (implied) net.implied_terminals.push_back(PlaceId{i});
  }
}

void NetlistBuilder::Impl::number_points() {
  PointTable& points = net.points;
  points.first_point_.reserve(places.size());
  points.place_of_.reserve(places.size() + net.implied_terminals.size());
  for (std::uint32_t i = 0; i < places.size(); ++i) {
    points.first_point_.push_back(PointId{static_cast<std::uint32_t>(points.place_of_.size())});
    points.place_of_.push_back(PlaceId{i});
    if (points.two_sided_[i]) points.place_of_.push_back(PlaceId{i});
  }
  points.places_ = std::move(places);
}

PointId NetlistBuilder::Impl::settle(const WrittenPoint& written, Side if_bare, RowSource source,
                                     std::string_view element, std::string_view field) {
  if (written.place == PlaceId::none) return PointId::none;
  const PointTable& points = net.points;
  if (!points.has_sides(written.place) || written.side != Side::single)
    return points.point(written.place, written.side);
  if (points.is_separable(written.place) && if_bare == Side::either) {
    const std::string name(points.place_name(written.place));
    error(ErrorCode::ambiguous_side, name + " can be parted, so its side must be named", source, element,
          field, name, name + ".int or " + name + ".ext");
    return PointId::none;
  }
  return points.point(written.place, if_bare == Side::either ? Side::internal : if_bare);
}

PointId NetlistBuilder::Impl::settle_end(std::size_t at, const WrittenPoint& end, const WrittenPoint& other,
                                         std::string_view field) {
  const RowSource source = net.conductors[at].source;
  if (end.place == PlaceId::none || end.side != Side::single || !net.points.has_sides(end.place))
    return settle(end, Side::internal, source, "conductor", field);
  if (net.points.is_separable(end.place)) return settle(end, Side::either, source, "conductor", field);
  const bool to_field = other.place != PlaceId::none && flags[index(other.place)].in_field;
  const bool external = to_field || net.conductors[at].kind == ConductorKind::core;
  ++(external ? taken_external : taken_internal);
  return settle(end, external ? Side::external : Side::internal, source, "conductor", field);
}

void NetlistBuilder::Impl::settle_points() {
  for (std::size_t i = 0; i < net.conductors.size(); ++i) {
    const auto& [a, b] = conductor_ends[i];
    net.conductors[i].from = settle_end(i, a, b, "from");
    net.conductors[i].to = settle_end(i, b, a, "to");
  }
  for (std::size_t i = 0; i < net.parts.size(); ++i) {
    net.parts[i].a = net.points.point(part_ends[i].a.place, part_ends[i].a.side);
    net.parts[i].b = net.points.point(part_ends[i].b.place, part_ends[i].b.side);
  }
  for (std::size_t i = 0; i < net.channels.size(); ++i) {
    Channel& channel = net.channels[i];
    const auto& [point, field, return_point, common] = channel_points[i];
    channel.point = settle(point, Side::either, channel.source, "channel", "point");
    channel.field = settle(field, Side::external, channel.source, "channel", "field");
    channel.return_point = settle(return_point, Side::external, channel.source, "channel", "return");
    channel.common = settle(common, Side::either, channel.source, "channel", "common");
  }
  for (std::size_t i = 0; i < net.potentials.size(); ++i)
    net.potentials[i].point =
        settle(potential_points[i], Side::either, net.potentials[i].source, "potential", "point");
}

/// Where no part is listed, those of which the first points name more than one.
std::vector<std::string_view> NetlistBuilder::Impl::devices_of_several_pins() const {
  constexpr std::size_t k_most_looked_at = 10'000;
  std::vector<std::string_view> devices;
  if (!net.parts.empty()) return devices;
  std::unordered_map<std::string_view, int> pins;
  for (std::uint32_t i = 0; i < std::min(net.points.place_count(), k_most_looked_at); ++i) {
    const std::string_view name = net.points.place_name(PlaceId{i}), device = part_of_place(name);
    if (!net.points.has_sides(PlaceId{i}) && device.size() < name.size() && ++pins[device] == 2)
      devices.push_back(device);
  }
  return devices;
}

void NetlistBuilder::Impl::note_what_was_taken() {
  const std::string file =
      net.conductors.empty() ? std::string() : net.files[net.conductors.front().source.file];
  if (taken_internal + taken_external != 0)
    net.notes.push_back({"bare terminal names in conductors: " + std::to_string(taken_internal) +
                             " taken as .int, " + std::to_string(taken_external) + " as .ext",
                         {file, 0, "", ""}});
  bool has_pins = false;
  for (std::uint32_t i = 0; i < net.points.place_count() && !has_pins; ++i) {
    const std::string_view name = net.points.place_name(PlaceId{i});
    has_pins = part_of_place(name).size() < name.size();
  }
  if (!has_pins && !net.conductors.empty())
    net.notes.push_back(
        {"no point is written as DEVICE:PIN, such as X1:5 or K1:A1; each name is taken as a point of its "
         "own, none as a terminal of a strip or a pin of a part: write X1:5 for X1 5, X1/5 or X1.5, "
         "or device and pin in two columns (From Device, From Pin, To Device, To Pin)",
         {file, 0, "", ""}});
  if (const std::vector<std::string_view> devices = devices_of_several_pins(); !devices.empty())
    net.notes.push_back(
        {"no part is listed: what joins the pins of " + a_few(devices) +
             " isn't known, and a reading across is expected open; parts.csv says it (F1,fuse,1,2)",
         {file, 0, "", ""}});
  if (!net.implied_terminals.empty() && !net.parts.empty())
    net.notes.push_back({"no parts row for terminal " +
                             std::string(net.points.place_name(net.implied_terminals.front())) +
                             (net.implied_terminals.size() > 1
                                  ? " and " + std::to_string(net.implied_terminals.size() - 1) + " more"
                                  : "") +
                             ": taken as conducting between its sides",
                         {file, 0, "", ""}});
}

void NetlistBuilder::Impl::sort_parts() {
  net.parts_by_name.resize(net.parts.size());
  for (std::uint32_t i = 0; i < net.parts.size(); ++i) net.parts_by_name[i] = i;
  std::stable_sort(
      net.parts_by_name.begin(), net.parts_by_name.end(),
      [this](std::uint32_t x, std::uint32_t y) { return net.parts[x].part < net.parts[y].part; });
}

}  // namespace ringtrue
