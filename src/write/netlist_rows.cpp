#include "ringtrue/write/netlist_rows.hpp"

#include <cmath>

#include "write/decimal.hpp"

namespace ringtrue::write {

namespace {

bool begins_blank(std::string_view text) {
  return text.starts_with(' ') || text.starts_with('\t') || text.starts_with("\xC2\xA0");
}

/// Readers take one prefix off, and blanks at the front.
std::string with_prefix(std::string_view aspect, char prefix) {
  const bool needs_prefix = aspect.starts_with(prefix) || begins_blank(aspect);
  return (needs_prefix ? std::string(1, prefix) : std::string()).append(aspect);
}

}  // namespace

std::string_view NetlistRows::keep(std::string text) {
  if (used_ == kept_.size()) kept_.emplace_back();
  return kept_[used_++] = std::move(text);
}

bool NetlistRows::is_read_as_is(std::string_view place) {
  return !begins_blank(place) && split_point_name(place, net_.panel.designation, scratch_).place == place;
}

/// A leading `-` ends all prefixes, so that whatever follows it is read as it stands.
std::string_view NetlistRows::point(PointId point) {
  if (point == PointId::none) return {};
  const bool is_plain = is_read_as_is(net_.points.place_name(net_.points.place(point)));
  return keep((is_plain ? "" : "-") + net_.points.name(point));
}

/// Readers take a side off the name of a part too, so that a name which ends like one gets another.
std::string_view NetlistRows::part(std::string_view part) {
  if (is_read_as_is(part)) return part;
  std::string text = "-" + std::string(part);
  if (split_point_name(text, {}, scratch_).place != part) text += ".int";
  return keep(std::move(text));
}

std::string_view NetlistRows::pin(std::string_view part, PointId point) const {
  return net_.points.place_name(net_.points.place(point)).substr(part.size() + 1);
}

std::string_view NetlistRows::number(double value) {
  return std::isnan(value) ? std::string_view{} : keep(decimal(value));
}

std::string_view NetlistRows::positions(const std::vector<int>& positions) {
  std::string text;
  for (const int position : positions) text += (text.empty() ? "" : ",") + std::to_string(position);
  return keep(std::move(text));
}

Place NetlistRows::place_of(RowSource source) const {
  Place place;
  if (source.file < net_.files.size()) place.file = net_.files[source.file];
  place.line = source.line;
  return place;
}

template <>
std::size_t NetlistRows::count<PanelRow>() const {
  return 1;
}
template <>
std::size_t NetlistRows::count<ConductorRow>() const {
  return net_.conductors.size();
}
template <>
std::size_t NetlistRows::count<PartRow>() const {
  return net_.parts.size();
}
template <>
std::size_t NetlistRows::count<ChannelRow>() const {
  return net_.channels.size();
}
template <>
std::size_t NetlistRows::count<PotentialRow>() const {
  return net_.potentials.size();
}

template <>
Place NetlistRows::source<PanelRow>(std::size_t) const {
  return {};
}
template <>
Place NetlistRows::source<ConductorRow>(std::size_t at) const {
  return place_of(net_.conductors[at].source);
}
template <>
Place NetlistRows::source<PartRow>(std::size_t at) const {
  return place_of(net_.parts[at].source);
}
template <>
Place NetlistRows::source<ChannelRow>(std::size_t at) const {
  return place_of(net_.channels[at].source);
}
template <>
Place NetlistRows::source<PotentialRow>(std::size_t at) const {
  return place_of(net_.potentials[at].source);
}

template <>
PanelRow NetlistRows::row<PanelRow>(std::size_t) {
  begin_row();
  const PanelInfo& panel = net_.panel;
  return {.panel = panel.name,
          .revision = panel.revision,
          .drawing = panel.drawing,
          .function = keep(with_prefix(panel.designation.function, '=')),
          .location = keep(with_prefix(panel.designation.location, '+')),
          .safety = word(panel.safety)};
}

template <>
ConductorRow NetlistRows::row<ConductorRow>(std::size_t at) {
  using enum ConductorText;
  begin_row();
  const Conductor& conductor = net_.conductors[at];
  const auto text = [&](ConductorText field) { return net_.conductor_text.get(field, at); };
  return {.wire = text(wire),
          .from = point(conductor.from),
          .to = point(conductor.to),
          .kind = word(conductor.kind),
          .id = text(id),
          .colour = text(colour),
          .mm2 = text(mm2),
          .awg = text(awg),
          .length_m = text(length_m),
          .cable = text(cable),
          .core = text(core),
          .sheet = text(sheet),
          .potential = text(potential),
          .role = word(conductor.role),
          .note = text(note)};
}

template <>
PartRow NetlistRows::row<PartRow>(std::size_t at) {
  begin_row();
  const Part& record = net_.parts[at];
  const bool names_another = record.actuated_by != record.part;
  return {.part = part(record.part),
          .kind = word(record.kind),
          .a = record.strip_like ? "int" : pin(record.part, record.a),
          .b = record.strip_like ? "ext" : pin(record.part, record.b),
          .ohms = number(record.ohms),
          .tolerance_pct = number(record.tolerance_pct),
          .volts = number(record.volts),
          .amps = number(record.amps),
          .actuated_by = names_another ? part(record.actuated_by) : std::string_view{},
          .closed_in = positions(record.closed_in),
          .place = word(record.place),
          .role = word(record.role),
          .sheet = record.sheet,
          .note = record.note};
}

template <>
ChannelRow NetlistRows::row<ChannelRow>(std::size_t at) {
  begin_row();
  const Channel& channel = net_.channels[at];
  return {.point = point(channel.point),
          .type = word(channel.type),
          .address = channel.address,
          .tag = channel.tag,
          .text = channel.text,
          .field = point(channel.field),
          .return_point = point(channel.return_point),
          .common = point(channel.common),
          .device = channel.device,
          .feed = word(channel.feed),
          .normal = !channel.normal   ? ""
                    : *channel.normal ? "1"
                                      : "0",
          .sense = word(channel.sense),
          .sensor = word(channel.sensor),
          .signal = channel.signal,
          .low = number(channel.low),
          .high = number(channel.high),
          .unit = channel.unit,
          .raw_low = number(channel.raw_low),
          .raw_high = number(channel.raw_high),
          .module = channel.module,
          .led = channel.led,
          .role = word(channel.role)};
}

template <>
PotentialRow NetlistRows::row<PotentialRow>(std::size_t at) {
  begin_row();
  const Potential& potential = net_.potentials[at];
  return {.name = potential.name,
          .kind = word(potential.kind),
          .volts = number(potential.volts),
          .point = point(potential.point)};
}

}  // namespace ringtrue::write
