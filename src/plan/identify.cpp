#include "identify.hpp"

#include <algorithm>
#include <functional>
#include <utility>

#include "loops.hpp"
#include "ringtrue/diagnose/certificate.hpp"
#include "ringtrue/expect/openers.hpp"

namespace ringtrue {

namespace {

void add_setting(const std::string& setting, std::vector<std::string>& settings) {
  if (std::find(settings.begin(), settings.end(), setting) == settings.end()) settings.push_back(setting);
}

/// What readings taken under the same condition went over before.
void leave_out_done(Draft& draft, const View& view, const std::string& condition,
                    std::vector<std::uint8_t>& wanted) {
  if (draft.done.readings == nullptr) return;
  std::vector<PointId> probes;
  for (std::uint32_t i = 0; i < draft.done.readings->rows.size(); ++i) {
    const Probing& probing = draft.done.comparison->probings[i];
    const bool counts = draft.done.comparison->standing[i] == Standing::agrees &&
                        probing.value.kind == ValueKind::beep && !probing.from_either_side &&
                        !probing.to_either_side &&
                        draft.done.readings->conditions[draft.done.readings->rows[i].condition] == condition;
    if (counts) probes.insert(probes.end(), {probing.from, probing.to});
  }
  Numbering numbering(view, draft.spare_number_of);
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

/// The conductors of nets that the condition parts further than the one before it.
void cover_pieces(Draft& draft, PlanCondition made, const PlanCondition& before) {
  const View view(draft.graph, made.made.overlay), view_before(draft.graph, before.made.overlay);
  std::vector<bool> is_parted(draft.graph.net_count(), false);
  for (const ElementChange& change : made.made.overlay.changes()) {
    const ElementId e = change.element;
    if (draft.graph.is_hard(e) && view_before.is_on(e) && !view.is_on(e) &&
        view.net(draft.graph.end_a(e)) != view.net(draft.graph.end_b(e)))
      is_parted[index(draft.graph.net_at_rest(draft.graph.end_a(e)))] = true;
  }
  std::vector<PointId> points;
  for (std::uint32_t net = 0; net < draft.graph.net_count(); ++net)
    if (is_parted[net]) {
      const auto of_net = draft.graph.points_of_net(NetId{net});
      points.insert(points.end(), of_net.begin(), of_net.end());
    }
  if (points.empty()) return;
  std::vector<std::uint8_t> wanted(draft.graph.element_count(), 0);
  for (const PointId p : points)
    for (const ElementId e : draft.graph.elements_at(p))
      if (view.is_on(e) && (draft.is_wanted(e) || draft.graph.is_conductor(e))) wanted[index(e)] = 1;
  const std::uint32_t number = draft.condition(std::move(made));
  const View under(draft.graph, draft.plan.conditions[number].made.overlay);
  leave_out_done(draft, under, draft.plan.conditions[number].text, wanted);
  const Cover cover(under, points, wanted, draft.spare_number_of);
  draft.add(number, under, cover, cover.readings());
}

void add_proposed(Draft& draft, const ProposedReading& proposed, const std::vector<std::string>& conditions) {
  PlannedReading reading;
  reading.from = proposed.from, reading.to = proposed.to;
  const std::string& text = conditions[proposed.condition];
  reading.condition =
      draft.condition_of_text.count(text) != 0
          ? draft.condition_of_text.at(text)
          : draft.condition({text, overlay_of(parse_condition(text, draft.graph).value(), draft.graph)});
  reading.expected = proposed.expected == ValueKind::beep   ? Expected::beep
                     : proposed.expected == ValueKind::open ? Expected::open
                                                            : Expected::ohms;
  const View view(draft.graph, draft.plan.conditions[reading.condition].made.overlay);
  Probing probing;
  if (reading.expected == Expected::ohms) {
    probing.from = reading.from, probing.to = reading.to;
    probing.method = Method::ohms;
    reading.ohms = shown_ohms(expected_resistance(view, probing), draft.options.meter);
  }
  if (reading.expected == Expected::open) {
    probing.from = reading.to, probing.to = reading.from;
    probing.value = {ValueKind::open, 0};
  }
  const bool is_silent_either_way =
      reading.expected == Expected::open && judge(view, probing, draft.options.meter) == Verdict::agrees;
  reading.polarity_matters = draft.graph.has_diodes() && !is_silent_either_way;
  draft.plan.readings.push_back(std::move(reading));
}

/// Whether identifying is about the fault.
bool is_to_be_shown(const Fault& fault, const Draft& draft) {
  switch (fault.kind) {
    case FaultKind::miswire:
    case FaultKind::swap:
      return !draft.plan.near_faults_only || is_near(fault, draft.graph);
    case FaultKind::shift:
    case FaultKind::extra_bridge:
      return true;
    case FaultKind::short_circuit:
      return is_near(fault, draft.graph);
    default:
      return false;
  }
}

Certificate certify_plan(const Draft& draft, const TakenAndPlanned& all, CertifyOptions asked) {
  asked.planned_from = all.taken;
  asked.comes_first = [&draft](const Fault& fault) { return is_to_be_shown(fault, draft); };
  asked.first_only = true;
  const auto comparison = compare(draft.graph, all.readings, {}, draft.options.meters, draft.options.meter);
  return comparison ? certify(draft.graph, all.readings, *comparison, asked) : Certificate{};
}

/// Of the readings that reveal a fault the certificate names one. Those that it names for none, and that
/// prove no element by themselves, can go.
void drop_what_is_spared(Draft& draft) {
  std::vector<PlannedReading>& readings = draft.plan.readings;
  const TakenAndPlanned all = taken_and_planned(draft.done, draft.plan, draft.graph);
  std::vector<bool> is_needed(readings.size(), false);
  CertifyOptions asked;
  asked.each = [&](const CertifiedFault& one) {
    if (one.fate == Fate::revealed && index(one.reading) >= all.taken)
      is_needed[index(one.reading) - all.taken] = true;
  };
  (void)certify_plan(draft, all, std::move(asked));
  std::vector<std::uint32_t> proofs(draft.graph.element_count(), 0);
  for (const PlannedReading& reading : readings)
    for (const ElementId e : reading.proves) ++proofs[index(e)];
  std::size_t kept = 0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const bool is_spared = !is_needed[i] && std::all_of(readings[i].proves.begin(), readings[i].proves.end(),
                                                        [&](ElementId e) { return proofs[index(e)] > 1; });
    if (is_spared) {
      for (const ElementId e : readings[i].proves) --proofs[index(e)];
    } else {
      if (kept != i) readings[kept] = std::move(readings[i]);
      ++kept;
    }
  }
  readings.resize(kept);
}

}  // namespace

PlanCondition prepared(const Draft& draft, Pulled pulled) {
  Parting all;
  for (std::uint32_t i = draft.graph.conductor_count(); i < draft.graph.element_count(); ++i) {
    const ElementId e{i};
    if (!draft.graph.is_on_at_rest(e)) continue;
    const bool is_load_in_the_way =
        !draft.graph.is_hard(e) &&
        (pulled == Pulled::every_load || draft.graph.interval(e).lo <= beep_limit(draft.options.meter) ||
         draft.graph.interval(e).hi == k_infinite_ohms);
    if (draft.graph.kind(e) != ElementKind::breakable && !is_load_in_the_way) continue;
    const std::vector<std::string> settings = settings_that_open(e, draft.graph, {});
    if (!settings.empty()) add_setting(settings.back(), all.pulled);
  }
  return condition_of(all, draft.graph);
}

void cover_prepared(Draft& draft) {
  const PlanCondition before = prepared(draft, Pulled::what_may_beep);
  if (before.text.empty()) return;
  cover_pieces(draft, before, draft.plan.conditions.front());
  draft.plan.near_faults_only = has_very_many_faults(draft.graph);
  if (draft.plan.near_faults_only) return;
  for (const ElementId contact : draft.graph.contacts()) {
    if (!draft.graph.is_on_at_rest(contact)) continue;
    const Part& part = draft.graph.netlist().parts[draft.graph.origin(contact).row];
    const std::string operated =
        std::string(part.actuated_by.empty() ? part.part : part.actuated_by) + "=operated";
    const std::string text = before.text + "; " + operated;
    if (draft.condition_of_text.count(text) != 0) continue;
    if (const auto parsed = parse_condition(text, draft.graph))
      cover_pieces(draft, {text, overlay_of(*parsed, draft.graph)}, before);
  }
}

void identify(Draft& draft) {
  std::vector<bool> is_asked_for;
  const TakenAndPlanned all = taken_and_planned(draft.done, draft.plan, draft.graph);
  CertifyOptions asked;
  asked.proposed_is_enough = true;
  asked.each = [&](const CertifiedFault& one) {
    if (one.fate != Fate::left_out) return;
    if (is_asked_for.size() <= one.proposed) is_asked_for.resize(one.proposed + 1, false);
    is_asked_for[one.proposed] = true;
  };
  const Certificate certificate = certify_plan(draft, all, std::move(asked));
  for (std::size_t i = 0; i < is_asked_for.size(); ++i)
    if (is_asked_for[i]) add_proposed(draft, certificate.proposed[i], all.readings.conditions);
  drop_what_is_spared(draft);
}

}  // namespace ringtrue
