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
  plan_.near_faults_only = has_very_many_faults(graph_);
  if (plan_.near_faults_only) return;
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
      if (view.is_on(e) && (is_wanted(e) || graph_.is_conductor(e))) wanted[index(e)] = 1;
  const std::uint32_t number = condition(std::move(made));
  const View under(graph_, plan_.conditions[number].made.overlay);
  leave_out_done(under, plan_.conditions[number].text, wanted);
  const Cover cover(under, points, wanted, spare_number_of_);
  add(number, under, cover, cover.readings());
}

/// What readings taken under the same condition went over before.
void Planner::leave_out_done(const View& view, const std::string& condition,
                             std::vector<std::uint8_t>& wanted) {
  if (done_.readings == nullptr) return;
  std::vector<PointId> probes;
  for (std::uint32_t i = 0; i < done_.readings->rows.size(); ++i) {
    const Probing& probing = done_.comparison->probings[i];
    const bool counts = done_.comparison->standing[i] == Standing::agrees &&
                        probing.value.kind == ValueKind::beep && !probing.from_either_side &&
                        !probing.to_either_side &&
                        done_.readings->conditions[done_.readings->rows[i].condition] == condition;
    if (counts) probes.insert(probes.end(), {probing.from, probing.to});
  }
  Numbering numbering(view, spare_number_of_);
  for (const PointId p : probes) numbering.add(p);
  for (std::size_t i = 0; i < probes.size(); i += 2) {
    std::uint32_t a = numbering.number(probes[i]), b = numbering.number(probes[i + 1]);
    while (a != b) {
      std::uint32_t& deeper = a > b ? a : b;
      const Numbering::Point& point = numbering.points()[deeper];
      if (point.by != ElementId::none && numbering.is_single(deeper)) wanted[index(point.by)] = 0;
      if (deeper == point.parent) break;  // of two nets
      deeper = point.parent;
    }
  }
  numbering.forget();
}

void Planner::identify() {
  const TakenAndPlanned all = taken_and_planned(done_, plan_, graph_);
  const Readings& readings = all.readings;
  const auto comparison = compare(graph_, readings, {}, options_.meters, options_.meter);
  if (!comparison) return;
  CertifyOptions asked;
  asked.planned_from = all.taken;
  asked.comes_first = [this](const Fault& fault) {
    switch (fault.kind) {
      case FaultKind::miswire:
      case FaultKind::swap:
        return !plan_.near_faults_only || is_near(fault, graph_);
      case FaultKind::shift:
      case FaultKind::extra_bridge:
        return true;
      case FaultKind::short_circuit:
        return is_near(fault, graph_);
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
  const std::string& text = conditions[proposed.condition];
  reading.condition =
      condition_of_text_.count(text) != 0
          ? condition_of_text_.at(text)
          : condition({text, overlay_of(parse_condition(text, graph_.netlist()).value(), graph_)});
  reading.expected = proposed.expected == ValueKind::beep   ? Expected::beep
                     : proposed.expected == ValueKind::open ? Expected::open
                                                            : Expected::ohms;
  const View view(graph_, plan_.conditions[reading.condition].made.overlay);
  Probing probing;
  if (reading.expected == Expected::ohms) {
    probing.from = reading.from, probing.to = reading.to;
    probing.method = Method::ohms;
    reading.ohms = shown_ohms(expected_resistance(view, probing), options_.meter);
  }
  if (reading.expected == Expected::open) {
    probing.from = reading.to, probing.to = reading.from;
    probing.value = {ValueKind::open, 0};
  }
  const bool is_silent_either_way =
      reading.expected == Expected::open && judge(view, probing, options_.meter) == Verdict::agrees;
  reading.polarity_matters = graph_.has_diodes() && !is_silent_either_way;
  plan_.readings.push_back(std::move(reading));
}

}  // namespace ringtrue
