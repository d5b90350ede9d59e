// Goal::identify. A wire landed elsewhere parts its net like a break, unless it lands on the same net, beyond
// a fuse, a link or a contact; so the copper of a net is read piece by piece while all of these are open.
// What that leaves is found by trying every fault (diagnose/certificate.hpp), and the readings proposed there
// are added.
#include <algorithm>

#include "planner.hpp"
#include "ringtrue/expect/openers.hpp"

namespace ringtrue {

namespace {

void add_setting(const std::string& setting, std::vector<std::string>& settings) {
  if (std::find(settings.begin(), settings.end(), setting) == settings.end()) settings.push_back(setting);
}

}  // namespace

/// Fuses out, breakers off, links open, plugs pulled; and loads unplugged, at least those that a buzzer's
/// current could pass.
PlanCondition Planner::prepared(Pulled pulled) const {
  Parting all;
  for (std::uint32_t i = graph_.conductor_count(); i < graph_.element_count(); ++i) {
    const ElementId e{i};
    if (!graph_.is_on_at_rest(e)) continue;
    const bool is_load_in_the_way =
        !graph_.is_hard(e) &&
        (pulled == Pulled::every_load || graph_.interval(e).lo <= beep_limit(options_.meter) ||
         graph_.interval(e).hi == k_infinite_ohms);
    if (graph_.kind(e) != ElementKind::breakable && !is_load_in_the_way) continue;
    const std::vector<std::string> settings = settings_that_open(e, graph_, {});
    if (!settings.empty()) add_setting(settings.back(), all.pulled);
  }
  return condition_of(all, graph_);
}

void Planner::cover_prepared() {
  const PlanCondition before = prepared(Pulled::what_may_beep);
  if (before.text.empty()) return;
  cover_pieces(before, plan_.conditions.front());
  for (const ElementId contact : graph_.contacts()) {
    if (!graph_.is_on_at_rest(contact)) continue;
    const Part& part = graph_.netlist().parts[graph_.origin(contact).row];
    const std::string operated =
        std::string(part.actuated_by.empty() ? part.part : part.actuated_by) + "=operated";
    const std::string text = before.text + "; " + operated;
    if (condition_of_text_.count(text) != 0) continue;
    if (const auto parsed = parse_condition(text, graph_.netlist()))
      cover_pieces({text, overlay_of(*parsed, graph_)}, before);
  }
}

/// The conductors of nets that the condition parts further than the one before it.
void Planner::cover_pieces(PlanCondition made, const PlanCondition& before) {
  const View view(graph_, made.made.overlay), view_before(graph_, before.made.overlay);
  std::vector<bool> is_parted(graph_.net_count(), false);
  for (const ElementChange& change : made.made.overlay.changes()) {
    const ElementId e = change.element;
    if (graph_.is_hard(e) && view_before.is_on(e) && !view.is_on(e) &&
        view.net(graph_.end_a(e)) != view.net(graph_.end_b(e)))
      is_parted[index(graph_.net_at_rest(graph_.end_a(e)))] = true;
  }
  std::vector<PointId> points;
  for (std::uint32_t net = 0; net < graph_.net_count(); ++net)
    if (is_parted[net]) {
      const auto of_net = graph_.points_of_net(NetId{net});
      points.insert(points.end(), of_net.begin(), of_net.end());
    }
  if (points.empty()) return;
  std::vector<std::uint8_t> wanted(graph_.element_count(), 0);
  for (const PointId p : points)
    for (const ElementId e : graph_.elements_at(p))
      if (view.is_on(e) && (is_wanted(e) || (graph_.is_conductor(e) && graph_.is_hard(e))))
        wanted[index(e)] = 1;
  const std::uint32_t number = condition(std::move(made));
  const View under(graph_, plan_.conditions[number].made.overlay);
  const Cover cover(under, points, wanted, spare_number_of_);
  add(number, under, cover, cover.readings());
}

void Planner::identify() {
  const Readings readings = as_readings(plan_, graph_);
  const auto comparison = compare(graph_, readings, {}, {}, options_.meter);
  if (!comparison) return;
  CertifyOptions asked;
  asked.comes_first = [this](const Fault& fault) {
    switch (fault.kind) {
      case FaultKind::miswire:
      case FaultKind::swap:
      case FaultKind::shift:
      case FaultKind::extra_bridge:
        return true;
      case FaultKind::short_circuit: {
        const auto& beside = graph_.beside(fault.p);
        return beside[0] == fault.q || beside[1] == fault.q;
      }
      default:
        return false;
    }
  };
  asked.first_only = true;
  std::vector<bool> is_asked_for;
  asked.each = [&](const CertifiedFault& one) {
    if (one.fate != Fate::left_out) return;
    if (is_asked_for.size() <= one.proposed) is_asked_for.resize(one.proposed + 1, false);
    is_asked_for[one.proposed] = true;
  };
  const Certificate certificate = certify(graph_, readings, *comparison, asked);
  for (std::size_t i = 0; i < is_asked_for.size(); ++i)
    if (is_asked_for[i]) add_proposed(certificate.proposed[i], readings.conditions);
}

void Planner::add_proposed(const ProposedReading& proposed, const std::vector<std::string>& conditions) {
  PlannedReading reading;
  reading.from = proposed.from, reading.to = proposed.to;
  reading.condition = condition_of_text_.at(conditions[proposed.condition]);
  reading.expected = proposed.expected == ValueKind::beep   ? Expected::beep
                     : proposed.expected == ValueKind::open ? Expected::open
                                                            : Expected::ohms;
  reading.polarity_matters = graph_.has_diodes();
  if (reading.expected == Expected::ohms) {
    const View view(graph_, plan_.conditions[reading.condition].made.overlay);
    Probing probing;
    probing.from = reading.from, probing.to = reading.to;
    probing.method = Method::ohms;
    reading.ohms = shown_ohms(expected_resistance(view, probing), options_.meter);
  }
  plan_.readings.push_back(std::move(reading));
}

}  // namespace ringtrue
