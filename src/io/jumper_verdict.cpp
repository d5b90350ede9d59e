#include "ringtrue/io/jumper_verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <unordered_map>

#include "live_nets.hpp"
#include "new_joins.hpp"
#include "path_proof.hpp"
#include "ringtrue/io/supplies.hpp"
#include "switched_copper.hpp"

namespace ringtrue {

using io::LiveNets;
using io::SwitchedCopper;

std::string_view word(JumperAnswer answer) {
  static constexpr std::array<std::string_view, 3> k_words = {"refused", "hold", "offered"};
  return k_words[static_cast<std::size_t>(answer)];
}

std::string_view word(JumperReason reason) {
  static constexpr std::array<std::string_view, 20> k_words = {"joins-potentials",
                                                               "joins-role-pins",
                                                               "on-role-net",
                                                               "on-driven-net",
                                                               "channel-has-role",
                                                               "namur-input",
                                                               "test-not-stated",
                                                               "potential-not-dc",
                                                               "potential-unknown",
                                                               "potential-above-limit",
                                                               "across-closed-contact",
                                                               "device-is-wired",
                                                               "terminals-joined",
                                                               "no-channel",
                                                               "path-does-not-conduct",
                                                               "sense-does-not-fit",
                                                               "two-supplies",
                                                               "finding-open",
                                                               "not-proven",
                                                               "safety-not-stated"};
  return k_words[static_cast<std::size_t>(reason)];
}

bool is_refusal(JumperReason reason) { return reason < JumperReason::no_channel; }

bool JumperVerdict::has(JumperReason reason) const {
  return std::any_of(why.begin(), why.end(), [&](const WhyJumper& w) { return w.reason == reason; });
}

class JumperJudge::Impl {
 public:
  Impl(const ConductionGraph& graph, JumperOptions options);

  [[nodiscard]] JumperVerdict between(PointId a, PointId b) const;
  [[nodiscard]] JumperVerdict for_channel(const ChannelTrace& trace, const Findings* findings) const;
  [[nodiscard]] ElementId wired_contact(const Channel& channel) const;
  [[nodiscard]] const SwitchedCopper& copper() const { return copper_; }

 private:
  using Why = std::vector<WhyJumper>;
  /// Two pins of something with a role.
  struct RolePins {
    PointId a, b;
    ElementId element;  ///< `none` for a channel
    std::string name;
  };
  void note_roles();
  void note_driven();
  void note_contacts();

  // Each adds its reason where it holds.
  void refuse_between(PointId a, PointId b, Why& why) const;
  void joins_potentials(PointId a, PointId b, const io::NewJoins::Lead& lead, Why& why) const;
  void joins_role_pins(const io::NewJoins::Lead& lead, Why& why) const;
  void on_role_net(PointId a, PointId b, Why& why) const;
  void on_driven_net(PointId a, PointId b, Why& why) const;
  void on_other_than_low_dc(PointId a, PointId b, Why& why) const;
  void across_closed_contact(PointId a, PointId b, Why& why) const;
  void device_is_wired(const Channel& channel, Why& why) const;
  void hold_by_path(const ChannelTrace& trace, Why& why) const;
  void hold_by_sense(const Channel& channel, Why& why) const;
  void hold_by_readings(const ChannelTrace& trace, const Findings* findings, Why& why) const;
  [[nodiscard]] JumperVerdict verdict(Why why) const;

  const ConductionGraph& graph_;
  JumperOptions options_;
  std::unordered_map<NetId, std::vector<ElementId>> contacts_;  ///< in panel and door, by steady net
  SwitchedCopper copper_;
  io::NewJoins new_joins_;
  LiveNets lives_;
  std::vector<RolePins> roles_;
  std::unordered_map<NetId, std::vector<std::size_t>>
      roles_beyond_;                                         ///< by net beyond potentials: into `roles_`
  std::unordered_map<NetId, std::set<std::string>> driven_;  ///< by net beyond potentials: channels
};

namespace {

std::string name_of(const Channel& channel, const PointTable& points) { return points.name(channel.point); }

void add(std::vector<WhyJumper>& why, JumperReason reason, const std::set<std::string>& names,
         std::vector<ElementId> elements = {}) {
  std::sort(elements.begin(), elements.end());
  elements.erase(std::unique(elements.begin(), elements.end()), elements.end());
  if (!names.empty() || !elements.empty())
    why.push_back({reason, {names.begin(), names.end()}, std::move(elements)});
}

}  // namespace

JumperJudge::Impl::Impl(const ConductionGraph& graph, JumperOptions options)
    : graph_(graph),
      options_(std::move(options)),
      copper_(graph),
      new_joins_(graph, copper_),
      lives_(graph, copper_) {
  options_.most_volts = std::min(options_.most_volts, k_most_jumper_volts);
  note_roles();
  note_driven();
  note_contacts();
}

void JumperJudge::Impl::note_contacts() {
  const std::vector<Part>& parts = graph_.netlist().parts;
  for (std::uint32_t i = 0; i < parts.size(); ++i) {
    const ElementId e = graph_.element_of_part(i);
    if (graph_.kind(e) != ElementKind::contact || parts[i].place == PartPlace::field) continue;
    for (const PointId pin : {parts[i].a, parts[i].b}) contacts_[copper_.steady(pin)].push_back(e);
  }
}

void JumperJudge::Impl::note_roles() {
  for (std::uint32_t i = 0; i < graph_.element_count(); ++i) {
    const ElementId e{i};
    if (graph_.origin(e).from == ElementOrigin::From::channel || io::role_of(e, graph_) == Role::none)
      continue;
    roles_.push_back({graph_.end_a(e), graph_.end_b(e), e, {}});
  }
  const Netlist& netlist = graph_.netlist();
  for (const Channel& channel : netlist.channels) {
    if (channel.role == Role::none) continue;
    const auto pins = [&](PointId a, PointId b) {
      if (a == PointId::none) a = b;
      if (b == PointId::none) b = a;
      if (a != PointId::none) roles_.push_back({a, b, ElementId::none, name_of(channel, netlist.points)});
    };
    pins(channel.point, channel.common);
    pins(channel.field, channel.return_point);
  }
  for (std::size_t i = 0; i < roles_.size(); ++i)
    for (const PointId pin : {roles_[i].a, roles_[i].b})
      roles_beyond_[copper_.beyond_potentials(pin)].push_back(i);
}

void JumperJudge::Impl::note_driven() {
  const Netlist& netlist = graph_.netlist();
  for (const Channel& channel : netlist.channels) {
    const bool is_output = channel.type == ChannelType::DO || channel.type == ChannelType::AO;
    const bool may_be_fed = channel.type == ChannelType::AI && channel.feed != Feed::passive;
    if (!is_output && !may_be_fed) continue;
    const std::string name = name_of(channel, netlist.points);
    for (const PointId p : {channel.point, channel.field})
      if (p != PointId::none) driven_[copper_.beyond_potentials(p)].insert(name);
    // What it returns to is its own only where that isn't everybody's potential.
    for (const PointId p : {channel.return_point, channel.common})
      if (p != PointId::none && !copper_.is_on_potential(p))
        driven_[copper_.beyond_potentials(p)].insert(name);
  }
}

void JumperJudge::Impl::refuse_between(PointId a, PointId b, Why& why) const {
  const io::NewJoins::Lead lead(new_joins_, a, b);
  joins_potentials(a, b, lead, why);
  joins_role_pins(lead, why);
  on_role_net(a, b, why);
  on_driven_net(a, b, why);
  on_other_than_low_dc(a, b, why);
  across_closed_contact(a, b, why);
}

void JumperJudge::Impl::joins_potentials(PointId a, PointId b, const io::NewJoins::Lead& lead,
                                         Why& why) const {
  std::set<std::string> names;
  std::vector<LiveNets::Place> all = lives_.on_diodes(copper_.with_diodes(a));
  if (copper_.with_diodes(a) != copper_.with_diodes(b)) {
    const auto& beside = lives_.on_diodes(copper_.with_diodes(b));
    all.insert(all.end(), beside.begin(), beside.end());
  }
  for (const LiveNets::Place& p : all)
    for (const LiveNets::Place& q : all)
      if (p.live < q.live && lead.joins(p.point, q.point))
        names.insert({lives_.live(p.live).name, lives_.live(q.live).name});
  add(why, JumperReason::joins_potentials, names);
}

void JumperJudge::Impl::joins_role_pins(const io::NewJoins::Lead& lead, Why& why) const {
  std::set<std::string> names;
  std::vector<ElementId> elements;
  for (const RolePins& role : roles_) {
    if (!lead.joins(role.a, role.b)) continue;
    if (role.element != ElementId::none)
      elements.push_back(role.element);
    else
      names.insert(role.name);
  }
  add(why, JumperReason::joins_role_pins, names, std::move(elements));
}

void JumperJudge::Impl::on_role_net(PointId a, PointId b, Why& why) const {
  std::set<std::string> names;
  std::vector<ElementId> elements;
  for (const PointId end : {a, b}) {
    if (copper_.is_on_potential(end)) continue;
    const auto at = roles_beyond_.find(copper_.beyond_potentials(end));
    if (at == roles_beyond_.end()) continue;
    for (const std::size_t i : at->second) {
      if (roles_[i].element != ElementId::none)
        elements.push_back(roles_[i].element);
      else
        names.insert(roles_[i].name);
    }
  }
  add(why, JumperReason::on_role_net, names, std::move(elements));
}

void JumperJudge::Impl::on_driven_net(PointId a, PointId b, Why& why) const {
  std::set<std::string> names;
  for (const PointId end : {a, b})
    if (const auto at = driven_.find(copper_.beyond_potentials(end)); at != driven_.end())
      names.insert(at->second.begin(), at->second.end());
  add(why, JumperReason::on_driven_net, names);
}

void JumperJudge::Impl::on_other_than_low_dc(PointId a, PointId b, Why& why) const {
  std::set<std::string> not_dc, unknown, above;
  bool is_any = false;
  for (const PointId end : {a, b})
    for (const LiveNets::Place& place : lives_.on_closed(copper_.closed(end))) {
      is_any = true;
      const io::Live& live = lives_.live(place.live);
      const Potential* declared = live.declared;
      const bool is_dc = declared != nullptr && (declared->kind == PotentialKind::dc_plus ||
                                                 declared->kind == PotentialKind::dc_minus);
      if (declared == nullptr)
        unknown.insert(live.name);
      else if (!is_dc)
        not_dc.insert(live.name);
      else if (std::isnan(declared->volts))
        unknown.insert(live.name);
      else if (std::abs(declared->volts) > options_.most_volts)
        above.insert(live.name);
    }
  add(why, JumperReason::potential_not_dc, not_dc);
  if (!is_any)
    why.push_back({JumperReason::potential_unknown, {}, {}});
  else
    add(why, JumperReason::potential_unknown, unknown);
  add(why, JumperReason::potential_above_limit, above);
}

void JumperJudge::Impl::across_closed_contact(PointId a, PointId b, Why& why) const {
  if (graph_.net_at_rest(a) == graph_.net_at_rest(b) && copper_.steady(a) != copper_.steady(b))
    why.push_back({JumperReason::across_closed_contact, {}, {}});
}

ElementId JumperJudge::Impl::wired_contact(const Channel& channel) const {
  if (channel.field == PointId::none || channel.return_point == PointId::none) return ElementId::none;
  const NetId back = copper_.steady(channel.return_point), field = copper_.steady(channel.field);
  const auto at = contacts_.find(field);
  if (at == contacts_.end()) return ElementId::none;
  for (const ElementId e : at->second) {
    const NetId a = copper_.steady(graph_.end_a(e)), b = copper_.steady(graph_.end_b(e));
    if ((a == back && b == field) || (a == field && b == back)) return e;
  }
  return ElementId::none;
}

void JumperJudge::Impl::device_is_wired(const Channel& channel, Why& why) const {
  const Netlist& netlist = graph_.netlist();
  if (channel.role != Role::none) return;  // nothing of it is to be operated for a test of inputs
  const auto rows = netlist.parts_named(channel.device);
  const bool is_here = !rows.empty() && std::all_of(rows.begin(), rows.end(), [&](std::uint32_t row) {
    return netlist.parts[row].place != PartPlace::field;
  });
  const ElementId contact = wired_contact(channel);
  if (contact != ElementId::none && io::role_of(contact, graph_) == Role::none)
    why.push_back({JumperReason::device_is_wired, {}, {contact}});
  else if (contact == ElementId::none && is_here)
    why.push_back({JumperReason::device_is_wired, {std::string(channel.device)}, {}});
}

void JumperJudge::Impl::hold_by_path(const ChannelTrace& trace, Why& why) const {
  std::set<std::string> stopping;
  std::vector<ElementId> open;
  const std::pair<const char*, const TracedPath*> paths[] = {
      {"signal", &trace.signal}, {"return", &trace.return_path}, {"common", &trace.common}};
  for (const auto& [name, path] : paths) {
    open.insert(open.end(), path->open_elements.begin(), path->open_elements.end());
    if (path->verdict == PathVerdict::stops || path->verdict == PathVerdict::no_target) stopping.insert(name);
  }
  add(why, JumperReason::path_does_not_conduct, stopping, std::move(open));
}

void JumperJudge::Impl::hold_by_sense(const Channel& channel, Why& why) const {
  const PotentialKind wanted =
      channel.sense == Sense::sink ? PotentialKind::dc_plus : PotentialKind::dc_minus;
  // What contacts may bring counts only where nothing is there for good.
  std::set<std::string> always, switched;
  bool is_right = false;
  for (const LiveNets::Place& place : lives_.on_closed(copper_.closed(channel.return_point))) {
    const Potential* const fed = lives_.live(place.live).declared;
    if (fed == nullptr) continue;
    const bool is_always = copper_.steady(place.point) == copper_.steady(channel.return_point);
    if (is_always && fed->kind == wanted) is_right = true;
    if (fed->kind != wanted) (is_always ? always : switched).insert(std::string(fed->name));
  }
  if (!is_right) always.merge(switched);
  add(why, JumperReason::sense_does_not_fit, always);
}

void JumperJudge::Impl::hold_by_readings(const ChannelTrace& trace, const Findings* findings,
                                         Why& why) const {
  if (findings != nullptr && trace.channel < findings->channels.size()) {
    const ChannelResult& result = findings->channels[trace.channel];
    if (result.state == ChannelState::faulty) why.push_back({JumperReason::finding_open, {}, {}});
    add(why, JumperReason::not_proven, {}, result.unproven_elements);
  } else {
    std::vector<ElementId> all;
    for (const TracedPath* path : {&trace.signal, &trace.return_path, &trace.common})
      all.insert(all.end(), path->elements.begin(), path->elements.end());
    add(why, JumperReason::not_proven, {}, std::move(all));
  }
  if (!why.empty() && why.back().reason == JumperReason::not_proven)
    io::say_what_to_read(graph_, trace, why.back());
}

JumperVerdict JumperJudge::Impl::verdict(Why why) const {
  std::stable_sort(why.begin(), why.end(),
                   [](const WhyJumper& x, const WhyJumper& y) { return x.reason < y.reason; });
  JumperVerdict made{JumperAnswer::offered, std::move(why), {}};
  if (made.why.empty()) return made;
  if (is_refusal(made.why.front().reason))
    made.answer = JumperAnswer::refused;
  else if (options_.unproven_by.empty() || made.has(JumperReason::no_channel))
    made.answer = JumperAnswer::hold;
  else
    made.unproven_by = options_.unproven_by;
  return made;
}

JumperVerdict JumperJudge::Impl::between(PointId a, PointId b) const {
  Why why;
  refuse_between(a, b, why);
  why.push_back({JumperReason::no_channel, {}, {}});
  return verdict(std::move(why));
}

JumperVerdict JumperJudge::Impl::for_channel(const ChannelTrace& trace, const Findings* findings) const {
  const Netlist& netlist = graph_.netlist();
  const Channel& channel = netlist.channels[trace.channel];
  Why why;
  if (channel.role != Role::none)
    why.push_back({JumperReason::channel_has_role, {std::string(word(channel.role))}, {}});
  if (channel.sensor == Sensor::namur) why.push_back({JumperReason::namur_input, {}, {}});
  std::set<std::string> missing;
  if (channel.sense == Sense::unknown) missing.insert("sense");
  if (channel.sensor == Sensor::unknown) missing.insert("sensor");
  if (channel.field == PointId::none) missing.insert("field");
  if (channel.return_point == PointId::none) missing.insert("return");
  add(why, JumperReason::test_not_stated, missing);

  if (channel.field != PointId::none && channel.return_point != PointId::none) {
    refuse_between(channel.return_point, channel.field, why);
    if (copper_.steady(channel.return_point) == copper_.steady(channel.field))
      why.push_back({JumperReason::terminals_joined, {}, {}});
  }
  device_is_wired(channel, why);
  hold_by_path(trace, why);
  if (channel.return_point != PointId::none && channel.sense != Sense::unknown) hold_by_sense(channel, why);
  if (are_on_two_supplies(channel.return_point, channel.common, graph_))
    why.push_back({JumperReason::two_supplies, {}, {}});
  hold_by_readings(trace, findings, why);
  if (netlist.panel.safety == Safety::not_stated) why.push_back({JumperReason::safety_not_stated, {}, {}});
  return verdict(std::move(why));
}

JumperJudge::JumperJudge(const ConductionGraph& graph, JumperOptions options)
    : impl_(std::make_unique<Impl>(graph, std::move(options))) {}
JumperJudge::~JumperJudge() = default;

JumperVerdict JumperJudge::between(PointId a, PointId b) const { return impl_->between(a, b); }

JumperVerdict JumperJudge::for_channel(const ChannelTrace& trace, const Findings* findings) const {
  return impl_->for_channel(trace, findings);
}

ElementId JumperJudge::wired_contact(const Channel& channel) const { return impl_->wired_contact(channel); }

bool JumperJudge::are_always_joined(PointId a, PointId b) const {
  return impl_->copper().steady(a) == impl_->copper().steady(b);
}

}  // namespace ringtrue
