#pragma once
#include <gtest/gtest.h>

#include <algorithm>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::testing {

/// A point by its name: `X1:12.int` is "X1", "", 12, "", ".int"; `K1:A2` is "K1", "A", 2, "", "".
struct NamedPoint {
  std::string part, before, after, side;
  int number = -1;  ///< -1 where the pin has none

  explicit NamedPoint(std::string name) {
    for (const char* suffix : {".int", ".ext"})
      if (name.ends_with(suffix)) side = suffix, name.resize(name.size() - side.size());
    part = name.substr(0, name.rfind(':'));
    std::string pin = name.substr(part.size() + 1);
    const std::size_t last = pin.find_last_of("0123456789");
    if (last == std::string::npos) {
      before = pin;
      return;
    }
    const std::size_t other = pin.find_last_not_of("0123456789", last);
    const std::size_t first = other == std::string::npos ? 0 : other + 1;
    before = pin.substr(0, first), after = pin.substr(last + 1);
    number = std::stoi(pin.substr(first, last + 1 - first));
  }
  /// The name so many places on in the row.
  [[nodiscard]] std::string beside(int places) const {
    return part + ":" + before + std::to_string(number + places) + after + side;
  }
  [[nodiscard]] std::string pin() const {
    return before + (number < 0 ? "" : std::to_string(number)) + after;
  }
};

/// Every fault there can be on a small panel, by plain loops over rows and points.
class WrittenUniverse {
 public:
  /// `lifted`: the conductor that some reading's condition lifts.
  WrittenUniverse(const Netlist& net, std::size_t lifted) : net_(net) {
    for (std::uint32_t p = 0; p < net.points.size(); ++p) {
      names_.push_back(net.points.name(PointId{p}));
      points_.emplace_back(names_.back());
    }
    for (const Conductor& c : net.conductors)
      rows_.push_back({index(c.from), index(c.to), nullptr, c.kind == ConductorKind::bridge});
    for (const Part& part : net.parts) rows_.push_back({index(part.a), index(part.b), &part, false});
    for (std::uint32_t p = 0; p < points_.size(); ++p) block_.push_back(p);
    for (std::size_t i = 0; i < rows_.size(); ++i)
      if (i != lifted && stays_joined(rows_[i])) merge(rows_[i]);
  }

  [[nodiscard]] std::set<Fault> all() {
    for (std::uint32_t i = 0; i < rows_.size(); ++i) add_faults_of(i);
    for (std::uint32_t i = 0; i < net_.conductors.size(); ++i)
      for (const End end : {End::a, End::b}) add_moves(i, end);
    add_shifted_runs();
    add_exchanged_connectors();
    add_joints();
    return std::move(all_);
  }

 private:
  struct Row {
    std::uint32_t a, b;
    const Part* part;  ///< null for a conductor
    bool is_bridge;
  };

  static bool stays_joined(const Row& row) {
    return row.part == nullptr || row.part->kind == PartKind::terminal;
  }
  void merge(const Row& row) {
    const std::uint32_t kept = std::min(block_[row.a], block_[row.b]);
    const std::uint32_t gone = std::max(block_[row.a], block_[row.b]);
    std::replace(block_.begin(), block_.end(), gone, kept);
  }
  [[nodiscard]] std::uint32_t point(std::uint32_t row, End end) const {
    return end == End::a ? rows_[row].a : rows_[row].b;
  }
  /// The point of that name, if there is one.
  [[nodiscard]] std::optional<std::uint32_t> named(const std::string& name) const {
    const auto at = std::find(names_.begin(), names_.end(), name);
    if (at == names_.end()) return std::nullopt;
    return static_cast<std::uint32_t>(at - names_.begin());
  }
  [[nodiscard]] std::optional<std::uint32_t> beside(std::uint32_t p, int places) const {
    return points_[p].number < 0 ? std::nullopt : named(points_[p].beside(places));
  }
  Fault& begin(FaultKind kind) {
    next_ = Fault{};
    next_.kind = kind;
    return next_;
  }
  void done() { EXPECT_TRUE(all_.insert(next_).second); }

  void add_faults_of(std::uint32_t i) {
    const Row& row = rows_[i];
    const auto add_one = [&](FaultKind kind) { begin(kind).element = ElementId{i}, done(); };
    add_one(row.is_bridge ? FaultKind::missing_bridge : FaultKind::open);
    if (row.part == nullptr) return;
    const PartKind kind = row.part->kind;
    if (kind == PartKind::diode) add_one(FaultKind::reversed);
    if (kind == PartKind::coil || kind == PartKind::lamp || kind == PartKind::resistor)
      add_one(FaultKind::wrong_value);
    if (kind == PartKind::contact_no || kind == PartKind::contact_nc) add_wrong_contact(i);
  }
  /// A changeover counts once, with its lower row first.
  void add_wrong_contact(std::uint32_t i) {
    std::optional<std::uint32_t> other;
    for (std::uint32_t k = 0; k < rows_.size(); ++k) {
      const Part *one = rows_[i].part, *two = rows_[k].part;
      const bool is_contact =
          two != nullptr && (two->kind == PartKind::contact_no || two->kind == PartKind::contact_nc);
      if (is_contact && two->part == one->part && two->kind != one->kind &&
          (two->a == one->a || two->a == one->b || two->b == one->a || two->b == one->b))
        other = k;
    }
    if (other && *other < i) return;
    Fault& fault = begin(FaultKind::wrong_contact);
    fault.element = ElementId{i};
    if (other) fault.element2 = ElementId{*other};
    done();
  }

  /// The point of a block that is nearest: the neighbour, else the first on the part, else the first.
  [[nodiscard]] std::uint32_t nearest(std::uint32_t drawn, std::uint32_t block) const {
    for (const int places : {-1, 1})
      if (const auto p = beside(drawn, places); p && block_[*p] == block) return *p;
    for (std::uint32_t p = 0; p < points_.size(); ++p)
      if (block_[p] == block && points_[p].part == points_[drawn].part) return p;
    return block;
  }
  void add_moves(std::uint32_t i, End end) {
    const std::uint32_t drawn = point(i, end);
    for (std::uint32_t block = 0; block < points_.size(); ++block) {
      if (block_[block] != block || block == block_[drawn]) continue;
      Fault& fault = begin(FaultKind::miswire);
      fault.element = ElementId{i}, fault.end = end, fault.p = PointId{nearest(drawn, block)};
      done();
    }
    for (std::uint32_t k = i + 1; k < net_.conductors.size(); ++k)
      for (const End other : {End::a, End::b}) {
        if (block_[point(k, other)] == block_[drawn]) continue;
        Fault& fault = begin(FaultKind::swap);
        fault.element = ElementId{i}, fault.end = end, fault.element2 = ElementId{k}, fault.end2 = other;
        done();
      }
  }

  [[nodiscard]] int wire_ends_at(std::uint32_t p) const {
    int ends = 0;
    for (const Row& row : rows_)
      if (row.part == nullptr && !row.is_bridge) ends += (row.a == p ? 1 : 0) + (row.b == p ? 1 : 0);
    return ends;
  }
  /// From every point upwards, as long as there is a next one.
  void add_shifted_runs() {
    for (std::uint32_t first = 0; first < points_.size(); ++first) {
      int ends = 0;
      for (std::optional<std::uint32_t> last = first; last; last = beside(*last, 1)) {
        ends += wire_ends_at(*last);
        if (ends < 3 || wire_ends_at(first) == 0 || wire_ends_at(*last) == 0) continue;
        for (const int places : {-2, -1, 1, 2})
          if (reaches(places < 0 ? first : *last, places)) {
            Fault& fault = begin(FaultKind::shift);
            fault.places = static_cast<std::int8_t>(places), fault.p = PointId{first},
            fault.q = PointId{*last};
            done();
          }
      }
    }
  }
  /// The row goes on without a gap for so many places.
  [[nodiscard]] bool reaches(std::uint32_t from, int places) const {
    const int step = places < 0 ? -1 : 1;
    for (int i = step; i != places + step; i += step)
      if (!beside(from, i)) return false;
    return true;
  }

  void add_exchanged_connectors() {
    std::set<std::string> parts;
    for (const NamedPoint& p : points_)
      if (p.side.empty()) parts.insert(p.part);
    for (const std::string& one : parts) {
      const NamedPoint numbered(":" + one);  // the part's name, taken apart as a pin
      if (numbered.number < 0) continue;
      const std::string two = numbered.beside(1).substr(1);
      if (parts.count(two) == 0 || std::max(wired_pins(one), wired_pins(two)) < 3) continue;
      if (!all_wired_pins_are_on(one, two) || !all_wired_pins_are_on(two, one)) continue;
      Fault& fault = begin(FaultKind::shift);
      fault.p = first_of(one), fault.q = first_of(two);
      done();
    }
  }
  [[nodiscard]] int wired_pins(const std::string& part) const {
    int pins = 0;
    for (std::uint32_t p = 0; p < points_.size(); ++p)
      pins += points_[p].part == part && wire_ends_at(p) != 0 ? 1 : 0;
    return pins;
  }
  [[nodiscard]] bool all_wired_pins_are_on(const std::string& part, const std::string& other) const {
    for (std::uint32_t p = 0; p < points_.size(); ++p)
      if (points_[p].part == part && wire_ends_at(p) != 0 && !named(other + ":" + points_[p].pin()))
        return false;
    return true;
  }
  [[nodiscard]] PointId first_of(const std::string& part) const {
    std::uint32_t p = 0;
    while (points_[p].part != part) ++p;
    return PointId{p};
  }

  void add_joints() {
    for (std::uint32_t one = 0; one < points_.size(); ++one)
      for (std::uint32_t two = one + 1; two < points_.size(); ++two)
        if (block_[one] == one && block_[two] == two) add_joint(one, two);
  }
  /// At neighbouring terminals, else at neighbouring pins, else at the first points.
  void add_joint(std::uint32_t one, std::uint32_t two) {
    for (const bool terminals : {true, false})
      for (std::uint32_t p = 0; p < points_.size(); ++p) {
        if (points_[p].side.empty() == terminals) continue;
        for (std::uint32_t q = p + 1; q < points_.size(); ++q) {
          if (beside(p, 1) != q && beside(p, -1) != q) continue;
          if (std::minmax(block_[p], block_[q]) != std::minmax(one, two)) continue;
          return add_joint_at(terminals ? FaultKind::extra_bridge : FaultKind::short_circuit, p, q);
        }
      }
    add_joint_at(FaultKind::short_circuit, one, two);
  }
  void add_joint_at(FaultKind kind, std::uint32_t p, std::uint32_t q) {
    Fault& fault = begin(kind);
    fault.p = PointId{p}, fault.q = PointId{q};
    done();
  }

  const Netlist& net_;
  std::vector<std::string> names_;
  std::vector<NamedPoint> points_;    ///< by point
  std::vector<Row> rows_;             ///< by element
  std::vector<std::uint32_t> block_;  ///< by point: the first point of its piece of copper
  Fault next_;
  std::set<Fault> all_;
};

}  // namespace ringtrue::testing
