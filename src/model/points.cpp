#include "ringtrue/model/points.hpp"

namespace ringtrue {

namespace {

constexpr std::string_view k_internal = ".int", k_external = ".ext";

/// Takes the side off the end of a name.
Side cut_side(std::string_view& text) {
  if (text.size() <= k_internal.size()) return Side::single;
  const std::string_view tail = text.substr(text.size() - k_internal.size());
  if (tail != k_internal && tail != k_external) return Side::single;
  text.remove_suffix(tail.size());
  return tail == k_internal ? Side::internal : Side::external;
}

/// One aspect `=F` or `+L` at the front of `text`, cut off; empty if there is none.
std::string_view cut_aspect(std::string_view& text, char prefix) {
  if (text.empty() || text.front() != prefix) return {};
  const std::size_t end = text.find_first_of("=+-:", 1);
  const std::string_view aspect = text.substr(0, end);
  text.remove_prefix(aspect.size());
  return aspect;
}

}  // namespace

PointName split_point_name(std::string_view text, const Designation& panel, std::string& storage) {
  PointName name;
  name.side = cut_side(text);
  if (text.empty() || (text.front() != '=' && text.front() != '+')) {
    if (!text.empty() && text.front() == '-') text.remove_prefix(1);
    name.place = text;
    return name;
  }
  std::string_view rest = text;
  const std::string_view function = cut_aspect(rest, '=');
  const std::string_view location = cut_aspect(rest, '+');
  if (!rest.empty() && rest.front() == '-') rest.remove_prefix(1);
  const bool own_function = function.empty() || function.substr(1) == panel.function;
  const bool own_location = location.empty() || location.substr(1) == panel.location;
  if (own_function && own_location) {
    name.place = rest;
    return name;
  }
  // Both aspects are written out, so that `=GD2-X1` and `=GD2+A-X1` meet in a panel at location A.
  const auto full = [](char prefix, std::string_view written, const std::string& own) {
    if (!written.empty()) return std::string(written);
    return own.empty() ? std::string() : prefix + own;
  };
  storage = full('=', function, panel.function) + full('+', location, panel.location) + "-";
  storage += rest;
  name.place = storage;
  return name;
}

std::string_view part_of_place(std::string_view place) {
  const std::size_t colon = place.rfind(':');
  return colon == std::string_view::npos ? place : place.substr(0, colon);
}

std::string_view pin_of_place(std::string_view place) {
  const std::size_t colon = place.rfind(':');
  return colon == std::string_view::npos ? std::string_view{} : place.substr(colon + 1);
}

std::string PointTable::name(PointId point) const {
  std::string name(place_name(place(point)));
  switch (side(point)) {
    case Side::internal:
      return name.append(k_internal);
    case Side::external:
      return name.append(k_external);
    default:
      return name;
  }
}

Side PointTable::side(PointId point) const {
  const PlaceId of = place(point);
  if (!has_sides(of)) return Side::single;
  return first_point_[index(of)] == point ? Side::internal : Side::external;
}

std::optional<PlaceId> PointTable::find_place(std::string_view canonical) const {
  const std::uint32_t number = places_.find(canonical);
  if (number == NameTable::k_absent) return std::nullopt;
  return PlaceId{number};
}

void PointTable::find_places(std::span<const std::string_view> canonical, std::span<PlaceId> places) const {
  static_assert(NameTable::k_absent == static_cast<std::uint32_t>(PlaceId::none));
  std::vector<std::uint32_t> numbers(canonical.size());
  places_.find_all(canonical, numbers);
  for (std::size_t i = 0; i < numbers.size(); ++i) places[i] = PlaceId{numbers[i]};
}

PointId PointTable::point(PlaceId of, Side side) const {
  const PointId first = first_point_[index(of)];
  return side == Side::external ? PointId{index(first) + 1} : first;
}

PointId PointTable::other_side(PointId point) const {
  switch (side(point)) {
    case Side::internal:
      return PointId{index(point) + 1};
    case Side::external:
      return PointId{index(point) - 1};
    default:
      return PointId::none;
  }
}

}  // namespace ringtrue
