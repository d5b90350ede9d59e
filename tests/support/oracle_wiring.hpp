#pragma once
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <queue>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/model/netlist.hpp"
#include "tests/support/oracle_bounds.hpp"
#include "tests/support/oracle_condition.hpp"

namespace ringtrue::testing {

/// A panel as built, of parts of every kind, under any condition; naive, from model types and the table of
/// intervals in DEVELOPERS.md alone. Elements are numbered as the graph's header says: conductors, rows of
/// parts, implied terminals, feet on the PE rail, electronics of channels.
class OracleWiring {
 public:
  struct Item {
    std::uint32_t a = 0, b = 0;  ///< a diode's anode and cathode
    double lo = 0, hi = 0;
    bool is_diode = false, is_load = false, is_present = true;
    const Part* part = nullptr;
    std::string module = {};  ///< of a channel's electronics
    bool is_broken = false, is_exchanged = false;
  };

  explicit OracleWiring(const Netlist& net) : net_(&net) {
    for (const Part& part : net.parts)
      if (part.place == PartPlace::field) field_.insert(std::string(part.part));
    for (std::size_t i = 0; i < net.conductors.size(); ++i) items_.push_back(conductor(i));
    for (const Part& part : net.parts) items_.push_back(item_of(part));
    for (const PlaceId place : net.implied_terminals)
      items_.push_back({index(net.points.point(place, Side::internal)),
                        index(net.points.point(place, Side::external)), 0, k_joint});
    for (const Part& part : net.parts)
      if (part.kind == PartKind::pe_terminal) {
        const PlaceId rail = net.points.find_place("PE").value();
        const Side side = net.points.has_sides(rail) ? Side::internal : Side::single;
        items_.push_back({index(part.a), index(net.points.point(rail, side)), 0, k_joint});
      }
    add_channels();
  }

  [[nodiscard]] const std::vector<Item>& items() const { return items_; }
  [[nodiscard]] std::uint32_t points() const { return static_cast<std::uint32_t>(net_->points.size()); }

  /// A point where a probe can be put in the shop: not on a field part.
  [[nodiscard]] bool is_there(std::uint32_t p) const { return p >= points() || !is_in_field(PointId{p}); }

  void break_element(ElementId e) { items_.at(index(e)).is_broken = true; }
  void join(PointId p, PointId q) { items_.push_back({index(p), index(q), 0, k_joint}); }

  void inject(const Fault& fault) {
    const auto item = [this](ElementId e) -> Item& { return items_.at(index(e)); };
    switch (fault.kind) {
      case FaultKind::open:
      case FaultKind::missing_bridge:
        return break_element(fault.element);
      case FaultKind::miswire:
        return land(index(fault.element), fault.end, index(fault.p));
      case FaultKind::swap: {
        const std::uint32_t one = drawn(fault.element, fault.end), two = drawn(fault.element2, fault.end2);
        land(index(fault.element), fault.end, two);
        return land(index(fault.element2), fault.end2, one);
      }
      case FaultKind::shift:
        return shift(fault);
      case FaultKind::short_circuit:
      case FaultKind::extra_bridge:
        return join(fault.p, fault.q);
      case FaultKind::wrong_contact:
        for (const ElementId e : {fault.element, fault.element2})
          if (e != ElementId::none) item(e).is_exchanged = true;
        return;
      case FaultKind::reversed:
        return std::swap(item(fault.element).a, item(fault.element).b);
      case FaultKind::wrong_value: {
        Item& wrong = item(fault.element);
        if (wrong.is_load)
          wrong.lo = 1, wrong.hi = OracleBounds::infinite();
        else if (fault.above)
          wrong.lo = std::max(wrong.hi, 30.03), wrong.hi = OracleBounds::infinite();
        else
          wrong.lo = wrong.hi, wrong.hi = std::max(wrong.hi, 25.0);
        return;
      }
      case FaultKind::bad_reading:
        return;
    }
  }

  /// What conducts under the condition, with loose ends where it has them.
  [[nodiscard]] std::vector<Item> conducting(const OracleCondition& condition) const {
    std::vector<Item> all;
    for (std::uint32_t i = 0; i < items_.size(); ++i) {
      Item item = items_[i];
      if (item.is_broken || !is_closed(item, condition)) continue;
      for (const bool is_from : {true, false}) {
        const auto at = condition.loose.find({i, is_from});
        if (at != condition.loose.end()) (is_from ? item.a : item.b) = at->second;
      }
      all.push_back(item);
    }
    return all;
  }
  [[nodiscard]] bool conducts(ElementId e, const OracleCondition& condition) const {
    const Item& item = items_.at(index(e));
    return !item.is_broken && is_closed(item, condition);
  }

 private:
  static constexpr double k_joint = 0.1, k_conductor = 0.2;

  [[nodiscard]] bool is_in_field(PointId p) const {
    const std::string place(net_->points.place_name(net_->points.place(p)));
    return field_.count(place) != 0 || field_.count(place.substr(0, place.rfind(':'))) != 0;
  }

  [[nodiscard]] Item conductor(std::size_t i) const {
    const Conductor& c = net_->conductors[i];
    const PointId to = c.is_spare() ? c.from : c.to;
    Item item{index(c.from), index(to), 0, c.kind == ConductorKind::wire ? k_conductor : k_joint};
    if (c.kind == ConductorKind::core) item.hi = k_conductor;
    item.is_present = !c.is_spare() && !is_in_field(c.from) && !is_in_field(to);
    // 0.5 mm² has at most 40.1 ohm/km at 20 °C (IEC 60228, class 5, tinned; from memory): warm and a tenth
    // longer than drawn less than 0.05 ohm/m; thinner wires with a length stand in no netlist asked here.
    const std::string length(net_->conductor_text.get(ConductorText::length_m, i));
    if (!length.empty()) item.hi = std::max(item.hi, 0.05 * std::stod(length) + 0.1);
    return item;
  }

  static Item item_of(const Part& part) {
    Item item{index(part.a), index(part.b), 0, k_joint};
    item.part = &part;
    item.is_present = part.place != PartPlace::field;
    const double least = least_of(part.kind);
    const double tolerance = (std::isnan(part.tolerance_pct) ? 10 : part.tolerance_pct) / 100;
    item.is_load = least >= 0, item.is_diode = part.kind == PartKind::diode;
    if (item.is_load) item.lo = least, item.hi = OracleBounds::infinite();
    if (part.kind == PartKind::fuse) item.hi = 0.5;
    if (std::isnan(part.ohms) || item.is_diode) return item;
    if (part.kind == PartKind::lamp)
      item.lo = part.ohms / 15, item.hi = part.ohms;
    else
      item.lo = std::max(0.0, part.ohms * (1 - tolerance)), item.hi = part.ohms * (1 + tolerance);
    return item;
  }
  /// The least of a load whose ohms aren't stated; -1 for copper.
  static double least_of(PartKind kind) {
    switch (kind) {
      case PartKind::coil:
      case PartKind::resistor:
      case PartKind::lamp:
        return 1;
      case PartKind::supply:
      case PartKind::input:
      case PartKind::electronics:
      case PartKind::sensor:
        return 50;
      case PartKind::diode:
      case PartKind::transformer:
      case PartKind::motor:
      case PartKind::surge:
      case PartKind::capacitor:
        return 0;
      default:
        return -1;
    }
  }

  void add_channels() {
    for (const Channel& channel : net_->channels) {
      if (channel.common == PointId::none) continue;
      const bool stated = std::any_of(net_->parts.begin(), net_->parts.end(), [&](const Part& part) {
        return part.kind == PartKind::electronics &&
               std::minmax(part.a, part.b) == std::minmax(channel.point, channel.common);
      });
      if (stated) continue;
      const bool is_current =
          channel.type == ChannelType::AI && channel.signal.find("mA") != channel.signal.npos;
      Item item{index(channel.point), index(channel.common), is_current ? 5.0 : 50.0,
                OracleBounds::infinite()};
      item.is_load = true;
      const std::string place(net_->points.place_name(net_->points.place(channel.point)));
      item.module = place.substr(0, place.find(':'));
      items_.push_back(item);
    }
  }

  [[nodiscard]] std::uint32_t drawn(ElementId e, End end) const {
    const Conductor& c = net_->conductors.at(index(e));
    return index(end == End::a ? c.from : c.to);
  }
  void land(std::size_t conductor, End end, std::uint32_t p) {
    (end == End::a ? items_.at(conductor).a : items_.at(conductor).b) = p;
  }

  /// Found by names alone: the wires on one row of terminals, or on two parts.
  void shift(const Fault& fault) {
    std::map<std::string, std::uint32_t> number_of;
    for (std::uint32_t p = 0; p < points(); ++p) number_of[net_->points.name(PointId{p})] = p;
    const std::string first = net_->points.name(fault.p), last = net_->points.name(fault.q);
    std::map<std::string, std::string> moves;
    if (fault.places != 0) {
      const auto [head, low, tail, width] = taken_apart(first);
      const int high = std::get<1>(taken_apart(last));
      for (int number = low; number <= high; ++number)
        moves[head + digits(number, width) + tail] = head + digits(number + fault.places, width) + tail;
    } else {
      const std::string one = first.substr(0, first.find(':') + 1), two = last.substr(0, last.find(':') + 1);
      for (const auto& [name, number] : number_of) {
        if (name.rfind(one, 0) == 0) moves[name] = two + name.substr(one.size());
        if (name.rfind(two, 0) == 0) moves[name] = one + name.substr(two.size());
      }
    }
    for (std::uint32_t i = 0; i < net_->conductors.size(); ++i) {
      const Conductor& c = net_->conductors[i];
      if (c.kind == ConductorKind::bridge || c.kind == ConductorKind::busbar || !items_[i].is_present)
        continue;
      for (const End end : {End::a, End::b}) {
        const auto move = moves.find(net_->points.name(PointId{drawn(ElementId{i}, end)}));
        if (move != moves.end()) land(i, end, number_of.at(move->second));
      }
    }
  }
  static std::string digits(int number, std::size_t width) {
    std::string text = std::to_string(number);
    return text.size() < width ? std::string(width - text.size(), '0') + text : text;
  }
  /// `X1:12.int` is "X1:", 12, ".int"; a number with a leading zero keeps its width.
  static std::tuple<std::string, int, std::string, std::size_t> taken_apart(const std::string& name) {
    std::size_t end = name.size();
    for (const char* side : {".int", ".ext"})
      if (name.ends_with(side)) end -= 4;
    while (end > 0 && std::isdigit(static_cast<unsigned char>(name[end - 1])) == 0) --end;
    std::size_t begin = end;
    while (begin > 0 && std::isdigit(static_cast<unsigned char>(name[begin - 1])) != 0) --begin;
    const std::string number = name.substr(begin, end - begin);
    return {name.substr(0, begin), std::stoi(number), name.substr(end), number[0] == '0' ? number.size() : 0};
  }

  [[nodiscard]] int position(const Part& contact, const OracleCondition& condition) const {
    const std::string turned = condition.state_of(std::string(contact.actuated_by));
    if (turned.rfind("position ", 0) == 0) return std::stoi(turned.substr(9));
    std::set<int> positions;
    for (const Part& part : net_->parts)
      if (part.actuated_by == contact.actuated_by)
        positions.insert(part.closed_in.begin(), part.closed_in.end());
    return positions.count(0) != 0 ? 0 : *positions.begin();
  }

  [[nodiscard]] bool is_closed(const Item& item, const OracleCondition& condition) const {
    if (!item.is_present) return false;
    if (!item.module.empty() && condition.takes_out(item.module)) return false;
    if (item.part == nullptr) return true;
    const Part& part = *item.part;
    if (condition.takes_out(std::string(part.part))) return false;
    if (part.kind != PartKind::contact_no && part.kind != PartKind::contact_nc) return true;
    if (!part.closed_in.empty()) {
      const bool named =
          std::count(part.closed_in.begin(), part.closed_in.end(), position(part, condition)) != 0;
      return named != item.is_exchanged;
    }
    const bool is_operated = condition.state_of(std::string(part.actuated_by)) == "operated";
    return is_operated == ((part.kind == PartKind::contact_no) != item.is_exchanged);
  }

  const Netlist* net_;
  std::set<std::string> field_;
  std::vector<Item> items_;
};

/// What a meter can show between points of a panel under one condition.
class OracleReadings {
 public:
  using Item = OracleWiring::Item;

  OracleReadings(const OracleWiring& wiring, const OracleCondition& condition)
      : points_(wiring.points() + static_cast<std::uint32_t>(condition.loose.size())),
        items_(wiring.conducting(condition)) {
    net_ = merged([](const Item& item) { return !item.is_load; });
    // For the least resistance all that may have none is joined.
    zero_ = merged([](const Item& item) { return item.lo == 0 && !item.is_diode; });
    island_ = merged([](const Item&) { return true; });
  }

  [[nodiscard]] std::uint32_t points() const { return points_; }
  [[nodiscard]] const std::vector<std::uint32_t>& nets() const { return net_; }

  /// Loads by the nets that they join, without those that begin and end on one.
  [[nodiscard]] std::multiset<std::tuple<std::uint32_t, std::uint32_t, double, double, bool>> loads() const {
    std::multiset<std::tuple<std::uint32_t, std::uint32_t, double, double, bool>> all;
    for (const Item& item : items_) {
      if (!item.is_load || net_[item.a] == net_[item.b]) continue;
      std::uint32_t a = net_[item.a], b = net_[item.b];
      if (!item.is_diode && a > b) std::swap(a, b);
      all.insert({a, b, item.lo, item.hi, item.is_diode});
    }
    return all;
  }

  /// The least and the most that may lie between the probes.
  [[nodiscard]] double lowest(std::uint32_t red, std::uint32_t black) const {
    if (zero_[red] == zero_[black]) return 0;
    if (island_[red] != island_[black]) return OracleBounds::infinite();
    const auto at = lowest_.find({zero_[red], zero_[black]});
    if (at != lowest_.end()) return at->second;
    std::map<std::uint32_t, std::uint32_t> number;
    const auto node = [&](std::uint32_t p) {
      return number.try_emplace(zero_[p], static_cast<std::uint32_t>(number.size())).first->second;
    };
    std::vector<OracleBounds::Item> resistors;
    for (const Item& item : items_)
      if (island_[item.a] == island_[red] && zero_[item.a] != zero_[item.b])
        resistors.push_back({node(item.a), node(item.b), item.lo, item.hi, item.is_diode});
    const std::uint32_t from = node(red), to = node(black);
    const OracleNetwork network(static_cast<std::uint32_t>(number.size()), resistors);
    return lowest_[{zero_[red], zero_[black]}] = network.lowest(from, to);
  }

  /// By the cheapest single way, which bounds it from above, where that is enough; else solved.
  [[nodiscard]] double highest(std::uint32_t red, std::uint32_t black, double enough = 0) const {
    const double way = cheapest_way(red, black);
    if (way <= enough || way == OracleBounds::infinite()) return way;
    std::map<std::uint32_t, std::uint32_t> number;
    const auto node = [&](std::uint32_t p) {
      return number.try_emplace(p, static_cast<std::uint32_t>(number.size())).first->second;
    };
    std::vector<OracleBounds::Item> resistors;
    for (const Item& item : items_)
      if (!item.is_diode && item.hi < OracleBounds::infinite() && island_[item.a] == island_[red])
        resistors.push_back({node(item.a), node(item.b), item.lo, item.hi});
    const std::uint32_t from = node(red), to = node(black);
    return OracleNetwork(static_cast<std::uint32_t>(number.size()), resistors).highest(from, to);
  }

  [[nodiscard]] bool can_beep(std::uint32_t red, std::uint32_t black, double limit) const {
    return lowest(red, black) <= limit * (1 + 1e-9);
  }
  [[nodiscard]] bool can_be_silent(std::uint32_t red, std::uint32_t black, double limit) const {
    return highest(red, black, limit) > limit * (1 + 1e-9);
  }

 private:
  template <class Joins>
  [[nodiscard]] std::vector<std::uint32_t> merged(Joins&& joins) const {
    std::vector<std::uint32_t> label(points_);
    std::iota(label.begin(), label.end(), 0u);
    for (bool changed = true; changed;) {
      changed = false;
      for (const Item& item : items_) {
        if (!joins(item)) continue;
        const std::uint32_t least = std::min(label[item.a], label[item.b]);
        changed = changed || label[item.a] != least || label[item.b] != least;
        label[item.a] = label[item.b] = least;
      }
    }
    return label;
  }

  [[nodiscard]] double cheapest_way(std::uint32_t red, std::uint32_t black) const {
    if (island_[red] != island_[black]) return OracleBounds::infinite();
    const auto at = ways_.find(red);
    if (at != ways_.end()) return at->second[black];
    std::vector<double> ohms(points_, OracleBounds::infinite());
    ohms[red] = 0;
    for (bool changed = true; changed;) {
      changed = false;
      for (const Item& item : items_) {
        if (item.is_diode) continue;
        for (const auto& [from, to] : {std::pair(item.a, item.b), std::pair(item.b, item.a)})
          if (ohms[from] + item.hi < ohms[to]) ohms[to] = ohms[from] + item.hi, changed = true;
      }
    }
    return ways_.emplace(red, std::move(ohms)).first->second[black];
  }

  std::uint32_t points_;
  std::vector<Item> items_;
  std::vector<std::uint32_t> net_, zero_, island_;
  mutable std::map<std::pair<std::uint32_t, std::uint32_t>, double> lowest_;
  mutable std::map<std::uint32_t, std::vector<double>> ways_;
};

}  // namespace ringtrue::testing
