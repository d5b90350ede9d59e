// Rows become records in two steps. While rows arrive, only names are interned and words and numbers checked,
// because whether `X1:5` has two sides depends on rows that may come later. `finish` then decides the sides
// of every place, numbers the points, settles bare names and merges conductors listed twice.
#include "netlist_builder_impl.hpp"

#include "repeated_conductors.hpp"
#include "units.hpp"

namespace ringtrue {

namespace {

bool is_strip_kind(PartKind kind) { return kind <= PartKind::pe_terminal; }

}  // namespace

void NetlistBuilder::Impl::error(ErrorCode code, std::string message, RowSource source,
                                 std::string_view element, std::string_view field, std::string_view found,
                                 std::string expected) {
  if (errors.size() >= k_max_errors) return;
  Error e{code, std::move(message), {}, std::string(found), std::move(expected), {}};
  e.place = place_of(source, element);
  e.place.field = field;
  errors.push_back(std::move(e));
}

ringtrue::Place NetlistBuilder::Impl::place_of(RowSource source, std::string_view element) const {
  ringtrue::Place place;
  if (source.file < net.files.size()) place.file = net.files[source.file];
  place.line = source.line;
  if (place.file.ends_with(".xml")) place.element = element;
  return place;
}

double NetlistBuilder::Impl::number_of(std::string_view text, double least, RowSource source,
                                       std::string_view element, std::string_view field) {
  if (text.empty()) return k_not_given;
  const auto value = parse_number(text);
  if (value && *value >= least) return *value;
  error(ErrorCode::bad_number, "not a number that fits here", source, element, field, text,
        least == 0 ? "a number of at least 0" : "a number");
  return k_not_given;
}

void NetlistBuilder::Impl::require_point(std::string_view text, RowSource source, std::string_view element,
                                         std::string_view field) {
  if (text.empty())
    error(ErrorCode::missing_field, "the point is missing", source, element, field, "",
          "a point such as X1:5");
}

WrittenPoint NetlistBuilder::Impl::named_point(std::string_view text, RowSource source,
                                               std::string_view element, std::string_view field) {
  if (text.empty()) return {};
  const std::optional<PointName> name = point_name(text, source, element, field);
  if (!name) return {};
  const WrittenPoint point{intern(name->place, source), name->side};
  if (point.side != Side::single) flags[index(point.place)].side_written = true;
  return point;
}

std::optional<PointName> NetlistBuilder::Impl::point_name(std::string_view text, RowSource source,
                                                          std::string_view element, std::string_view field) {
  PointName name = split_point_name(text, net.panel.designation, scratch);
  if (name.place.empty() || name.place.back() == ':' || name.place.front() == ':') {
    error(ErrorCode::bad_point, "not the name of a point", source, element, field, text,
          "a part and a pin, such as K1:A1 or X1:5");
    return std::nullopt;
  }
  name.place = kept(name.place);
  return name;
}

std::string_view NetlistBuilder::Impl::kept(std::string_view name) {
  const bool in_scratch = name.data() >= scratch.data() && name.data() <= scratch.data() + scratch.size();
  return in_scratch ? std::string_view(net.names->emplace_back(name)) : name;
}

PlaceId NetlistBuilder::Impl::intern(std::string_view name, RowSource source) {
  intern_awaited();
  return place_numbered(places.intern(name), source);
}

PlaceId NetlistBuilder::Impl::place_numbered(std::uint32_t number, RowSource source) {
  if (number == flags.size()) {
    flags.emplace_back();
    first_seen.push_back(source);
  }
  return PlaceId{number};
}

WrittenPoint NetlistBuilder::Impl::awaited_point(std::string_view text, AwaitedNames::Point point,
                                                 RowSource source, std::string_view element,
                                                 std::string_view field) {
  if (text.empty()) return {};
  const std::optional<PointName> name = point_name(text, source, element, field);
  if (!name) return {};
  awaited.names.push_back(name->place);
  awaited.points.push_back(point);
  return {PlaceId::none, name->side};
}

void NetlistBuilder::Impl::intern_awaited() {
  awaited.numbers.resize(awaited.names.size());
  places.intern_all(awaited.names, awaited.numbers);
  for (std::size_t i = 0; i < awaited.points.size(); ++i) {
    const auto [of, row, which] = awaited.points[i];
    const bool is_end = of == AwaitedNames::Of::conductor;
    WrittenPoint& point = is_end ? conductor_ends[row][which] : channel_points[row][which];
    point.place =
        place_numbered(awaited.numbers[i], is_end ? net.conductors[row].source : net.channels[row].source);
    if (point.side != Side::single) flags[index(point.place)].side_written = true;
  }
  awaited.names.clear();
  awaited.points.clear();
}

std::string_view NetlistBuilder::Impl::canonical_part(std::string_view text) {
  return kept(split_point_name(text, net.panel.designation, scratch).place);
}

void NetlistBuilder::Impl::add(const ConductorRow& row, RowSource source) {
  Conductor conductor;
  conductor.source = source;
  conductor.kind = kind_of(row.kind, ConductorKind::wire, source, "conductor", "kind");
  conductor.role = kind_of(row.role, Role::none, source, "conductor", "role");
  std::string_view from = row.from == "-" ? std::string_view{} : row.from;
  std::string_view to = row.to == "-" ? std::string_view{} : row.to;
  if (conductor.kind == ConductorKind::core && from.empty()) std::swap(from, to);
  if (from.empty() || (to.empty() && conductor.kind != ConductorKind::core)) {
    const std::string name(row.wire.empty() ? row.id : row.wire);
    error(ErrorCode::conductor_without_end,
          "conductor " + name + (name.empty() ? "" : " ") + "has an end missing", source, "conductor",
          row.from.empty() || row.from == "-" ? "from" : "to", "",
          "a point at both ends; only a spare core (kind core) may lie loose");
    return;
  }
  const auto at = static_cast<std::uint32_t>(net.conductors.size());
  constexpr auto k_of = AwaitedNames::Of::conductor;
  const WrittenPoint a = awaited_point(from, {k_of, at, 0}, source, "conductor", "from");
  const WrittenPoint b = awaited_point(to, {k_of, at, 1}, source, "conductor", "to");
  set_conductor_text(at, row, source);
  net.conductors.push_back(conductor);
  conductor_ends.push_back({a, b});
  intern_some_awaited();
}

void NetlistBuilder::Impl::set_conductor_text(std::size_t at, const ConductorRow& row, RowSource source) {
  using enum ConductorText;
  // One after the other, not from a table: this is asked for every conductor and nearly always of empty cells.
  const auto set = [&](ConductorText field, std::string_view text) {
    if (!text.empty()) net.conductor_text.set(field, at, text);
  };
  set(wire, row.wire), set(id, row.id), set(colour, row.colour), set(cable, row.cable), set(core, row.core);
  set(sheet, row.sheet), set(potential, row.potential), set(note, row.note);
  if (row.mm2.empty() && row.awg.empty() && row.length_m.empty()) return;

  const bool has_gauge_as_size = row.awg.empty() && without_unit(row.mm2, units::gauge) != row.mm2;
  const auto size = has_gauge_as_size ? std::string_view{} : without_unit(row.mm2, units::square_millimetres);
  const auto gauge = without_unit(has_gauge_as_size ? row.mm2 : row.awg, units::gauge);
  const auto length = without_unit(row.length_m, units::metres);
  set(mm2, size), set(awg, gauge), set(length_m, length);
  (void)number_of(size, 0, source, "conductor", "mm2");
  (void)number_of(length, 0, source, "conductor", "length_m");
  if (!gauge.empty() && !parse_awg(gauge))
    error(ErrorCode::bad_number, "not a wire gauge", source, "conductor", "awg", gauge,
          "a gauge from 40 to 0, or 1/0 to 4/0");
}

void NetlistBuilder::Impl::add(const PartRow& row, RowSource source) {
  if (row.part.empty() || row.kind.empty()) {
    error(ErrorCode::missing_field, row.part.empty() ? "the part is missing" : "the kind is missing", source,
          "part", row.part.empty() ? "part" : "kind", "",
          row.part.empty() ? "a designation such as K1 or X1:5" : listed_words<PartKind>());
    return;
  }
  Part part;
  part.source = source;
  part.kind = kind_of(row.kind, PartKind::terminal, source, "part", "kind");
  part.place = kind_of(row.place, PartPlace::panel, source, "part", "place");
  part.role = kind_of(row.role, Role::none, source, "part", "role");
  part.ohms = number_of(without_unit(row.ohms, units::ohms), 0, source, "part", "ohms");
  part.tolerance_pct =
      number_of(without_unit(row.tolerance_pct, units::percent), 0, source, "part", "tolerance_pct");
  part.volts = number_of(without_unit(row.volts, units::volts), 0, source, "part", "volts");
  part.amps = number_of(without_unit(row.amps, units::amperes), 0, source, "part", "amps");
  part.part = canonical_part(row.part);
  part.actuated_by = row.actuated_by.empty() ? part.part : canonical_part(row.actuated_by);
  part.closed_in = positions_of(row.closed_in, source);
  part.sheet = row.sheet;
  part.note = row.note;
  part.strip_like =
      is_strip_kind(part.kind) || (part.kind == PartKind::fuse && row.a == "int" && row.b == "ext");
  PendingPart ends;
  if (part.strip_like) {
    const PlaceId place = intern(part.part, source);
    PlaceFlags& flag = flags[index(place)];
    flag.strip_like = true;
    flag.separable = part.kind != PartKind::terminal && part.kind != PartKind::pe_terminal;
    ends = {{place, Side::internal}, {place, Side::external}};
    if (part.kind == PartKind::pe_terminal) intern("PE", source);
  } else {
    if (!both_pins(row, source)) return;
    ends.a = pin_point(part.part, row.a, source);
    ends.b = pin_point(part.part, row.b, source);
  }
  net.parts.push_back(std::move(part));
  part_ends.push_back(ends);
}

bool NetlistBuilder::Impl::both_pins(const PartRow& row, RowSource source) {
  if (!row.a.empty() && !row.b.empty()) return true;
  error(ErrorCode::missing_field, "part " + std::string(row.part) + " has a pin missing", source, "part",
        row.a.empty() ? "a" : "b", "", "the pins of both ends, such as 13 and 14");
  return false;
}

WrittenPoint NetlistBuilder::Impl::pin_point(std::string_view part, std::string_view pin, RowSource source) {
  return {intern(net.names->emplace_back(std::string(part) + ":" + std::string(pin)), source), Side::single};
}

std::vector<int> NetlistBuilder::Impl::positions_of(std::string_view text, RowSource source) {
  std::vector<int> positions;
  while (!text.empty()) {
    const std::size_t comma = text.find_first_of(",; ");
    const std::string_view word_text = trimmed(text.substr(0, comma));
    text.remove_prefix(comma == std::string_view::npos ? text.size() : comma + 1);
    if (word_text.empty()) continue;
    const auto value = parse_number(word_text);
    const auto whole = value ? as_int(*value) : std::nullopt;
    if (!whole) {
      error(ErrorCode::bad_number, "not a selector position", source, "part", "closed_in", word_text,
            "whole numbers such as 0,2");
      continue;
    }
    positions.push_back(*whole);
  }
  return positions;
}

void NetlistBuilder::Impl::add(const ChannelRow& row, RowSource source) {
  if (row.type.empty())
    error(ErrorCode::missing_field, "the channel type is missing", source, "channel", "type", "",
          listed_words<ChannelType>());
  require_point(row.point, source, "channel", "point");
  const auto at = static_cast<std::uint32_t>(net.channels.size());
  const auto awaited_as = [&](std::string_view text, std::uint8_t which, std::string_view field) {
    return awaited_point(text, {AwaitedNames::Of::channel, at, which}, source, "channel", field);
  };
  const PendingChannel points{awaited_as(row.point, 0, "point"), awaited_as(row.field, 1, "field"),
                              awaited_as(row.return_point, 2, "return"), awaited_as(row.common, 3, "common")};
  Channel channel;
  channel.source = source;
  channel.type = kind_of(row.type, ChannelType::DI, source, "channel", "type");
  channel.feed = kind_of(row.feed, Feed::unknown, source, "channel", "feed");
  channel.sense = kind_of(row.sense, Sense::unknown, source, "channel", "sense");
  channel.sensor = kind_of(row.sensor, Sensor::unknown, source, "channel", "sensor");
  channel.role = kind_of(row.role, Role::none, source, "channel", "role");
  channel.normal = normal_of(row.normal, source);
  channel.address = row.address, channel.tag = row.tag, channel.text = row.text;
  channel.device = row.device, channel.signal = row.signal, channel.unit = row.unit;
  channel.module = row.module, channel.led = row.led;
  constexpr double k_any = -1e300;
  channel.low = number_of(row.low, k_any, source, "channel", "low");
  channel.high = number_of(row.high, k_any, source, "channel", "high");
  channel.raw_low = number_of(row.raw_low, k_any, source, "channel", "raw_low");
  channel.raw_high = number_of(row.raw_high, k_any, source, "channel", "raw_high");
  net.channels.push_back(channel);
  channel_points.push_back(points);
  intern_some_awaited();
}

std::optional<bool> NetlistBuilder::Impl::normal_of(std::string_view text, RowSource source) {
  if (text == "0" || text == "1") return text == "1";
  if (!text.empty()) error(ErrorCode::bad_number, "not a state", source, "channel", "normal", text, "0 or 1");
  return std::nullopt;
}

void NetlistBuilder::Impl::add(const PotentialRow& row, RowSource source) {
  if (row.name.empty())
    error(ErrorCode::missing_field, "the potential has no name", source, "potential", "name", "",
          "a name such as +24V");
  if (row.kind.empty())
    error(ErrorCode::missing_field, "the potential has no kind", source, "potential", "kind", "",
          listed_words<PotentialKind>());
  Potential potential;
  potential.source = source;
  potential.name = row.name;
  potential.kind = kind_of(row.kind, PotentialKind::dc_plus, source, "potential", "kind");
  potential.volts = number_of(without_unit(row.volts, units::volts), 0, source, "potential", "volts");
  require_point(row.point, source, "potential", "point");
  potential_points.push_back(named_point(row.point, source, "potential", "point"));
  net.potentials.push_back(potential);
}

NetlistBuilder::NetlistBuilder() : impl_(std::make_unique<Impl>()) {}
NetlistBuilder::NetlistBuilder(NetlistBuilder&&) noexcept = default;
NetlistBuilder::~NetlistBuilder() = default;

NetlistBuilder NetlistBuilder::beside() const {
  NetlistBuilder made;
  made.impl_->net.panel.designation = impl_->net.panel.designation;
  return made;
}

void NetlistBuilder::append(NetlistBuilder&& later) { impl_->append(std::move(*later.impl_)); }

std::uint16_t NetlistBuilder::add_file(std::string path) {
  impl_->net.files.push_back(std::move(path));
  return static_cast<std::uint16_t>(impl_->net.files.size() - 1);
}

void NetlistBuilder::keep(std::shared_ptr<const void> buffer) {
  impl_->net.buffers.push_back(std::move(buffer));
}

void NetlistBuilder::reserve_conductors(std::size_t rows) {
  impl_->net.conductors.reserve(rows);
  impl_->conductor_ends.reserve(rows);
  impl_->net.conductor_text.expect(rows);
  const std::size_t places = rows + rows / 3;  // a plant of a million conductors has 1.4 million
  impl_->flags.reserve(places);
  impl_->first_seen.reserve(places);
  impl_->places.reserve(places);
}

void NetlistBuilder::set_panel(const PanelRow& row, RowSource source) {
  PanelInfo& panel = impl_->net.panel;
  const auto take = [](std::string& into, std::string_view text) {
    if (!text.empty()) into = text;
  };
  take(panel.name, row.panel);
  take(panel.revision, row.revision);
  take(panel.drawing, row.drawing);
  take(panel.designation.function, row.function.starts_with('=') ? row.function.substr(1) : row.function);
  take(panel.designation.location, row.location.starts_with('+') ? row.location.substr(1) : row.location);
  if (!row.safety.empty())
    panel.safety = impl_->kind_of(row.safety, Safety::not_stated, source, "netlist", "safety");
}

void NetlistBuilder::add(const ConductorRow& row, RowSource source) { impl_->add(row, source); }
void NetlistBuilder::add(const PartRow& row, RowSource source) { impl_->add(row, source); }
void NetlistBuilder::add(const ChannelRow& row, RowSource source) { impl_->add(row, source); }
void NetlistBuilder::add(const PotentialRow& row, RowSource source) { impl_->add(row, source); }

void NetlistBuilder::add_error(Error error) {
  if (!has_enough_errors()) impl_->errors.push_back(std::move(error));
}
void NetlistBuilder::add_note(Note note) { impl_->net.notes.push_back(std::move(note)); }
bool NetlistBuilder::has_enough_errors() const { return impl_->errors.size() >= k_max_errors; }

Result<Netlist> NetlistBuilder::finish() {
  const std::unique_ptr<Impl> done = std::exchange(impl_, std::make_unique<Impl>());
  done->intern_awaited();
  if (done->errors.empty()) {
    done->decide_sides();
    done->number_points();
    done->settle_points();
  }
  if (!done->errors.empty()) return tl::unexpected(std::move(done->errors));
  merge_repeated_conductors(done->net);
  done->sort_parts();
  done->note_what_was_taken();
  return std::move(done->net);
}

}  // namespace ringtrue
