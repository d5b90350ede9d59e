#include "ringtrue/model/condition.hpp"

#include <algorithm>
#include <optional>

#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/model/number.hpp"

namespace ringtrue {

namespace {

Error wrong(ErrorCode code, std::string message, std::string_view found, std::string expected) {
  return {code, std::move(message), {}, std::string(found), std::move(expected), {}};
}

std::optional<State> state_word(std::string_view text, int& position) {
  constexpr std::pair<std::string_view, State> k_states[] = {{"operated", State::operated},
                                                             {"out", State::out},
                                                             {"off", State::off},
                                                             {"on", State::on},
                                                             {"open", State::open},
                                                             {"unplugged", State::unplugged},
                                                             {"lifted", State::lifted},
                                                             {"jumpered", State::jumpered},
                                                             {"connected", State::field_connected}};
  for (const auto& [word, state] : k_states)
    if (text == word) return state;
  constexpr std::string_view k_position = "position ";
  if (!text.starts_with(k_position)) return std::nullopt;
  const auto number = parse_number(trimmed(text.substr(k_position.size())));
  const auto whole = number ? as_int(*number) : std::nullopt;
  if (!whole) return std::nullopt;
  position = *whole;
  return State::position;
}

bool is_contact(PartKind kind) { return kind == PartKind::contact_no || kind == PartKind::contact_nc; }

/// Rows that a state of `object` moves. Empty if the object has none of the kind.
std::vector<std::uint32_t> moved_rows(State state, std::string_view object, const Netlist& net) {
  std::vector<std::uint32_t> rows;
  if (state == State::unplugged) return net.parts_under(object);
  if (state == State::operated || state == State::position) {
    // The contacts that follow the object may belong to other parts (an auxiliary block, say).
    for (std::uint32_t i = 0; i < net.parts.size(); ++i) {
      const Part& part = net.parts[i];
      if (!is_contact(part.kind) || part.actuated_by != object) continue;
      if (part.closed_in.empty() == (state == State::operated)) rows.push_back(i);
    }
    return rows;
  }
  const auto fits = [state](PartKind kind) {
    switch (state) {
      case State::out:
        return kind == PartKind::fuse;
      case State::off:
      case State::on:
        return kind == PartKind::breaker || kind == PartKind::isolator;
      case State::open:
        return kind == PartKind::disconnect;
      default:
        return false;
    }
  };
  for (const std::uint32_t row : net.parts_named(object))
    if (fits(net.parts[row].kind)) rows.push_back(row);
  return rows;
}

/// A module or connector may be known by its points alone, from conductors and the channel list.
bool has_points(std::string_view object, const Netlist& net) {
  for (std::uint32_t i = 0; i < net.points.place_count(); ++i) {
    const std::string_view part = part_of_place(net.points.place_name(PlaceId{i}));
    if (part == object || (part.starts_with(object) && part[object.size()] == '.')) return true;
  }
  return false;
}

bool is_known_object(std::string_view object, const Netlist& net) {
  if (!net.parts_under(object).empty()) return true;
  return std::any_of(net.parts.begin(), net.parts.end(),
                     [&](const Part& p) { return p.actuated_by == object; });
}

Errors unknown_object(std::string_view object, const Netlist& net) {
  Error error =
      wrong(ErrorCode::unknown_object, "the drawing has no such part", object, "a part of the drawing");
  NearestNames nearest(object);
  std::string_view last;
  for (const std::uint32_t row : net.parts_by_name) {
    if (net.parts[row].part != last) nearest.offer(net.parts[row].part);
    last = net.parts[row].part;
  }
  error.nearest = nearest.take();
  return {std::move(error)};
}

std::string states_of(std::string_view object, const Netlist& net) {
  std::string states;
  const auto offer = [&](State state, std::string_view text) {
    if (moved_rows(state, object, net).empty()) return;
    states += (states.empty() ? "" : ", ") + std::string(text);
  };
  offer(State::operated, "operated");
  offer(State::position, "position N");
  offer(State::out, "out");
  offer(State::off, "off, on");
  offer(State::open, "open");
  offer(State::unplugged, "unplugged");
  return states;
}

Result<Setting> part_setting(Setting setting, std::string_view object, const Netlist& net) {
  std::string storage;
  const std::string_view name = split_point_name(object, net.panel.designation, storage).place;
  setting.parts = moved_rows(setting.state, name, net);
  if (!setting.parts.empty() || (setting.state == State::unplugged && has_points(name, net))) return setting;
  if (!is_known_object(name, net)) return tl::unexpected(unknown_object(object, net));
  return fail(wrong(ErrorCode::state_does_not_fit, "this part has no such state", setting.object,
                    std::string(object) + " " + states_of(name, net)));
}

/// Conductors with an end on the point or, of a bare terminal name, on either side of it; by number.
std::vector<std::uint32_t> conductors_on(const FoundPoint& point, const Netlist& net,
                                         const ConductorsAt& conductors_at) {
  const PointId other = point.side == Side::either ? net.points.other_side(point.point) : point.point;
  std::vector<std::uint32_t> found;
  if (!conductors_at) {
    const auto sits = [&](PointId end) { return end == point.point || end == other; };
    for (std::uint32_t i = 0; i < net.conductors.size(); ++i)
      if (sits(net.conductors[i].from) || sits(net.conductors[i].to)) found.push_back(i);
    return found;
  }
  found = conductors_at(point.point);
  if (other == point.point) return found;
  const std::vector<std::uint32_t> on_other = conductors_at(other);
  found.insert(found.end(), on_other.begin(), on_other.end());
  std::sort(found.begin(), found.end());
  return found;
}

/// `WIRE@POINT`: the end of that conductor on that point.
Result<Setting> lifted_setting(Setting setting, std::string_view object, const Netlist& net,
                               const ConductorsAt& conductors_at) {
  const std::size_t at = object.find('@');
  const std::string_view wire = object.substr(0, at);
  const auto point = find_point(trimmed(object.substr(at + 1)), net);
  if (!point) return tl::unexpected(point.error());
  const auto sits = [&](PointId end) {
    return end == point->point || (point->side == Side::either && end == net.points.other_side(point->point));
  };
  const auto is_called = [&](std::uint32_t i) {
    return net.conductor_text.get(ConductorText::wire, i) == wire || net.conductor_name(i) == wire;
  };
  bool wire_known = false;
  for (const std::uint32_t i : conductors_on(*point, net, conductors_at)) {
    if (!is_called(i)) continue;
    setting.conductor = i;
    setting.lifted_from = sits(net.conductors[i].from);
    return setting;
  }
  for (std::uint32_t i = 0; i < net.conductors.size() && !wire_known; ++i) wire_known = is_called(i);
  return fail(wrong(ErrorCode::unknown_object,
                    wire_known ? "that conductor has no end there" : "the drawing has no such conductor",
                    object, "WIRE@POINT, a conductor and the point it is lifted from"));
}

/// `POINT~POINT`: the tester's temporary lead.
Result<Setting> jumpered_setting(Setting setting, std::string_view object, const Netlist& net) {
  const std::size_t at = object.find('~');
  const auto from = find_point(trimmed(object.substr(0, at)), net);
  if (!from) return tl::unexpected(from.error());
  const auto to = find_point(trimmed(object.substr(at + 1)), net);
  if (!to) return tl::unexpected(to.error());
  // The tester's side of a terminal is the field side.
  const auto tester = [&](const FoundPoint& p) {
    return p.side == Side::either ? net.points.other_side(p.point) : p.point;
  };
  setting.from = tester(*from);
  setting.to = tester(*to);
  return setting;
}

Result<Setting> parse_setting(std::string_view text, const Netlist& net, const ConductorsAt& conductors_at) {
  constexpr std::string_view k_form = "OBJECT=STATE, such as K1=operated or F3=out";
  const std::size_t equals = text.rfind('=');
  if (equals == std::string_view::npos || equals == 0 || equals + 1 == text.size())
    return fail(wrong(ErrorCode::bad_condition, "not a condition", text, std::string(k_form)));
  const std::string_view object = trimmed(text.substr(0, equals)), word = trimmed(text.substr(equals + 1));
  Setting setting;
  setting.object = text;
  if (object == "power" && (word == "on" || word == "off")) {
    setting.state = word == "on" ? State::power_on : State::off;
    return setting;
  }
  const auto state = state_word(word, setting.position);
  const bool is_field = object == "field";
  if (!state || (*state == State::field_connected) != is_field)
    return fail(wrong(
        ErrorCode::bad_condition, "no such state", word,
        is_field ? "connected" : "operated, position N, out, off, on, open, unplugged, lifted or jumpered"));
  setting.state = *state;
  if (is_field) return setting;
  const bool has_at = object.find('@') != std::string_view::npos,
             has_tilde = object.find('~') != std::string_view::npos;
  if (setting.state == State::lifted && has_at)
    return lifted_setting(std::move(setting), object, net, conductors_at);
  if (setting.state == State::jumpered && has_tilde) return jumpered_setting(std::move(setting), object, net);
  if (setting.state == State::lifted || setting.state == State::jumpered)
    return fail(wrong(ErrorCode::bad_condition, "not a condition", text,
                      setting.state == State::lifted ? "WIRE@POINT=lifted" : "POINT~POINT=jumpered"));
  return part_setting(std::move(setting), object, net);
}

/// The object of a setting in canonical form: two settings of one object contradict each other.
std::string object_of(const Setting& setting, const Netlist& net) {
  std::string storage;
  return std::string(
      split_point_name(trimmed(std::string_view(setting.object).substr(0, setting.object.rfind('='))),
                       net.panel.designation, storage)
          .place);
}

}  // namespace

bool Condition::has(State state) const {
  return std::any_of(settings.begin(), settings.end(),
                     [state](const Setting& s) { return s.state == state; });
}

Result<Condition> parse_condition(std::string_view text, const Netlist& net,
                                  const ConductorsAt& conductors_at) {
  Condition condition;
  std::vector<std::pair<std::string, State>> objects;
  while (!text.empty()) {
    const std::size_t end = text.find(';');
    const std::string_view one = trimmed(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (one.empty()) continue;
    auto setting = parse_setting(one, net, conductors_at);
    if (!setting) return tl::unexpected(setting.error());
    const std::string object = object_of(*setting, net);
    for (std::size_t i = 0; i < objects.size(); ++i) {
      if (objects[i].first != object) continue;
      if (condition.settings[i].state == setting->state &&
          condition.settings[i].position == setting->position)
        continue;
      return fail(wrong(ErrorCode::two_states, "one object in two states",
                        condition.settings[i].object + "; " + setting->object, "one state for " + object));
    }
    objects.emplace_back(object, setting->state);
    condition.settings.push_back(std::move(*setting));
  }
  std::sort(condition.settings.begin(), condition.settings.end(),
            [](const Setting& x, const Setting& y) { return x.object < y.object; });
  return condition;
}

Result<FoundPoint> find_point(std::string_view text, const Netlist& net) {
  std::string storage;
  const PointName name = split_point_name(text, net.panel.designation, storage);
  const PointTable& points = net.points;
  const auto place = points.find_place(name.place);
  if (!place) {
    Error error =
        wrong(ErrorCode::bad_point, "the drawing has no such point", text, "a point of the drawing");
    NearestNames nearest(name.place);
    for (std::uint32_t i = 0; i < points.place_count(); ++i) nearest.offer(points.place_name(PlaceId{i}));
    error.nearest = nearest.take();
    return fail(std::move(error));
  }
  if (!points.has_sides(*place)) {
    if (name.side == Side::single) return FoundPoint{points.point(*place, Side::single), Side::single};
    return fail(
        wrong(ErrorCode::side_on_single_point, "this point has no sides", text, std::string(name.place)));
  }
  if (name.side != Side::single) return FoundPoint{points.point(*place, name.side), name.side};
  if (points.is_separable(*place))
    return fail(wrong(ErrorCode::ambiguous_side,
                      std::string(name.place) + " can be parted, so its side must be named", text,
                      std::string(name.place) + ".int or " + std::string(name.place) + ".ext"));
  return FoundPoint{points.point(*place, Side::internal), Side::either};
}

}  // namespace ringtrue
