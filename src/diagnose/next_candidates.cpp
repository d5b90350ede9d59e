#include "next_candidates.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <numeric>
#include <tuple>

#include "ringtrue/expect/currents.hpp"
#include "ringtrue/expect/hard_path.hpp"
#include "ringtrue/expect/openers.hpp"

namespace ringtrue {

namespace {

/// Pairs of points are compared by nets among at most so many points.
constexpr std::size_t k_most_points = 64;
/// Pairs that the diagnoses join alike: loads may make one of them certain where another isn't.
constexpr std::size_t k_alike = 3;
/// Each value in ohms costs a solved network per diagnosis.
constexpr std::size_t k_most_in_ohms = 24;
/// Pairs of diagnoses for which something to open is sought, and settings tried.
constexpr std::size_t k_most_pairs = 8, k_most_settings = 12;

/// What opens the element, and what moves it if it is a contact.
std::vector<std::string> settings_that_change(ElementId e, const ConductionGraph& graph) {
  std::vector<std::string> settings = settings_that_open(e, graph, {});
  if (graph.kind(e) != ElementKind::contact) return settings;
  const Part& contact = graph.netlist().parts[graph.origin(e).row];
  if (contact.closed_in.empty()) settings.push_back(std::string(contact.actuated_by) + "=operated");
  return settings;
}

bool is_of_value(const Fault& fault, const ConductionGraph& graph) {
  const bool is_load = fault.element != ElementId::none && !graph.is_hard(fault.element);
  return is_load || fault.kind == FaultKind::wrong_value;
}

}  // namespace

CandidateReadings::CandidateReadings(const ConductionGraph& graph, const Readings& readings,
                                     const Comparison& comparison, std::span<const Diagnosis> diagnoses,
                                     std::span<const Hypothesis> hypotheses, Prediction& prediction,
                                     const NextOptions& options)
    : graph_(graph),
      readings_(readings),
      comparison_(comparison),
      diagnoses_(diagnoses),
      hypotheses_(hypotheses),
      information_of_(hypotheses),
      prediction_(prediction),
      options_(options) {}

std::vector<TriedReading> CandidateReadings::gather() {
  look_at_diagnoses();
  add_again();
  add_parted_by_nets(0);
  add_own_pairs_of(not_parted(), 0);
  add_in_ohms();
  add_with_one_opened();
  return std::move(tried_);
}

void CandidateReadings::look_at_diagnoses() {
  for (const Diagnosis& diagnosis : diagnoses_) {
    std::vector<PointId>& own = own_points_.emplace_back();
    for (const Fault& fault : diagnosis.faults) {
      const std::vector<PointId> points = points_of(fault, graph_, comparison_);
      own.insert(own.end(), points.begin(), points.end());
      const std::vector<ElementId> elements = elements_of(fault, graph_);
      touched_.insert(touched_.end(), elements.begin(), elements.end());
    }
    std::sort(own.begin(), own.end());
    own.erase(std::unique(own.begin(), own.end()), own.end());
    points_.insert(points_.end(), own.begin(), own.end());
  }
  for (std::size_t d = 0; d < diagnoses_.size(); ++d)
    for (const Fault& fault : prediction_.besides(d)) {
      const std::vector<ElementId> elements = elements_of(fault, graph_);
      touched_.insert(touched_.end(), elements.begin(), elements.end());
    }
  std::sort(touched_.begin(), touched_.end());
  touched_.erase(std::unique(touched_.begin(), touched_.end()), touched_.end());
  std::sort(points_.begin(), points_.end());
  points_.erase(std::unique(points_.begin(), points_.end()), points_.end());
  prediction_.look_near(points_);
}

/// The buzzer tells as much between points of the same nets: the first ones tried are enough.
bool CandidateReadings::is_between_new_nets(const CandidateReading& candidate) {
  const std::uint32_t from = prediction_.nets(candidate.setup, candidate.from).number;
  const std::uint32_t to = prediction_.nets(candidate.setup, candidate.to).number;
  return between_.emplace(candidate.setup, from, to).second;
}

void CandidateReadings::add(const CandidateReading& candidate) {
  if (is_full()) return;
  if (!candidate.in_ohms && candidate.again == ReadingId::none && !is_between_new_nets(candidate)) return;
  TriedReading tried{candidate, {}, {}};
  if (candidate.in_ohms) {
    Prediction::InOhms in_ohms = prediction_.in_ohms(candidate);
    tried.test.outcomes = std::move(in_ohms.outcomes);
    tried.ranges = std::move(in_ohms.ranges);
  } else {
    tried.test.outcomes = prediction_.by_buzzer(candidate);
  }
  const Efforts& efforts = options_.efforts;
  tried.test.effort = efforts.reading + prediction_.setups[candidate.setup].effort +
                      (candidate.in_ohms ? efforts.value : 0) +
                      effort_of_probes(candidate.from, candidate.to, graph_, efforts);
  if (information_of_(tried.test) >= k_least_bits) tried_.push_back(std::move(tried));
}

/// Readings that some diagnosis doesn't believe: taken once more, they tell.
void CandidateReadings::add_again() {
  std::set<ReadingId> doubted;
  for (const Diagnosis& diagnosis : diagnoses_)
    for (const Fault& fault : diagnosis.faults)
      if (fault.kind == FaultKind::bad_reading) doubted.insert(fault.reading);
  for (const ReadingId reading : doubted) {
    const Probing& probing = comparison_.probings[index(reading)];
    const bool in_ohms = probing.value.kind == ValueKind::ohms;
    const bool is_buzzer = probing.value.kind == ValueKind::beep || probing.value.kind == ValueKind::open;
    const bool is_hand_meter = probing.method != Method::insulation && probing.method != Method::low_ohm;
    if (!(in_ohms || is_buzzer) || !is_hand_meter) continue;
    const std::uint16_t condition = readings_.rows[index(reading)].condition;
    for (std::uint32_t setup = 0; setup < prediction_.setups.size(); ++setup)
      if (prediction_.setups[setup].of_readings == condition)
        add({probing.from, probing.to, setup, in_ohms, reading});
  }
}

void CandidateReadings::add_own_pairs(std::size_t diagnosis, std::uint32_t setup, bool in_ohms) {
  const std::vector<PointId>& own = own_points_[diagnosis];
  struct OwnPair {
    double effort;
    PointId one, other;
  };
  std::vector<OwnPair> pairs;
  for (std::size_t i = 0; i < own.size(); ++i)
    for (std::size_t j = i + 1; j < own.size(); ++j)
      pairs.push_back({effort_of_probes(own[i], own[j], graph_, options_.efforts), own[i], own[j]});
  std::stable_sort(pairs.begin(), pairs.end(),
                   [](const OwnPair& x, const OwnPair& y) { return x.effort < y.effort; });
  for (const OwnPair& pair : pairs) {
    add({pair.one, pair.other, setup, in_ohms, ReadingId::none});
    if (graph_.has_diodes()) add({pair.other, pair.one, setup, in_ohms, ReadingId::none});
  }
}

/// Of the pairs of points that copper joins under some of the diagnoses only: those that tell most per
/// effort.
void CandidateReadings::add_parted_by_nets(std::uint32_t first_setup) {
  std::vector<PointId> points = points_to_probe(points_, touched_, prediction_.setups, graph_);
  if (points.size() > k_most_points) points.resize(k_most_points);
  struct Found {
    double effort;
    CandidateReading candidate;
  };
  // By who joins them: a bit per diagnosis, the first one highest, so that the order is that of the
  // diagnoses.
  constexpr std::size_t k_bits = 64;
  using Joined = std::vector<std::uint64_t>;
  std::map<Joined, std::vector<Found>> by_joined;
  std::vector<std::span<const NetId>> nets(points.size());  // by point, then diagnosis
  Joined joined((diagnoses_.size() + k_bits - 1) / k_bits);
  for (std::uint32_t setup = first_setup; setup < prediction_.setups.size(); ++setup) {
    for (std::size_t i = 0; i < points.size(); ++i) nets[i] = prediction_.nets(setup, points[i]).by_diagnosis;
    for (std::size_t i = 0; i < points.size(); ++i)
      for (std::size_t j = i + 1; j < points.size(); ++j) {
        const auto same = std::inner_product(nets[i].begin(), nets[i].end(), nets[j].begin(), std::size_t{0},
                                             std::plus<>{}, std::equal_to<>{});
        if (same == 0 || same == diagnoses_.size()) continue;
        std::fill(joined.begin(), joined.end(), 0);
        for (std::size_t d = 0; d < diagnoses_.size(); ++d)
          joined[d / k_bits] |= std::uint64_t{nets[i][d] == nets[j][d]} << (k_bits - 1 - d % k_bits);
        const double effort = prediction_.setups[setup].effort + options_.efforts.reading +
                              effort_of_probes(points[i], points[j], graph_, options_.efforts);
        by_joined[joined].push_back({effort, {points[i], points[j], setup, false, ReadingId::none}});
      }
  }
  std::vector<std::pair<double, CandidateReading>> most_telling;
  for (auto& [who, found] : by_joined) {
    Separator test;
    for (std::size_t d = 0; d < diagnoses_.size(); ++d)
      test.outcomes.push_back((who[d / k_bits] >> (k_bits - 1 - d % k_bits) & 1u) != 0 ? k_beep : k_silent);
    const double bits = information_of_(test);
    std::stable_sort(found.begin(), found.end(),
                     [](const Found& x, const Found& y) { return x.effort < y.effort; });
    for (std::size_t i = 0; i < found.size() && i < k_alike; ++i)
      most_telling.emplace_back(bits / found[i].effort, found[i].candidate);
  }
  std::stable_sort(most_telling.begin(), most_telling.end(),
                   [](const auto& x, const auto& y) { return x.first > y.first; });
  const std::size_t most = tried_.size() + options_.max_readings / 2;
  for (const auto& [per_effort, candidate] : most_telling)
    if (tried_.size() < most) add(candidate);
}

/// Diagnoses of different remedies that no reading so far tells apart for certain, the likeliest first.
std::vector<CandidateReadings::Pair> CandidateReadings::not_parted() const {
  std::vector<Pair> pairs;
  for (std::size_t other = 1; other < diagnoses_.size(); ++other)
    for (std::size_t one = 0; one < other; ++one) {
      if (hypotheses_[one].remedy == hypotheses_[other].remedy) continue;
      if (!is_parted({one, other})) pairs.push_back({one, other});
    }
  return pairs;
}

bool CandidateReadings::is_parted(const Pair& pair) const {
  return std::any_of(tried_.begin(), tried_.end(), [&](const TriedReading& tried) {
    return (tried.test.outcomes[pair.one] & tried.test.outcomes[pair.other]) == 0;
  });
}

/// Where copper alone parts them for certain nowhere, loads may make something likelier.
void CandidateReadings::add_own_pairs_of(const std::vector<Pair>& pairs, std::uint32_t first_setup) {
  std::set<std::size_t> concerned;
  for (const Pair& pair : pairs) concerned.insert({pair.one, pair.other});
  const std::size_t most = tried_.size() + options_.max_readings / 4;
  for (const std::size_t d : concerned)
    for (std::uint32_t setup = first_setup; setup < prediction_.setups.size(); ++setup)
      if (tried_.size() < most) add_own_pairs(d, setup, false);
}

bool CandidateReadings::differ_in_values(const Pair& pair) const {
  for (const std::size_t d : {pair.one, pair.other})
    for (const Fault& fault : diagnoses_[d].faults)
      if (is_of_value(fault, graph_)) return true;
  return false;
}

void CandidateReadings::add_in_ohms() {
  std::set<std::size_t> differing;
  for (const Pair& pair : not_parted())
    if (differ_in_values(pair)) differing.insert({pair.one, pair.other});
  const std::size_t before = tried_.size();
  for (const std::size_t d : differing)
    for (std::uint32_t setup = 0; setup < prediction_.setups.size(); ++setup)
      if (tried_.size() < before + k_most_in_ohms) add_own_pairs(d, setup, true);
}

void CandidateReadings::add_with_one_opened() {
  std::vector<Pair> pairs = not_parted();
  if (pairs.size() > k_most_pairs) pairs.resize(k_most_pairs);
  if (pairs.empty()) return;
  const auto first = static_cast<std::uint32_t>(prediction_.setups.size());
  for (const std::string& setting : openers(pairs))
    if (auto setup = setup_with(setting, graph_, readings_, options_.efforts))
      prediction_.setups.push_back(std::move(*setup));
  add_parted_by_nets(first);
  const auto is_parted = [this](const Pair& pair) { return this->is_parted(pair); };
  std::erase_if(pairs, is_parted);
  add_own_pairs_of(pairs, first);
}

/// Settings that open something of what makes the diagnoses look alike, those of least effort first.
std::vector<std::string> CandidateReadings::openers(const std::vector<Pair>& pairs) {
  std::set<ElementId> elements;
  for (const Pair& pair : pairs) {
    for (const std::size_t d : {pair.one, pair.other})
      for (const Fault& fault : diagnoses_[d].faults)
        for (const ElementId e : elements_of(fault, graph_)) elements.insert(e);
    add_elements_between(pair, elements);
    add_loads_that_decide(pair, elements);
  }
  std::vector<std::pair<double, std::string>> settings;
  for (const ElementId e : elements)
    for (const std::string& setting : settings_that_change(e, graph_))
      if (const auto setup = setup_with(setting, graph_, readings_, options_.efforts))
        settings.emplace_back(setup->effort, setting);
  std::sort(settings.begin(), settings.end());
  settings.erase(std::unique(settings.begin(), settings.end()), settings.end());
  if (settings.size() > k_most_settings) settings.resize(k_most_settings);
  std::vector<std::string> names;
  for (const auto& [effort, setting] : settings) names.push_back(setting);
  return names;
}

/// Copper that joins a point of the one to a point of the other: a fuse between two landings, say.
void CandidateReadings::add_elements_between(const Pair& pair, std::set<ElementId>& elements) {
  const Overlay nothing;
  const View drawn(graph_, nothing);
  for (const PointId p : own_points_[pair.one])
    for (const PointId q : own_points_[pair.other]) {
      if (p == q || graph_.net_at_rest(p) != graph_.net_at_rest(q)) continue;
      const auto path = hard_path(drawn, {p, q});
      if (!path) continue;
      for (const View::Edge& edge : path->edges) elements.insert(edge.element);
    }
}

/// Loads whose value decides whether a reading tells the two apart.
void CandidateReadings::add_loads_that_decide(const Pair& pair, std::set<ElementId>& elements) {
  constexpr std::size_t k_most_looked_at = 4, k_most_ways = 2;
  std::size_t looked_at = 0;
  for (const TriedReading& tried : tried_) {
    const CandidateReading& candidate = tried.candidate;
    if (candidate.in_ohms || candidate.again != ReadingId::none) continue;
    for (const std::size_t d : {pair.one, pair.other}) {
      if (tried.test.outcomes[d] != (k_beep | k_silent) || looked_at++ >= k_most_looked_at) continue;
      const Probing probing{candidate.from, candidate.to};
      for (const Way& way : ways_between(prediction_.view(candidate.setup, d), probing, k_most_ways))
        for (const ElementId e : loads_of(way, graph_)) elements.insert(e);
    }
  }
}

}  // namespace ringtrue
