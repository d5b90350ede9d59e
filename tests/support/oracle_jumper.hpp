#pragma once
#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "ringtrue/model/netlist.hpp"

namespace ringtrue::testing {

/// The rules on jumpers once more, from the rows of the netlist alone: an edge per row, every set of nets
/// merged from scratch, no graph of the library.
class OracleJumper {
 public:
  struct Edge {
    std::string a, b;
    bool is_contact = false, is_diode = false, has_role = false, is_closed_at_rest = true;
  };
  using Labels = std::map<std::string, std::size_t>;

  explicit OracleJumper(const Netlist& net, double most_volts = 60) : net_(net), most_(most_volts) {
    for (std::uint32_t i = 0; i < net.points.size(); ++i) names_.push_back(net.points.name(PointId{i}));
    read_rows();
    const auto open = [](const Edge& e) { return !e.has_role && !e.is_diode && !e.is_contact; };
    steady_ = labels(open);
    closed_ = labels([](const Edge& e) { return !e.has_role && !e.is_diode; });
    diodes_ = labels([](const Edge& e) { return !e.has_role; });
    rest_ = labels([](const Edge& e) { return !e.is_diode && e.is_closed_at_rest; });
    beyond_ = labels([&](const Edge& e) {
      return !e.has_role && !e.is_diode && !(e.is_contact && (is_potential(e.a) || is_potential(e.b)));
    });
    for (const Edge& e : edges_) {
      if (e.has_role || (!e.is_contact && !e.is_diode)) continue;
      beside_[steady_.at(e.a)].insert(steady_.at(e.b));
      beside_[steady_.at(e.b)].insert(steady_.at(e.a));
    }
    read_lives();
    look_up();
  }

  [[nodiscard]] const std::vector<Edge>& edges() const { return edges_; }
  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }
  [[nodiscard]] const std::vector<std::pair<std::string, std::string>>& role_pins() const {
    return role_pins_;
  }

  /// Points of outputs and of analog loops that may be fed.
  [[nodiscard]] const std::vector<std::string>& driven() const { return driven_; }

  /// Points that bring a potential, with its name.
  [[nodiscard]] std::vector<std::pair<std::string, std::string>> live_points() const {
    std::vector<std::pair<std::string, std::string>> all;
    for (const Live& live : lives_) all.emplace_back(live.point, live.name);
    return all;
  }

  /// By point: the number of the first point that it is joined to by edges that `counts`.
  [[nodiscard]] Labels labels(const std::function<bool(const Edge&)>& counts) const {
    std::map<std::string, std::vector<std::string>> beside;
    for (const Edge& e : edges_)
      if (counts(e)) beside[e.a].push_back(e.b), beside[e.b].push_back(e.a);
    Labels label;
    for (std::size_t i = 0; i < names_.size(); ++i) {
      if (!label.emplace(names_[i], i).second) continue;
      for (std::vector<std::string> todo = {names_[i]}; !todo.empty();) {
        const std::string at = todo.back();
        todo.pop_back();
        for (const std::string& next : beside[at])
          if (label.emplace(next, i).second) todo.push_back(next);
      }
    }
    return label;
  }

  /// Ids of the reasons for which a jumper between the two is refused.
  [[nodiscard]] std::set<std::string> refusals(const std::string& from, const std::string& to) const {
    const At &a = at_.at(from), &b = at_.at(to);
    std::set<std::string> ids;
    if (a.steady != b.steady) {
      if (joins_potentials(a, b)) ids.insert("joins-potentials");
      for (const auto& [p, q] : role_pins_at_)
        if (joins_newly(a, b, p, q)) ids.insert("joins-role-pins");
      if (a.rest == b.rest) ids.insert("across-closed-contact");
    }
    bool is_any = false;
    for (const At& end : {a, b}) {
      for (const auto& [p, q] : role_pins_at_)
        if (!end.is_potential && (end.beyond == p.beyond || end.beyond == q.beyond))
          ids.insert("on-role-net");
      for (const At& point : driven_at_)
        if (end.beyond == point.beyond) ids.insert("on-driven-net");
      for (const Live& live : lives_) {
        if (live.at.closed != end.closed) continue;
        is_any = true;
        if (live.kind == "unknown") ids.insert("potential-unknown");
        if (live.kind == "not dc") ids.insert("potential-not-dc");
        if (live.kind == "dc" && std::isnan(live.volts)) ids.insert("potential-unknown");
        if (live.kind == "dc" && std::abs(live.volts) > most_) ids.insert("potential-above-limit");
      }
    }
    if (!is_any) ids.insert("potential-unknown");
    return ids;
  }

  /// The same for a channel's own jumper.
  [[nodiscard]] std::set<std::string> channel_refusals(const Channel& channel) const {
    std::set<std::string> ids;
    const bool has_field = channel.field != PointId::none, has_return = channel.return_point != PointId::none;
    if (has_field && has_return) {
      ids = refusals(name(channel.return_point), name(channel.field));
      if (steady_.at(name(channel.return_point)) == steady_.at(name(channel.field)))
        ids.insert("terminals-joined");
    }
    if (channel.role != Role::none) ids.insert("channel-has-role");
    if (channel.sensor == Sensor::namur) ids.insert("namur-input");
    if (channel.sensor == Sensor::unknown || channel.sense == Sense::unknown || !has_field || !has_return)
      ids.insert("test-not-stated");
    if (channel.role == Role::none && is_wired(channel)) ids.insert("device-is-wired");
    return ids;
  }

  [[nodiscard]] std::string name(PointId p) const { return net_.points.name(p); }

 private:
  /// The nets of a point.
  struct At {
    std::size_t steady, closed, diodes, rest, beyond;
    bool is_potential;
    [[nodiscard]] auto key() const { return std::tuple(steady, closed, diodes, beyond); }
  };
  struct Live {
    std::string name, point, kind;
    double volts;
    At at = {};
  };

  /// Looks every point up once, and keeps one of those that are on the same nets.
  void look_up() {
    for (const std::string& p : names_)
      at_[p] = {steady_.at(p), closed_.at(p), diodes_.at(p), rest_.at(p), beyond_.at(p), is_potential(p)};
    const auto key = [&](const Live& live) { return std::tuple(live.name, live.kind, live.at.key()); };
    for (Live& live : lives_) live.at = at_.at(live.point);
    std::sort(lives_.begin(), lives_.end(), [&](const Live& x, const Live& y) { return key(x) < key(y); });
    lives_.erase(std::unique(lives_.begin(), lives_.end(),
                             [&](const Live& x, const Live& y) { return key(x) == key(y); }),
                 lives_.end());
    for (const auto& [p, q] : role_pins_) role_pins_at_.emplace_back(at_.at(p), at_.at(q));
    for (const std::string& p : driven_) driven_at_.push_back(at_.at(p));
  }

  void add(PointId a, PointId b, Role role, const Part* part = nullptr) {
    Edge edge{name(a), name(b)};
    edge.has_role = role != Role::none;
    if (part != nullptr) {
      edge.is_diode = part->kind == PartKind::diode;
      edge.is_contact = part->kind == PartKind::contact_no || part->kind == PartKind::contact_nc;
      const std::vector<int>& closed_in = part->closed_in;
      edge.is_closed_at_rest = part->place != PartPlace::field &&
                               (closed_in.empty() ? part->kind != PartKind::contact_no
                                                  : std::count(closed_in.begin(), closed_in.end(), 0) != 0);
    }
    edges_.push_back(edge);
    if (edge.has_role) role_pins_.emplace_back(edge.a, edge.b);
  }

  [[nodiscard]] bool is_in_field(PointId p) const {
    const std::string place(net_.points.place_name(net_.points.place(p)));
    return std::any_of(net_.parts.begin(), net_.parts.end(), [&](const Part& part) {
      return part.place == PartPlace::field && place.rfind(std::string(part.part) + ":", 0) == 0;
    });
  }

  void read_rows() {
    for (const Conductor& c : net_.conductors) {
      if (c.is_spare()) continue;
      add(c.from, c.to, c.role);
      edges_.back().is_closed_at_rest = !is_in_field(c.from) && !is_in_field(c.to);
    }
    for (const Part& part : net_.parts) {
      static const std::set<std::string> copper = {"terminal", "pe-terminal", "disconnect", "plug",
                                                   "fuse",     "breaker",     "isolator",   "path",
                                                   "diode",    "contact-no",  "contact-nc"};
      if (copper.count(std::string(word(part.kind))) != 0)
        add(part.a, part.b, part.role, &part);
      else if (part.role != Role::none)
        role_pins_.emplace_back(name(part.a), name(part.b));
      if (part.kind == PartKind::pe_terminal)
        add(part.a, net_.points.point(net_.points.find_place("PE").value(), Side::single), part.role);
    }
    for (const PlaceId place : net_.implied_terminals)
      add(net_.points.point(place, Side::internal), net_.points.point(place, Side::external), Role::none);
  }

  void read_lives() {
    const auto is_dark = [&](const std::string& point) {
      return std::none_of(lives_.begin(), lives_.end(),
                          [&](const Live& live) { return closed_.at(live.point) == closed_.at(point); });
    };
    std::map<std::string, const Potential*> declared;
    for (const Potential& potential : net_.potentials) {
      declared.emplace(potential.name, &potential);
      lives_.push_back(live(potential, name(potential.point)));
    }
    std::vector<Live> further;
    for (std::size_t i = 0; i < net_.conductors.size(); ++i) {
      const Conductor& c = net_.conductors[i];
      const std::string label(net_.conductor_text.get(ConductorText::potential, i));
      if (label.empty() || c.is_spare()) continue;
      for (const PointId end : {c.from, c.to}) {
        if (declared.count(label) != 0)
          lives_.push_back(live(*declared.at(label), name(end)));
        else
          further.push_back({label, name(end), "unknown", 0});
      }
    }
    keep(further, is_dark);
    further.clear();
    for (const Part& part : net_.parts)
      if (part.kind == PartKind::supply || part.kind == PartKind::input || part.kind == PartKind::transformer)
        for (const PointId pin : {part.a, part.b}) further.push_back({name(pin), name(pin), "unknown", 0});
    keep(further, is_dark);
    for (const Channel& channel : net_.channels) {
      const auto pins = [&](PointId a, PointId b) {
        const PointId first = a == PointId::none ? b : a, second = b == PointId::none ? a : b;
        if (first != PointId::none) role_pins_.emplace_back(name(first), name(second));
      };
      if (channel.role != Role::none) {
        pins(channel.point, channel.common);
        pins(channel.field, channel.return_point);
      }
      const bool is_fed = channel.type == ChannelType::DO || channel.type == ChannelType::AO ||
                          (channel.type == ChannelType::AI && channel.feed != Feed::passive);
      if (!is_fed) continue;
      for (const PointId p : {channel.point, channel.field})
        if (p != PointId::none) driven_.push_back(name(p));
      for (const PointId p : {channel.return_point, channel.common})
        if (p != PointId::none && !is_potential(name(p))) driven_.push_back(name(p));
    }
  }

  template <class IsDark>
  void keep(const std::vector<Live>& further, IsDark is_dark) {
    std::vector<Live> kept;
    std::copy_if(further.begin(), further.end(), std::back_inserter(kept),
                 [&](const Live& one) { return is_dark(one.point); });
    lives_.insert(lives_.end(), kept.begin(), kept.end());
  }

  static Live live(const Potential& potential, const std::string& point) {
    const bool is_dc = potential.kind == PotentialKind::dc_plus || potential.kind == PotentialKind::dc_minus;
    return {std::string(potential.name), point, is_dc ? "dc" : "not dc", potential.volts};
  }

  [[nodiscard]] bool is_potential(const std::string& point) const {
    return std::any_of(net_.potentials.begin(), net_.potentials.end(), [&](const Potential& potential) {
      return steady_.at(name(potential.point)) == steady_.at(point);
    });
  }

  /// Some contacts and diodes, closed by themselves, lead from the one end to p and from the other to q,
  /// apart from each other: no single net, taken away, parts both ends from both (Menger). Every net is
  /// tried.
  [[nodiscard]] bool joins_newly(const At& a, const At& b, const At& p, const At& q) const {
    if (a.steady == b.steady || p.steady == q.steady) return false;
    for (const At& pin : {p, q})
      if (pin.diodes != a.diodes && pin.diodes != b.diodes) return false;
    for (std::size_t net = 0; net < names_.size(); ++net)
      if (steady_.at(names_[net]) == net && !leads(a, b, p, q, net)) return false;
    return leads(a, b, p, q, names_.size());
  }

  [[nodiscard]] bool leads(const At& a, const At& b, const At& p, const At& q, std::size_t without) const {
    std::set<std::size_t> met = {a.steady, b.steady};
    met.erase(without);
    std::vector<std::size_t> todo(met.begin(), met.end());
    while (!todo.empty()) {
      const std::size_t at = todo.back();
      todo.pop_back();
      if (at == p.steady || at == q.steady) return true;
      if (const auto beside = beside_.find(at); beside != beside_.end())
        for (const std::size_t next : beside->second)
          if (next != without && met.insert(next).second) todo.push_back(next);
    }
    return false;
  }

  [[nodiscard]] bool joins_potentials(const At& a, const At& b) const {
    for (const Live& p : lives_)
      for (const Live& q : lives_)
        if (p.name != q.name && joins_newly(a, b, p.at, q.at)) return true;
    return false;
  }

  [[nodiscard]] bool is_wired(const Channel& channel) const {
    bool is_across = false, is_across_role = false, is_named = false, is_field = false;
    for (const Part& part : net_.parts) {
      if (part.part == channel.device) {
        is_named = true;
        is_field = is_field || part.place == PartPlace::field;
      }
      const bool is_contact = part.kind == PartKind::contact_no || part.kind == PartKind::contact_nc;
      if (!is_contact || part.place == PartPlace::field || is_across || channel.field == PointId::none ||
          channel.return_point == PointId::none)
        continue;
      const std::pair ends{steady_.at(name(channel.return_point)), steady_.at(name(channel.field))};
      const std::pair pins{steady_.at(name(part.a)), steady_.at(name(part.b))};
      if (pins == ends || pins == std::pair{ends.second, ends.first})
        is_across = true, is_across_role = part.role != Role::none;
    }
    return is_across ? !is_across_role : is_named && !is_field;
  }

  const Netlist& net_;
  double most_;
  std::vector<std::string> names_, driven_;
  std::vector<Edge> edges_;
  std::vector<Live> lives_;
  std::vector<std::pair<std::string, std::string>> role_pins_;
  std::map<std::size_t, std::set<std::size_t>> beside_;  ///< steady nets with a contact or diode between them
  Labels steady_, closed_, diodes_, rest_, beyond_;
  std::map<std::string, At> at_;
  std::vector<std::pair<At, At>> role_pins_at_;
  std::vector<At> driven_at_;
};

}  // namespace ringtrue::testing
