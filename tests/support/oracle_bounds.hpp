#pragma once
#include <algorithm>
#include <cctype>
#include <cmath>
#include <limits>
#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/model/netlist.hpp"
#include "tests/support/dense_network.hpp"

namespace ringtrue::testing {

/// One stated state: what is done to a part, or an end that is lifted.
struct OracleState {
  enum class Kind { none, operated, out, unplugged, lifted } kind = Kind::none;
  std::string part;             ///< for a lifted end the wire number
  std::uint32_t conductor = 0;  ///< of a lifted end
  bool lifted_from = false;     ///< its `from` end
  std::string text;
};

/// A panel as built, as a list of resistors with the lowest and the highest value that each may have; naive
/// on purpose, from model types and the table of intervals alone. Points are numbered as in the netlist; one
/// more stands for a lifted end.
class OracleBounds {
 public:
  struct Item {
    std::uint32_t a = 0, b = 0;  ///< a diode's anode and cathode
    double lo = 0, hi = 0;
    bool is_diode = false, is_copper = true;
    const Part* part = nullptr;  ///< null for conductors, implied bodies and joints made by faults
    bool broken = false, exchanged = false;
    std::size_t number = 0;  ///< place in `items`
  };

  explicit OracleBounds(const Netlist& net) : net_(net) {
    for (const Conductor& c : net.conductors)
      items_.push_back({index(c.from), index(c.to), 0, c.kind == ConductorKind::bridge ? 0.1 : 0.2});
    for (const Part& part : net.parts) items_.push_back(item_of(part));
    for (const PlaceId place : net.implied_terminals)
      items_.push_back({index(net.points.point(place, Side::internal)),
                        index(net.points.point(place, Side::external)), 0, 0.1});
    for (std::size_t i = 0; i < items_.size(); ++i) items_[i].number = i;
  }

  /// Elements are numbered as in `items`: conductors, rows of parts, implied bodies.
  void inject(const Fault& fault) {
    const auto item = [this](ElementId e) -> Item& { return items_[index(e)]; };
    const auto end = [&](ElementId e, End which) -> std::uint32_t& {
      return which == End::a ? item(e).a : item(e).b;
    };
    switch (fault.kind) {
      case FaultKind::open:
      case FaultKind::missing_bridge:
        item(fault.element).broken = true;
        break;
      case FaultKind::miswire:
        end(fault.element, fault.end) = index(fault.p);
        break;
      case FaultKind::swap: {
        const std::uint32_t one = OracleBounds(net_).end_of(fault.element, fault.end);
        end(fault.element, fault.end) = OracleBounds(net_).end_of(fault.element2, fault.end2);
        end(fault.element2, fault.end2) = one;
        break;
      }
      case FaultKind::shift:
        shift(fault);
        break;
      case FaultKind::short_circuit:
      case FaultKind::extra_bridge:
        items_.push_back({index(fault.p), index(fault.q), 0, 0.1});
        items_.back().number = items_.size() - 1;
        break;
      case FaultKind::wrong_contact:
        for (const ElementId e : {fault.element, fault.element2})
          if (e != ElementId::none) item(e).exchanged = true;
        break;
      case FaultKind::reversed:
        std::swap(item(fault.element).a, item(fault.element).b);
        break;
      case FaultKind::wrong_value:
        if (!item(fault.element).is_copper)
          item(fault.element).lo = 1, item(fault.element).hi = infinite();
        else if (fault.above)
          item(fault.element).lo = 30.03, item(fault.element).hi = infinite();
        else
          item(fault.element).lo = item(fault.element).hi, item(fault.element).hi = 25;
        break;
      case FaultKind::bad_reading:
        break;
    }
  }

  [[nodiscard]] std::uint32_t end_of(ElementId e, End which) const {
    return which == End::a ? items_[index(e)].a : items_[index(e)].b;
  }
  [[nodiscard]] const std::vector<Item>& items() const { return items_; }

  /// What conducts under a state.
  [[nodiscard]] std::vector<Item> present(const OracleState& state) const {
    std::vector<Item> conducting;
    for (std::size_t i = 0; i < items_.size(); ++i) {
      Item item = items_[i];
      if (item.broken || !closed(item, state)) continue;
      if (state.kind == OracleState::Kind::lifted && i == state.conductor)
        (state.lifted_from ? item.a : item.b) = static_cast<std::uint32_t>(net_.points.size());
      conducting.push_back(item);
    }
    return conducting;
  }

  static double infinite() { return std::numeric_limits<double>::infinity(); }

 private:
  static Item item_of(const Part& part) {
    Item item{index(part.a), index(part.b), 0, 0.1};
    item.part = &part;
    const bool given = !std::isnan(part.ohms);
    switch (part.kind) {
      case PartKind::coil:
      case PartKind::resistor:
        item.is_copper = false;
        item.lo = given ? part.ohms * 0.9 : 1, item.hi = given ? part.ohms * 1.1 : infinite();
        break;
      case PartKind::lamp:
        item.is_copper = false;
        item.lo = given ? part.ohms / 15 : 1, item.hi = given ? part.ohms : infinite();
        break;
      case PartKind::diode:
        item.is_copper = false, item.is_diode = true;
        item.hi = infinite();
        break;
      case PartKind::electronics:
        item.is_copper = false;
        item.lo = 50, item.hi = infinite();
        break;
      case PartKind::fuse:
        item.hi = 0.5;
        break;
      default:
        break;
    }
    return item;
  }

  /// Found by names alone: the wires on one row of terminals, or on two parts.
  void shift(const Fault& fault) {
    const std::string first = net_.points.name(fault.p), last = net_.points.name(fault.q);
    std::map<std::string, std::string> moves;
    if (fault.places != 0) {
      const auto [head, low, tail] = taken_apart(first);
      const int high = std::get<1>(taken_apart(last));
      for (int number = low; number <= high; ++number)
        moves[head + std::to_string(number) + tail] = head + std::to_string(number + fault.places) + tail;
    } else {
      const std::string one = first.substr(0, first.find(':') + 1), two = last.substr(0, last.find(':') + 1);
      for (std::uint32_t p = 0; p < net_.points.size(); ++p) {
        const std::string name = net_.points.name(PointId{p});
        if (name.rfind(one, 0) == 0) moves[name] = two + name.substr(one.size());
        if (name.rfind(two, 0) == 0) moves[name] = one + name.substr(two.size());
      }
    }
    std::map<std::string, std::uint32_t> number_of;
    for (std::uint32_t p = 0; p < net_.points.size(); ++p) number_of[net_.points.name(PointId{p})] = p;
    const OracleBounds drawn(net_);
    for (std::size_t i = 0; i < net_.conductors.size(); ++i) {
      if (net_.conductors[i].kind == ConductorKind::bridge) continue;
      for (std::uint32_t Item::*end : {&Item::a, &Item::b}) {
        const auto move = moves.find(net_.points.name(PointId{drawn.items_[i].*end}));
        if (move != moves.end()) items_[i].*end = number_of.at(move->second);
      }
    }
  }

  /// `X1:12.int` is "X1:", 12, ".int"; `K1:A2` is "K1:A", 2, "".
  static std::tuple<std::string, int, std::string> taken_apart(const std::string& name) {
    const std::size_t pin_end = std::min(name.find('.'), name.size());
    std::size_t end = pin_end;
    while (end > 0 && std::isdigit(static_cast<unsigned char>(name[end - 1])) == 0) --end;
    std::size_t begin = end;
    while (begin > 0 && std::isdigit(static_cast<unsigned char>(name[begin - 1])) != 0) --begin;
    return {name.substr(0, begin), std::stoi(name.substr(begin, end - begin)), name.substr(end)};
  }

  [[nodiscard]] static bool closed(const Item& item, const OracleState& state) {
    if (item.part == nullptr) return true;
    const bool own = item.part->part == state.part;
    if ((state.kind == OracleState::Kind::out || state.kind == OracleState::Kind::unplugged) && own)
      return false;
    const bool is_no = item.part->kind == PartKind::contact_no,
               is_nc = item.part->kind == PartKind::contact_nc;
    if (!is_no && !is_nc) return true;
    const bool operated = state.kind == OracleState::Kind::operated && item.part->actuated_by == state.part;
    return operated == (is_no != item.exchanged);
  }

  const Netlist& net_;
  std::vector<Item> items_;
};

/// Resistance between two points of a list of resistors, by dense elimination. Diodes are found by trying
/// every set of them.
class OracleNetwork {
 public:
  OracleNetwork(std::uint32_t points, const std::vector<OracleBounds::Item>& items)
      : points_(points), items_(items) {}

  [[nodiscard]] double lowest(std::uint32_t red, std::uint32_t black) const {
    std::vector<Resistor> fixed, diodes;
    for (const auto& item : items_) (item.is_diode ? diodes : fixed).push_back({item.a, item.b, item.lo});
    double least = OracleBounds::infinite();
    for (std::uint32_t set = 0; set < (1u << diodes.size()); ++set) {
      std::vector<Resistor> with = fixed;
      for (std::size_t k = 0; k < diodes.size(); ++k)
        if ((set >> k & 1u) != 0) with.push_back(diodes[k]);
      const std::vector<long double> volts = potentials(points_, with, red, black);
      if (volts.empty()) continue;
      // Each set whose diodes all carry their current forwards is a flow that could be; the least counts.
      bool forwards = true;
      for (std::size_t k = 0; k < diodes.size(); ++k)
        forwards = forwards && ((set >> k & 1u) == 0 || volts[diodes[k].a] >= volts[diodes[k].b] - 1e-12L);
      if (forwards) least = std::min(least, static_cast<double>(volts[red]));
    }
    return least;
  }

  [[nodiscard]] double highest(std::uint32_t red, std::uint32_t black) const {
    std::vector<Resistor> with;
    for (const auto& item : items_)
      if (!item.is_diode && item.hi < OracleBounds::infinite()) with.push_back({item.a, item.b, item.hi});
    const std::vector<long double> volts = potentials(points_, with, red, black);
    return volts.empty() ? OracleBounds::infinite() : static_cast<double>(volts[red]);
  }

 private:
  struct Resistor {
    std::uint32_t a, b;
    double ohms;
  };

  std::uint32_t points_;
  const std::vector<OracleBounds::Item>& items_;
};

}  // namespace ringtrue::testing
