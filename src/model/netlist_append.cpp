// Rows that another builder took, side by side with this one, become rows of this one.
#include <algorithm>
#include <iterator>

#include "netlist_builder_impl.hpp"

namespace ringtrue {

namespace {

template <class T>
void move_behind(std::vector<T>& these, std::vector<T>&& later) {
  these.insert(these.end(), std::make_move_iterator(later.begin()), std::make_move_iterator(later.end()));
}

template <class Row>
void move_rows_behind(std::vector<Row>& these, std::vector<Row>&& later, std::uint16_t files_before) {
  for (Row& row : later) row.source.file = static_cast<std::uint16_t>(row.source.file + files_before);
  move_behind(these, std::move(later));
}

}  // namespace

std::vector<PlaceId> NetlistBuilder::Impl::take_places(const Impl& later, std::uint16_t files_before) {
  std::vector<PlaceId> taken;
  taken.reserve(later.places.size());
  constexpr std::uint32_t k_together = 256;
  std::vector<std::string_view> names;
  std::vector<std::uint32_t> numbers(k_together);
  for (std::uint32_t i = 0; i < later.places.size();) {
    names.clear();
    for (; i < later.places.size() && names.size() < k_together; ++i) names.push_back(later.places.name(i));
    places.intern_all(names, numbers);
    for (std::size_t k = 0; k < names.size(); ++k) {
      const std::size_t theirs = taken.size();
      RowSource seen = later.first_seen[theirs];
      seen.file = static_cast<std::uint16_t>(seen.file + files_before);
      const PlaceId place = taken.emplace_back(place_numbered(numbers[k], seen));
      flags[index(place)].add(later.flags[theirs]);
    }
  }
  return taken;
}

void NetlistBuilder::Impl::append(Impl&& later) {
  intern_awaited();
  later.intern_awaited();
  const auto files_before = static_cast<std::uint16_t>(net.files.size());
  const std::vector<PlaceId> places_of_later = take_places(later, files_before);
  const auto renumber = [&](WrittenPoint& point) {
    if (point.place != PlaceId::none) point.place = places_of_later[index(point.place)];
  };
  for (auto& ends : later.conductor_ends)
    for (WrittenPoint& end : ends) renumber(end);
  for (PendingPart& ends : later.part_ends) renumber(ends.a), renumber(ends.b);
  for (PendingChannel& points : later.channel_points)
    for (WrittenPoint& point : points) renumber(point);
  for (WrittenPoint& point : later.potential_points) renumber(point);
  const std::size_t conductors = net.conductors.size();
  for (std::size_t i = 0; i < later.net.conductors.size(); ++i)
    for (std::size_t k = 0; k < static_cast<std::size_t>(ConductorText::count_); ++k) {
      const auto field = static_cast<ConductorText>(k);
      net.conductor_text.set(field, conductors + i, later.net.conductor_text.get(field, i));
    }
  move_rows_behind(net.conductors, std::move(later.net.conductors), files_before);
  move_rows_behind(net.parts, std::move(later.net.parts), files_before);
  move_rows_behind(net.channels, std::move(later.net.channels), files_before);
  move_rows_behind(net.potentials, std::move(later.net.potentials), files_before);
  move_behind(conductor_ends, std::move(later.conductor_ends));
  move_behind(part_ends, std::move(later.part_ends));
  move_behind(channel_points, std::move(later.channel_points));
  move_behind(potential_points, std::move(later.potential_points));
  move_behind(net.files, std::move(later.net.files));
  move_behind(net.notes, std::move(later.net.notes));
  move_behind(net.buffers, std::move(later.net.buffers));
  net.buffers.push_back(std::move(later.net.names));
  move_behind(errors, std::move(later.errors));
  errors.resize(std::min(errors.size(), k_max_errors));
}

}  // namespace ringtrue
