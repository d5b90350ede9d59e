#include "serve/state.hpp"

#include <algorithm>
#include <unordered_map>

#include "ringtrue/live/clock.hpp"
#include "ringtrue/live/contradictions.hpp"
#include "ringtrue/live/entry.hpp"
#include "ringtrue/report/next_report.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "ringtrue/report/stale_words.hpp"
#include "ringtrue/report/words.hpp"
#include "serve/json.hpp"

namespace ringtrue::serve {

namespace {

constexpr std::size_t k_upcoming = 40;
constexpr std::size_t k_last = 12;
constexpr std::size_t k_most_findings = 30;
constexpr std::size_t k_few_elements = 6;

constexpr const char* k_cautions[] = {
    "Prove the panel dead before continuity tests.",
    "Local codes, the site's isolation procedure and licensed persons decide.",
};

Json counts(LiveJob& live) {
  const Comparison& c = live.state().comparison();
  const std::vector<ChannelResult>& channels = live.state().findings().channels;
  const auto in_state = [&](ChannelState state) {
    return std::count_if(channels.begin(), channels.end(),
                         [&](const ChannelResult& one) { return one.state == state; });
  };
  const LiveJob::Progress progress = live.progress();
  return {{"readings", c.standing.size()},
          {"agree", c.agree},
          {"disagree", c.disagree},
          {"either", c.either},
          {"unknown", c.unknown},
          {"stale", c.stale},
          {"outdated", live.state().readings().outdated.size()},
          {"unstable", c.unstable},
          {"planned", progress.planned},
          {"planned_done", progress.done},
          {"channels", channels.size()},
          {"channels_proven", in_state(ChannelState::proven)},
          {"channels_faulty", in_state(ChannelState::faulty)}};
}

std::string expected_text(const Upcoming& reading) {
  return reading.expected == Expected::ohms ? range_text(reading.ohms) : std::string(word(reading.expected));
}

Json upcoming(const Upcoming& reading, const ConductionGraph& graph) {
  const bool is_finding = reading.why == Upcoming::Why::finding;
  return {{"from", reading.from},
          {"to", reading.to},
          {"conditions", reading.conditions},
          {"condition_words",
           reading.conditions.empty() ? "at rest" : condition_words(reading.conditions, Detail::everything)},
          {"to_do", to_be_done(reading.conditions, Detail::everything)},
          {"method", reading.in_ohms ? "ohms" : "beep"},
          {"expect", expected_text(reading)},
          {"why", word(reading.why)},
          {"finding", is_finding ? Json(reading.finding + 1) : Json(nullptr)},
          {"from_place", point_place(reading.from_point, graph, Detail::short_lists)},
          {"to_place", point_place(reading.to_point, graph, Detail::short_lists)},
          {"proves", list_of(reading.proves, graph, k_few_elements)}};
}

/// A finding that nothing explains has neither key nor action.
Json finding(const LiveJob& live, std::size_t number) {
  const ConductionGraph& graph = live.drawing()->graph;
  const DiagnosisState& state = live.state();
  const Cluster& cluster = state.findings().clusters[number];
  Json made{{"key", ""},    {"number", number + 1}, {"text", ""},  {"remedy", "Do"},
            {"action", ""}, {"probability", 0.0},   {"others", 0}, {"readings", Json::array()},
            {"next", ""},   {"repairable", false}};
  for (const ReadingId reading : cluster.readings)
    made["readings"].push_back(reading_line(graph, state.readings(), state.comparison(), reading));
  if (cluster.diagnoses.empty()) {
    made["text"] = "Nothing that was tried explains these readings beside those that agree.";
    made["action"] = "Take them again.";
    return made;
  }
  const Diagnosis& first = cluster.diagnoses.front();
  const FaultWords words = fault_words(first.faults, graph, state.readings());
  made["key"] = diagnosis_key(first);
  made["text"] = words.text;
  made["remedy"] = remedy_label(first);
  made["action"] = words.action;
  made["probability"] = first.probability;
  made["others"] = cluster.diagnoses.size() - 1;
  made["repairable"] = !clamps_to_open(first, graph).empty();
  const NextReading& next = live.next()[number];
  if (next.state == NextState::reading) made["next"] = next_in_short(next, cluster, graph, state.readings());
  return made;
}

/// Where current readings stand, by their ids.
class Standings {
 public:
  explicit Standings(const DiagnosisState& state) : state_(state) {
    const Readings& readings = state.readings();
    for (std::size_t i = 0; i < readings.rows.size(); ++i) at_[readings.text.get(ReadingText::id, i)] = i;
  }
  [[nodiscard]] std::string_view of(std::string_view id) const {
    const auto found = at_.find(id);
    return found == at_.end() ? "" : word(state_.comparison().standing[found->second]);
  }
  /// Of one that is stale, else empty.
  [[nodiscard]] std::string why_stale(std::string_view id) const {
    const auto found = at_.find(id);
    const bool is_stale =
        found != at_.end() && state_.comparison().standing[found->second] == Standing::stale;
    return is_stale ? ringtrue::why_stale(state_.readings(), found->second) : "";
  }

 private:
  const DiagnosisState& state_;
  std::unordered_map<std::string_view, std::size_t> at_;
};

Json row(const JournalReading& reading, const Standings& standings) {
  return {{"id", reading.id},
          {"from", reading.from},
          {"to", reading.to},
          {"value", reading.value},
          {"conditions", reading.conditions},
          {"by", reading.by},
          {"time", reading.time},
          {"meter", reading.meter},
          {"note", reading.note},
          {"standing", standings.of(reading.id)},
          {"why_stale", standings.why_stale(reading.id)},
          {"supersedes", reading.supersedes},
          {"superseded_by", reading.superseded_by}};
}

Json rows(const LiveJob& live, const std::vector<JournalReading>& journal) {
  const Standings standings(live.state());
  Json all = Json::array();
  for (const JournalReading& reading : journal) all.push_back(row(reading, standings));
  return all;
}

}  // namespace

std::string state_text(const Watch::Source& source, const std::string& job_name) {
  LiveJob& live = source.live;
  const ConductionGraph& graph = live.drawing()->graph;
  const PanelInfo& panel = live.drawing()->netlist.panel;
  Json state{{"version", source.version},
             {"now", time_now()},
             {"panel", panel.name},
             {"revision", panel.revision},
             {"job_id", source.job.id().value_or("")},
             {"job", job_name},
             {"trouble", source.trouble},
             {"counts", counts(live)}};
  Json& next = state["next"] = Json::array();
  for (const Upcoming& reading : live.upcoming(k_upcoming)) next.push_back(upcoming(reading, graph));
  Json& findings = state["findings"] = Json::array();
  const std::size_t shown = std::min(live.state().findings().clusters.size(), k_most_findings);
  for (std::size_t i = 0; i < shown; ++i) findings.push_back(finding(live, i));
  state["more_findings"] = live.state().findings().clusters.size() - shown;
  Json& contradicting = state["contradictions"] = Json::array();
  for (const std::vector<ReadingId>& group : contradictions(live.state()))
    contradicting.push_back(contradiction_line(live.state(), group));
  Json& changes = state["open_changes"] = Json::array();
  for (const Event* event : open_temporary_changes(live.events()))
    changes.push_back(
        {{"points", event->points}, {"text", event->text}, {"by", event->by}, {"time", event->time}});
  const auto journal = source.job.journal(k_last);
  state["last"] = journal ? rows(live, *journal) : Json::array();
  Json& meters = state["meters"] = Json::array();
  for (const Meter& meter : live.meters().rows) meters.push_back(meter.name);
  state["cautions"] = k_cautions;
  return text_of(state);
}

std::string channels_text(const LiveJob& live) {
  const Drawing& drawing = *live.drawing();
  Json all = Json::array();
  const std::vector<ChannelResult>& results = live.state().findings().channels;
  for (std::size_t i = 0; i < drawing.netlist.channels.size(); ++i) {
    const Channel& channel = drawing.netlist.channels[i];
    Json unproven = Json::array(), findings = Json::array();
    for (const ElementId e : results[i].unproven_elements) unproven.push_back(element_noun(e, drawing.graph));
    for (const std::size_t number : results[i].clusters) findings.push_back(number + 1);
    all.push_back({{"point", drawing.netlist.points.name(channel.point)},
                   {"type", word(channel.type)},
                   {"address", channel.address},
                   {"tag", channel.tag},
                   {"text", channel.text},
                   {"state", word(results[i].state)},
                   {"isolated", results[i].isolated},
                   {"unproven", std::move(unproven)},
                   {"findings", std::move(findings)}});
  }
  return text_of({{"channels", std::move(all)}});
}

Result<std::string> journal_text(const LiveJob& live, const Job& job, std::size_t newest) {
  return job.journal(newest).map([&](const std::vector<JournalReading>& journal) {
    return text_of({{"readings", rows(live, journal)}});
  });
}

}  // namespace ringtrue::serve
