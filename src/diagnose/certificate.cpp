#include "ringtrue/diagnose/certificate.hpp"

#include <algorithm>
#include <unordered_map>
#include <unordered_set>

#include "certain_faults.hpp"
#include "changes.hpp"
#include "ringtrue/expect/load_nets.hpp"
#include "universe.hpp"

namespace ringtrue {

std::string_view word(Fate fate) {
  switch (fate) {
    case Fate::revealed:
      return "revealed";
    case Fate::left_out:
      return "left-out";
    case Fate::uncertain:
      return "uncertain";
    case Fate::hidden:
      return "hidden";
  }
  return {};
}

std::string_view word(WhyHidden why) {
  switch (why) {
    case WhyHidden::none:
      return "";
    case WhyHidden::same_copper:
      return "same-copper";
    case WhyHidden::no_probe_point:
      return "no-probe-point";
    case WhyHidden::does_not_conduct:
      return "does-not-conduct";
  }
  return {};
}

namespace {

class Certifying {
 public:
  Certifying(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
             const CertifyOptions& options)
      : options_(options),
        comparison_(usable(comparison)),
        taken_(readings.rows.size()),
        landing_(graph, comparison.conditions.overlays),
        consistency_(graph, rows_of(readings), comparison_),
        certain_(consistency_),
        changes_(consistency_) {}

  Certificate run() {
    for (const bool is_first_round : {true, false}) {
      if (!is_first_round && options_.first_only) break;
      for_each_fault(consistency_, landing_, [&](const Fault& fault) {
        if (fault.kind == FaultKind::bad_reading) return;
        const bool comes_first = options_.comes_first && options_.comes_first(fault);
        if (comes_first == is_first_round) certify(fault);
        if (!comes_first && options_.first_only) ++made_.not_asked;
      });
    }
    std::sort(made_.open.begin(), made_.open.end(),
              [](const CertifiedFault& x, const CertifiedFault& y) { return x.fault < y.fault; });
    return std::move(made_);
  }

 private:
  /// The conditions of the readings, to which those of proposed ones can be added.
  const Readings& rows_of(const Readings& readings) {
    readings_.conditions = readings.conditions;
    readings_.rows = readings.rows;
    return readings_;
  }

  void certify(const Fault& fault) {
    CertifiedFault one;
    one.fault = fault;
    if (options_.shown_otherwise && options_.shown_otherwise(fault)) {
      one.fate = Fate::revealed;
      return count(one);
    }
    ReadingId by = revealing(fault);
    if (by == ReadingId::none || index(by) >= taken_)
      if (const ReadingId in_ohms = planned_in_ohms(fault); in_ohms != ReadingId::none) by = in_ohms;
    if (by != ReadingId::none && index(by) < taken_) {
      one.fate = Fate::revealed;
      one.reading = by;
    } else if (by != ReadingId::none) {
      one.fate = Fate::left_out;
      one.proposed = proposal_of_[index(by) - taken_];
    } else if (options_.revealed_only) {
      one.fate = Fate::left_out;
      one.proposed = k_own_points;
    } else {
      look_for_change(one);
    }
    count(one);
  }

  void count(const CertifiedFault& one) {
    ++made_.counts[static_cast<std::size_t>(one.fault.kind)][static_cast<std::size_t>(one.fate)];
    if (one.fate != Fate::revealed && !is_left_out_short(one)) made_.open.push_back(one);
    if (options_.each) options_.each(one);
  }

  /// Planned readings in ohms have no value yet and are asked apart.
  Comparison usable(Comparison comparison) {
    for (std::size_t i = options_.planned_from; i < comparison.probings.size(); ++i)
      if (comparison.probings[i].value.kind == ValueKind::ohms) {
        comparison.standing[i] = Standing::stale;
        in_ohms_.push_back(ReadingId{static_cast<std::uint32_t>(i)});
      }
    return comparison;
  }

  [[nodiscard]] ReadingId planned_in_ohms(const Fault& fault) {
    for (const ReadingId reading : in_ohms_) {
      if (!meets(fault, reading)) continue;
      const Probing& probing = consistency_.probing(reading);
      const ProposedReading planned{probing.from, probing.to, consistency_.condition_of(reading),
                                    ValueKind::ohms};
      if (changes_.is_certain(planned, fault)) return reading;
    }
    return ReadingId::none;
  }

  /// The fault touches a net that current between the probes may take part in.
  [[nodiscard]] bool meets(const Fault& fault, ReadingId reading) {
    const View& view = consistency_.drawn_view(consistency_.condition_of(reading));
    const auto [at, is_new] = nets_in_ohms_.try_emplace(reading);
    if (is_new)
      for (const PointId probe : {consistency_.probing(reading).from, consistency_.probing(reading).to}) {
        const std::vector<NetId> joined = nets_joined_by_loads(view, view.net(probe));
        at->second.insert(joined.begin(), joined.end());
      }
    const std::vector<PointId> points = consistency_.points_of({&fault, 1});
    return std::any_of(points.begin(), points.end(),
                       [&, nets = &at->second](PointId p) { return nets->count(view.net(p)) != 0; });
  }

  /// One of those that were taken before one that is proposed.
  [[nodiscard]] ReadingId revealing(const Fault& fault) const {
    const ReadingId by = certain_.revealing(fault);
    const bool is_taken = by != ReadingId::none && index(by) < taken_;
    const bool is_enough =
        by != ReadingId::none ? options_.proposed_is_enough : certain_.is_known_to_be_missed(fault);
    if (is_taken || is_enough) return by;
    const ReadingId tried = consistency_.one_contradicted({&fault, 1}, taken_);
    return tried != ReadingId::none ? tried : by;
  }

  [[nodiscard]] bool is_left_out_short(const CertifiedFault& one) const {
    return one.fault.kind == FaultKind::short_circuit && one.fate == Fate::left_out &&
           !(options_.comes_first && options_.comes_first(one.fault));
  }

  void look_for_change(CertifiedFault& one) {
    const Changes::Found found = changes_.find(one.fault);
    one.fate = found.fate;
    one.why = found.why;
    if (found.fate == Fate::hidden) return;
    one.proposed = static_cast<std::uint32_t>(made_.proposed.size());
    if (is_left_out_short(one)) {
      one.proposed = k_own_points;
      return;
    }
    made_.proposed.push_back(found.reading);
    // What isn't certain, and what's read in ohms, serves the one fault only.
    if (found.fate == Fate::left_out && found.reading.expected != ValueKind::ohms) {
      proposal_of_.push_back(one.proposed);
      add_reading(found.reading);
    }
  }

  /// From here on the proposed reading is tried on other faults as well.
  void add_reading(const ProposedReading& proposed) {
    Reading row;
    row.condition = proposed.condition;
    Probing probing;
    probing.from = proposed.from, probing.to = proposed.to;
    probing.method = Method::beep;
    probing.value = {proposed.expected, 0};
    readings_.rows.push_back(row);
    comparison_.probings.push_back(probing);
    comparison_.standing.push_back(Standing::agrees);
    comparison_.meters.append_unnamed();
    (void)consistency_.add_last();
    certain_.add(ReadingId{static_cast<std::uint32_t>(readings_.rows.size() - 1)});
  }

  const CertifyOptions& options_;
  std::vector<ReadingId> in_ohms_;  ///< planned
  std::unordered_map<ReadingId, std::unordered_set<NetId>> nets_in_ohms_;
  Readings readings_;
  Comparison comparison_;
  std::size_t taken_;
  std::vector<std::uint32_t> proposal_of_;  ///< by reading after those that were taken
  Landing landing_;
  Consistency consistency_;
  CertainFaults certain_;
  Changes changes_;
  Certificate made_;
};

}  // namespace

bool is_near(const Fault& fault, const ConductionGraph& graph) {
  const auto drawn = [&](ElementId e, End end) { return end == End::a ? graph.end_a(e) : graph.end_b(e); };
  switch (fault.kind) {
    case FaultKind::miswire:
      return graph.on_one_part(drawn(fault.element, fault.end), fault.p);
    case FaultKind::swap:
      return graph.on_one_part(drawn(fault.element, fault.end), drawn(fault.element2, fault.end2));
    case FaultKind::short_circuit: {
      const auto& beside = graph.beside(fault.p);
      return beside[0] == fault.q || beside[1] == fault.q;
    }
    default:
      return true;
  }
}

bool has_very_many_faults(const ConductionGraph& graph) {
  constexpr std::size_t k_most_conductors = 1500;  // some three million landings, exchanges and joints
  return graph.conductor_count() > k_most_conductors;
}

Certificate certify(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                    const CertifyOptions& options) {
  return Certifying(graph, readings, comparison, options).run();
}

}  // namespace ringtrue
