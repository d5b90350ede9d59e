#pragma once
#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "ringtrue/model/condition.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_wiring.hpp"

namespace ringtrue::testing {

/// A reading in words, and what the meter showed: `beep`, `open`, or a value in ohms.
struct OracleReading {
  std::string from, to, condition;
  ValueKind kind = ValueKind::beep;
  double ohms = 0;
};

/// One revision, asked by names alone.
class OracleRevision {
 public:
  /// What the reading sees here.
  struct Seen {
    bool can_beep = false, can_be_silent = false, is_one_net = false, touches_net = false;
    double lowest = 0, highest = 0;
    std::set<std::string> on_nets;
    std::multiset<std::string> proven;
    std::optional<bool> is_same_without_touched;
  };

  /// Nothing where only ohms tell, and they differ by no more than what the oracle takes for no ohms at all.
  static std::optional<bool> is_same(const Seen& x, const Seen& y) {
    const auto differs = [](double a, double b, double share) {
      if (std::isinf(a) || std::isinf(b)) return a != b;
      return std::abs(a - b) > share * std::max(std::abs(a), 0.1);
    };
    if (x.can_beep != y.can_beep || x.can_be_silent != y.can_be_silent || x.is_one_net != y.is_one_net ||
        x.proven != y.proven || differs(x.lowest, y.lowest, 1e-4) || differs(x.highest, y.highest, 1e-4))
      return false;
    if (differs(x.lowest, y.lowest, 1e-10) || differs(x.highest, y.highest, 1e-10)) return std::nullopt;
    return true;
  }

  explicit OracleRevision(const Netlist& net) : net_(net), wiring_(net) {}

  /// A name for each row that is the same wherever the row says the same but for its number.
  [[nodiscard]] std::multiset<std::string> conductors() const {
    std::multiset<std::string> all;
    for (const Conductor& c : net_.conductors)
      all.insert(ends(c.from, c.to) + " " + std::string(word(c.kind)));
    return all;
  }
  /// Rows of parts: name and ends, then kind and value.
  [[nodiscard]] std::set<std::pair<std::string, std::string>> parts() const {
    std::set<std::pair<std::string, std::string>> all;
    for (const Part& part : net_.parts)
      all.insert({std::string(part.part) + " " + ends(part.a, part.b),
                  std::string(word(part.kind)) + " " + std::to_string(part.ohms)});
    return all;
  }
  [[nodiscard]] const Netlist& net() const { return net_; }

  void touch(const std::set<std::string>& points) { touched_ = points; }
  [[nodiscard]] bool has_point(const std::string& name) const {
    for (std::uint32_t p = 0; p < net_.points.size(); ++p)
      if (net_.points.name(PointId{p}) == name) return true;
    return false;
  }

  [[nodiscard]] Seen seen(const OracleReading& reading) const {
    const ConductionGraph graph(net_);
    const auto parsed = parse_condition(reading.condition, net_);
    if (!parsed) throw std::logic_error("not a condition here: " + reading.condition);
    const ConditionOverlay made = overlay_of(*parsed, graph);
    const OracleCondition condition(reading.condition, made, net_);
    const std::uint32_t from = number(reading.from, made), to = number(reading.to, made);

    Seen result = shown(wiring_, condition, from, to, reading.kind);
    const OracleReadings all(wiring_, condition);
    for (std::uint32_t p = 0; p < net_.points.size(); ++p) {
      if (all.nets()[p] != all.nets()[from] && all.nets()[p] != all.nets()[to]) continue;
      result.on_nets.insert(net_.points.name(PointId{p}));
      result.touches_net = result.touches_net || touched_.count(net_.points.name(PointId{p})) != 0;
    }
    OracleWiring without = wiring_;
    for (std::uint32_t i = 0; i < wiring_.items().size(); ++i)
      if (is_touched(wiring_.items()[i].a) || is_touched(wiring_.items()[i].b))
        without.break_element(ElementId{i});
    result.is_same_without_touched = is_same(shown(without, condition, from, to, reading.kind), result);
    if (reading.kind == ValueKind::beep && result.can_beep && !result.can_be_silent)
      for (std::uint32_t i = 0; i < wiring_.items().size(); ++i) {
        OracleWiring broken = wiring_;
        broken.break_element(ElementId{i});
        if (!OracleReadings(broken, condition).can_beep(from, to, k_limit)) result.proven.insert(name_of(i));
      }
    return result;
  }

  static constexpr double k_limit = 30;

 private:
  [[nodiscard]] static Seen shown(const OracleWiring& wiring, const OracleCondition& condition,
                                  std::uint32_t from, std::uint32_t to, ValueKind kind) {
    const OracleReadings all(wiring, condition);
    Seen result;
    result.is_one_net = all.nets()[from] == all.nets()[to];
    result.can_beep = all.can_beep(from, to, k_limit);
    result.can_be_silent = all.can_be_silent(from, to, k_limit);
    if (kind == ValueKind::ohms) result.lowest = all.lowest(from, to), result.highest = all.highest(from, to);
    return result;
  }
  [[nodiscard]] std::string ends(PointId a, PointId b) const {
    const std::string x = net_.points.name(a), y = net_.points.name(b);
    return std::min(x, y) + " " + std::max(x, y);
  }
  [[nodiscard]] bool is_touched(std::uint32_t p) const {
    return touched_.count(net_.points.name(PointId{p})) != 0;
  }
  [[nodiscard]] std::string name_of(std::uint32_t item) const {
    return ends(PointId{wiring_.items()[item].a}, PointId{wiring_.items()[item].b});
  }
  [[nodiscard]] std::uint32_t number(const std::string& name, const ConditionOverlay& made) const {
    if (name.find('@') != std::string::npos) return index(made.lifted.at(0).loose);
    return index(point(net_, name));
  }

  const Netlist& net_;
  OracleWiring wiring_;
  std::set<std::string> touched_;
};

/// Clamps that the change from one netlist to the other opens, by name: at the ends of conductors that only
/// one of them has, at parts that only one has, and all over parts that are another kind or value.
inline std::set<std::string> opened_between(const OracleRevision& before, const OracleRevision& after) {
  std::set<std::string> opened;
  const auto add_ends = [&](const std::string& text, std::size_t first) {
    std::istringstream in(text);
    std::string word_of;
    for (std::size_t i = 0; in >> word_of; ++i)
      if (i == first || i == first + 1) opened.insert(word_of);
  };
  const auto only_in = [](const auto& x, const auto& y) {
    std::vector<typename std::decay_t<decltype(x)>::value_type> rows;
    std::set_difference(x.begin(), x.end(), y.begin(), y.end(), std::back_inserter(rows));
    return rows;
  };
  for (const auto& [x, y] : {std::pair(&before, &after), std::pair(&after, &before)}) {
    for (const std::string& row : only_in(x->conductors(), y->conductors())) add_ends(row, 0);
    for (const auto& [place, make] : only_in(x->parts(), y->parts())) {
      add_ends(place, 1);
      const auto others = y->parts();
      const bool is_elsewhere =
          std::any_of(others.begin(), others.end(), [&](const auto& other) { return other.first == place; });
      const std::string part = place.substr(0, place.find(' '));
      if (!is_elsewhere || part.find(':') != std::string::npos) continue;
      for (std::uint32_t p = 0; p < x->net().points.size(); ++p)
        if (x->net().points.name(PointId{p}).rfind(part + ":", 0) == 0)
          opened.insert(x->net().points.name(PointId{p}));
    }
  }
  return opened;
}

}  // namespace ringtrue::testing
