#pragma once
#include <algorithm>
#include <map>
#include <numeric>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::testing {

/// One stated state: a part name and what is done to it.
struct OracleAct {
  std::string part;
  enum class Kind { none, operated, out, unplugged } kind = Kind::none;
  [[nodiscard]] std::string text() const {
    switch (kind) {
      case Kind::none:
        return "";
      case Kind::operated:
        return part + "=operated";
      case Kind::out:
        return part + "=out";
      case Kind::unplugged:
        return part + "=unplugged";
    }
    return "";
  }
};

/// A panel as built, simulated naively from model types alone: a list of closed connections, merged from
/// scratch for every question. Nothing but copper counts, so it fits netlists whose loads are all well above
/// the beep threshold.
class OraclePanel {
 public:
  using Act = OracleAct;

  explicit OraclePanel(const Netlist& net) : net_(net) {
    std::set<std::string> field;
    for (const Part& part : net.parts)
      if (part.place == PartPlace::field) field.insert(std::string(part.part));
    const auto in_field = [&](PointId p) {
      const std::string place(net.points.place_name(net.points.place(p)));
      return field.count(place) != 0 || field.count(place.substr(0, place.rfind(':'))) != 0;
    };
    for (const Conductor& c : net.conductors) {
      const PointId to = c.is_spare() ? c.from : c.to;
      items_.push_back(
          {c.from, to, nullptr, !c.is_spare() && !in_field(c.from) && !in_field(to), false, false});
    }
    for (const Part& part : net.parts)
      items_.push_back({part.a, part.b, &part, part.place != PartPlace::field, false, false});
    for (const PlaceId place : net.implied_terminals)
      items_.push_back({net.points.point(place, Side::internal), net.points.point(place, Side::external),
                        nullptr, true, false, false});
    for (const Part& part : net.parts)
      if (part.kind == PartKind::pe_terminal)
        items_.push_back({part.a, net.points.point(net.points.find_place("PE").value(), Side::single),
                          nullptr, true, false, false});
  }

  void inject(const Fault& fault) {
    const auto drawn = [&](ElementId e, End end) {
      return end == End::a ? OraclePanel(net_).items_[index(e)].a : OraclePanel(net_).items_[index(e)].b;
    };
    const auto land = [&](ElementId e, End end, PointId p) {
      (end == End::a ? items_[index(e)].a : items_[index(e)].b) = p;
    };
    switch (fault.kind) {
      case FaultKind::open:
      case FaultKind::missing_bridge:
        items_[index(fault.element)].broken = true;
        break;
      case FaultKind::miswire:
        land(fault.element, fault.end, fault.p);
        break;
      case FaultKind::swap: {
        const PointId one = drawn(fault.element, fault.end), two = drawn(fault.element2, fault.end2);
        land(fault.element, fault.end, two);
        land(fault.element2, fault.end2, one);
        break;
      }
      case FaultKind::short_circuit:
      case FaultKind::extra_bridge:
        joins_.emplace_back(fault.p, fault.q);
        break;
      case FaultKind::wrong_value:
      case FaultKind::reversed:
      case FaultKind::bad_reading:
        break;  // the nets stay what they are
      case FaultKind::shift:
        throw std::logic_error("OraclePanel knows no shifts");
      case FaultKind::wrong_contact:
        for (const ElementId e : {fault.element, fault.element2})
          if (e != ElementId::none) items_[index(e)].exchanged = true;
    }
  }

  /// Net number of every point, numbered by first point.
  [[nodiscard]] std::vector<std::uint32_t> nets(const Act& act = {}) const {
    std::vector<std::uint32_t> net(net_.points.size());
    std::iota(net.begin(), net.end(), 0u);
    const auto merge = [&](PointId a, PointId b) {
      const std::uint32_t x = net[index(a)], y = net[index(b)];
      if (x != y)
        for (std::uint32_t& n : net)
          if (n == std::max(x, y)) n = std::min(x, y);
    };
    for (const Item& item : items_)
      if (closed(item, act)) merge(item.a, item.b);
    for (const auto& [a, b] : joins_) merge(a, b);
    return net;
  }

  /// Rest and everything that can be done to a single part.
  [[nodiscard]] std::vector<Act> acts() const {
    std::vector<Act> all(1);
    std::set<std::pair<std::string, int>> seen;
    const auto add = [&](std::string_view part, Act::Kind kind) {
      if (seen.insert({std::string(part), static_cast<int>(kind)}).second)
        all.push_back({std::string(part), kind});
    };
    for (const Part& part : net_.parts) {
      if (part.place == PartPlace::field) continue;
      if (is_contact(part) && part.closed_in.empty()) add(part.actuated_by, Act::Kind::operated);
      if (part.kind == PartKind::fuse) add(part.part, Act::Kind::out);
      if (part.kind == PartKind::coil || part.kind == PartKind::electronics)
        add(part.part, Act::Kind::unplugged);
    }
    return all;
  }

 private:
  struct Item {
    PointId a, b;
    const Part* part;  ///< null for conductors, implied bodies and rail joints
    bool present, broken, exchanged;
  };

  static bool is_contact(const Part& part) {
    return part.kind == PartKind::contact_no || part.kind == PartKind::contact_nc;
  }

  /// Selectors are never turned here: 0, or the lowest position that a contact of the selector names.
  [[nodiscard]] int rest_position(const Part& contact) const {
    std::set<int> positions;
    for (const Part& part : net_.parts)
      if (part.actuated_by == contact.actuated_by)
        positions.insert(part.closed_in.begin(), part.closed_in.end());
    return positions.count(0) != 0 ? 0 : *positions.begin();
  }

  [[nodiscard]] bool closed(const Item& item, const Act& act) const {
    if (!item.present || item.broken) return false;
    if (item.part == nullptr) return true;
    const Part& part = *item.part;
    if (part.kind > PartKind::path) return false;  // a load
    if (act.kind == Act::Kind::unplugged &&
        (part.part == act.part || part.part.substr(0, act.part.size() + 1) == act.part + ":"))
      return false;
    if (act.kind == Act::Kind::out && part.part == act.part) return false;
    if (!is_contact(part)) return true;
    if (!part.closed_in.empty())
      return std::find(part.closed_in.begin(), part.closed_in.end(), rest_position(part)) !=
             part.closed_in.end();
    const bool operated = act.kind == Act::Kind::operated && part.actuated_by == act.part;
    const bool normally_open = (part.kind == PartKind::contact_no) != item.exchanged;
    return operated == normally_open;
  }

  const Netlist& net_;
  std::vector<Item> items_;
  std::vector<std::pair<PointId, PointId>> joins_;
};

}  // namespace ringtrue::testing
