// Rows become records in two steps. While rows arrive, only names are interned and words and numbers checked,
// because whether `X1:5` has two sides depends on rows that may come later. `finish` then decides the sides
// of every place, numbers the points, settles bare names and merges conductors listed twice.
#include "ringtrue/model/netlist_builder.hpp"

#include <algorithm>
#include <unordered_set>

#include "number.hpp"
#include "repeated_conductors.hpp"
#include "ringtrue/base/nearest_names.hpp"

namespace ringtrue {

namespace {

/// A point as a row names it, before sides are decided.
struct WrittenPoint {
  PlaceId place = PlaceId::none;
  Side side = Side::single;  ///< `single` = none written
};

struct PlaceFlags {
  bool side_written : 1 = false;
  bool strip_like : 1 = false;  ///< a strip-like part row names it
  bool separable : 1 = false;
  bool in_field : 1 = false;
};

struct PendingPart {
  WrittenPoint a, b;
};
struct PendingChannel {
  WrittenPoint point, field, return_point, common;
};

bool is_strip_kind(PartKind kind) { return kind <= PartKind::pe_terminal; }

/// Class letter X of IEC 81346-2 ("connecting"), for names that only a wire list knows.
bool is_connecting_letter(std::string_view part) {
  const std::size_t product = part.rfind('-');
  if (product != std::string_view::npos) part.remove_prefix(product + 1);
  return part.size() > 1 && part.front() == 'X' && part.find('.') == std::string_view::npos;
}

}  // namespace

struct NetlistBuilder::Impl {
  Netlist net;
  NameTable places;
  Errors errors;
  std::vector<PlaceFlags> flags;      // by place
  std::vector<RowSource> first_seen;  // by place, for messages about a side that cannot be
  std::vector<std::pair<WrittenPoint, WrittenPoint>> conductor_ends;
  std::vector<PendingPart> part_ends;
  std::vector<PendingChannel> channel_points;
  std::vector<WrittenPoint> potential_points;
  std::string scratch;
  std::size_t taken_internal = 0, taken_external = 0;

  // --- messages
  // -------------------------------------------------------------------------------------------------

  void error(ErrorCode code, std::string message, RowSource source, std::string_view element,
             std::string_view field, std::string_view found, std::string expected) {
    if (errors.size() >= k_max_errors) return;
    Error e{code, std::move(message), {}, std::string(found), std::move(expected), {}};
    e.place = place_of(source, element);
    e.place.field = field;
    errors.push_back(std::move(e));
  }

  [[nodiscard]] ringtrue::Place place_of(RowSource source, std::string_view element) const {
    ringtrue::Place place;
    if (source.file < net.files.size()) place.file = net.files[source.file];
    place.line = source.line;
    if (place.file.ends_with(".xml")) place.element = element;
    return place;
  }

  // --- fields
  // ---------------------------------------------------------------------------------------------------

  template <class Enum>
  Enum kind_of(std::string_view text, Enum if_empty, RowSource source, std::string_view element,
               std::string_view field) {
    if (text.empty()) return if_empty;
    if (const auto value = from_word<Enum>(text)) return *value;
    if (errors.size() < k_max_errors) {
      error(ErrorCode::unknown_kind, "unknown word", source, element, field, text, listed_words<Enum>());
      NearestNames nearest(text);
      for (const std::string_view known : all_words<Enum>()) nearest.offer(known);
      errors.back().nearest = nearest.take();
    }
    return if_empty;
  }

  double number_of(std::string_view text, double least, RowSource source, std::string_view element,
                   std::string_view field) {
    if (text.empty()) return k_not_given;
    const auto value = parse_number(text);
    if (value && *value >= least) return *value;
    error(ErrorCode::bad_number, "not a number that fits here", source, element, field, text,
          least == 0 ? "a number of at least 0" : "a number");
    return k_not_given;
  }

  /// Interns a point name. An empty name is an error where the field is required.
  WrittenPoint point_of(std::string_view text, RowSource source, std::string_view element,
                        std::string_view field) {
    if (text.empty()) {
      error(ErrorCode::missing_field, "the point is missing", source, element, field, "",
            "a point such as X1:5");
      return {};
    }
    return named_point(text, source, element, field);
  }
  WrittenPoint optional_point(std::string_view text, RowSource source, std::string_view field) {
    return text.empty() ? WrittenPoint{} : named_point(text, source, "channel", field);
  }

  WrittenPoint named_point(std::string_view text, RowSource source, std::string_view element,
                           std::string_view field) {
    PointName name = split_point_name(text, net.panel.designation, scratch);
    if (name.place.empty() || name.place.back() == ':' || name.place.front() == ':') {
      error(ErrorCode::bad_point, "not the name of a point", source, element, field, text,
            "a part and a pin, such as K1:A1 or X1:5");
      return {};
    }
    const WrittenPoint point{intern(kept(name.place), source), name.side};
    if (point.side != Side::single) flags[index(point.place)].side_written = true;
    return point;
  }

  /// A canonical name that was put together lies in `scratch` and has to be kept; others are views into a
  /// file.
  std::string_view kept(std::string_view name) {
    const bool in_scratch = name.data() >= scratch.data() && name.data() <= scratch.data() + scratch.size();
    return in_scratch ? std::string_view(net.names->emplace_back(name)) : name;
  }

  PlaceId intern(std::string_view name, RowSource source) {
    const std::uint32_t number = places.intern(name);
    if (number == flags.size()) {
      flags.emplace_back();
      first_seen.push_back(source);
    }
    return PlaceId{number};
  }

  std::string_view canonical_part(std::string_view text) {
    return kept(split_point_name(text, net.panel.designation, scratch).place);
  }

  // --- rows
  // -----------------------------------------------------------------------------------------------------

  void add(const ConductorRow& row, RowSource source) {
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
    const WrittenPoint a = named_point(from, source, "conductor", "from");
    const WrittenPoint b = to.empty() ? WrittenPoint{} : named_point(to, source, "conductor", "to");
    const std::size_t at = net.conductors.size();
    set_conductor_text(at, row, source);
    net.conductors.push_back(conductor);
    conductor_ends.emplace_back(a, b);
  }

  void set_conductor_text(std::size_t at, const ConductorRow& row, RowSource source) {
    using enum ConductorText;
    const std::pair<ConductorText, std::string_view> texts[] = {
        {wire, row.wire},     {id, row.id},
        {colour, row.colour}, {mm2, row.mm2},
        {awg, row.awg},       {length_m, row.length_m},
        {cable, row.cable},   {core, row.core},
        {sheet, row.sheet},   {potential, row.potential},
        {note, row.note}};
    for (const auto& [field, text] : texts) net.conductor_text.set(field, at, text);
    if (!row.mm2.empty()) (void)number_of(row.mm2, 0, source, "conductor", "mm2");
    if (!row.length_m.empty()) (void)number_of(row.length_m, 0, source, "conductor", "length_m");
    if (!row.awg.empty() && !row.awg.ends_with("/0")) (void)number_of(row.awg, 0, source, "conductor", "awg");
  }

  void add(const PartRow& row, RowSource source) {
    if (row.part.empty() || row.kind.empty()) {
      error(ErrorCode::missing_field, row.part.empty() ? "the part is missing" : "the kind is missing",
            source, "part", row.part.empty() ? "part" : "kind", "",
            row.part.empty() ? "a designation such as K1 or X1:5" : listed_words<PartKind>());
      return;
    }
    Part part;
    part.source = source;
    part.kind = kind_of(row.kind, PartKind::terminal, source, "part", "kind");
    part.place = kind_of(row.place, PartPlace::panel, source, "part", "place");
    part.role = kind_of(row.role, Role::none, source, "part", "role");
    part.ohms = number_of(row.ohms, 0, source, "part", "ohms");
    part.tolerance_pct = number_of(row.tolerance_pct, 0, source, "part", "tolerance_pct");
    part.volts = number_of(row.volts, 0, source, "part", "volts");
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

  bool both_pins(const PartRow& row, RowSource source) {
    if (!row.a.empty() && !row.b.empty()) return true;
    error(ErrorCode::missing_field, "part " + std::string(row.part) + " has a pin missing", source, "part",
          row.a.empty() ? "a" : "b", "", "the pins of both ends, such as 13 and 14");
    return false;
  }

  WrittenPoint pin_point(std::string_view part, std::string_view pin, RowSource source) {
    return {intern(net.names->emplace_back(std::string(part) + ":" + std::string(pin)), source),
            Side::single};
  }

  std::vector<int> positions_of(std::string_view text, RowSource source) {
    std::vector<int> positions;
    while (!text.empty()) {
      const std::size_t comma = text.find_first_of(",; ");
      const std::string_view word_text = trimmed(text.substr(0, comma));
      text.remove_prefix(comma == std::string_view::npos ? text.size() : comma + 1);
      if (word_text.empty()) continue;
      const auto value = parse_number(word_text);
      if (!value || *value != static_cast<int>(*value)) {
        error(ErrorCode::bad_number, "not a selector position", source, "part", "closed_in", word_text,
              "whole numbers such as 0,2");
        continue;
      }
      positions.push_back(static_cast<int>(*value));
    }
    return positions;
  }

  void add(const ChannelRow& row, RowSource source) {
    if (row.type.empty())
      error(ErrorCode::missing_field, "the channel type is missing", source, "channel", "type", "",
            listed_words<ChannelType>());
    PendingChannel points;
    points.point = point_of(row.point, source, "channel", "point");
    points.field = optional_point(row.field, source, "field");
    points.return_point = optional_point(row.return_point, source, "return");
    points.common = optional_point(row.common, source, "common");
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
  }

  std::optional<bool> normal_of(std::string_view text, RowSource source) {
    if (text == "0" || text == "1") return text == "1";
    if (!text.empty())
      error(ErrorCode::bad_number, "not a state", source, "channel", "normal", text, "0 or 1");
    return std::nullopt;
  }

  void add(const PotentialRow& row, RowSource source) {
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
    potential.volts = number_of(row.volts, 0, source, "potential", "volts");
    potential_points.push_back(point_of(row.point, source, "potential", "point"));
    net.potentials.push_back(potential);
  }

  // --- finish
  // ---------------------------------------------------------------------------------------------------

  void decide_sides() {
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

  void number_points() {
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

  /// The point of a written name; a bare strip name takes `if_bare`. `none` and an error where a bare name
  /// will not do.
  PointId settle(const WrittenPoint& written, Side if_bare, RowSource source, std::string_view element,
                 std::string_view field) {
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

  /// A bare terminal in a conductor: `.ext` towards the field, `.int` towards the panel.
  PointId settle_end(std::size_t at, const WrittenPoint& end, const WrittenPoint& other,
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

  void settle_points() {
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
      const PendingChannel& written = channel_points[i];
      channel.point = settle(written.point, Side::either, channel.source, "channel", "point");
      channel.field = settle(written.field, Side::external, channel.source, "channel", "field");
      channel.return_point =
          settle(written.return_point, Side::external, channel.source, "channel", "return");
      channel.common = settle(written.common, Side::either, channel.source, "channel", "common");
    }
    for (std::size_t i = 0; i < net.potentials.size(); ++i)
      net.potentials[i].point =
          settle(potential_points[i], Side::either, net.potentials[i].source, "potential", "point");
  }

  void note_what_was_taken() {
    const std::string file =
        net.conductors.empty() ? std::string() : net.files[net.conductors.front().source.file];
    if (taken_internal + taken_external != 0)
      net.notes.push_back({"bare terminal names in conductors: " + std::to_string(taken_internal) +
                               " taken as .int, " + std::to_string(taken_external) + " as .ext",
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

  void sort_parts() {
    net.parts_by_name.resize(net.parts.size());
    for (std::uint32_t i = 0; i < net.parts.size(); ++i) net.parts_by_name[i] = i;
    std::stable_sort(
        net.parts_by_name.begin(), net.parts_by_name.end(),
        [this](std::uint32_t x, std::uint32_t y) { return net.parts[x].part < net.parts[y].part; });
  }
};

NetlistBuilder::NetlistBuilder() : impl_(std::make_unique<Impl>()) {}
NetlistBuilder::~NetlistBuilder() = default;

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
  impl_->flags.reserve(rows);
  impl_->first_seen.reserve(rows);
  impl_->places = NameTable(rows);
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
