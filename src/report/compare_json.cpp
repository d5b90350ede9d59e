#include <algorithm>

#include "fault_keys.hpp"
#include "next_words.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/stale_words.hpp"
#include "unproven.hpp"

// The keys and their meaning stand in netlists/schema/compare.schema.json; a test validates this output
// against it.

namespace ringtrue {

namespace {

using report::JsonWriter;

void write_rows(JsonWriter& json, const std::vector<FaultParts::Row>& rows) {
  json.begin_array();
  for (const FaultParts::Row& row : rows) {
    json.begin_object().key(row.is_conductor ? "wire" : "part").text(row.name);
    json.key("from").text(row.from).key("to").text(row.to).key("sheet").text(row.sheet);
    json.key("file").text(row.file).key("line").number(std::size_t{row.line}).end_object();
  }
  json.end_array();
}

void write_faults(JsonWriter& json, std::span<const Fault> faults, const ConductionGraph& graph,
                  const Readings& readings) {
  json.key("faults").begin_array();
  for (const Fault& fault : faults) {
    const FaultParts parts = fault_parts(fault, graph, readings);
    json.begin_object();
    report::write_fault_keys(json, fault.kind, parts);
    json.key("rows");
    write_rows(json, parts.rows);
    json.end_object();
  }
  json.end_array();
}

class CompareJson {
 public:
  CompareJson(const CompareReport& report, const TextSink& sink) : report_(report), json_(sink) {}

  void write() {
    json_.begin_object();
    json_.key("panel").text(report_.graph.netlist().panel.name);
    json_.key("revision").text(report_.graph.netlist().panel.revision);
    summary();
    findings();
    unexplained();
    conflicts();
    notes();
    channels();
    unproven();
    unknown();
    with_standing("stale", Standing::stale);
    why_stale();
    with_standing("unstable", Standing::unstable);
    complete();
    json_.end_object().finish();
  }

 private:
  void summary();
  void findings();
  void finding(std::size_t cluster, const Diagnosis& diagnosis);
  void decision(std::size_t cluster, const Diagnosis& diagnosis);
  void in_ohms(const Diagnosis& diagnosis);
  void unexplained();
  void conflicts();
  void notes();
  void noted(std::string_view key, const NotedReadings& kind);
  void names(std::string_view key, const std::vector<ElementId>& elements);
  void channels();
  void channel(std::size_t number);
  void unproven();
  void unknown();
  void with_standing(std::string_view key, Standing standing);
  void why_stale();
  void complete();
  void reading_names(const std::vector<ReadingId>& readings);

  const CompareReport& report_;
  JsonWriter json_;
};

void CompareJson::summary() {
  const Comparison& comparison = report_.comparison;
  const auto& channels = report_.findings.channels;
  const auto in_state = [&](ChannelState state) {
    return static_cast<std::size_t>(std::count_if(channels.begin(), channels.end(),
                                                  [&](const ChannelResult& c) { return c.state == state; }));
  };
  const auto isolated = static_cast<std::size_t>(
      std::count_if(channels.begin(), channels.end(), [](const ChannelResult& c) { return c.isolated; }));
  json_.key("summary").begin_object();
  json_.key("readings").number(report_.readings.rows.size());
  json_.key("agree").number(comparison.agree).key("disagree").number(comparison.disagree);
  json_.key("either").number(comparison.either).key("unknown").number(comparison.unknown);
  json_.key("stale").number(comparison.stale).key("unstable").number(comparison.unstable);
  json_.key("clusters").number(report_.findings.clusters.size());
  json_.key("channels_proven")
      .number(in_state(ChannelState::proven))
      .key("channels_isolated")
      .number(isolated);
  json_.key("channels_faulty").number(in_state(ChannelState::faulty));
  json_.key("channels_unproven").number(in_state(ChannelState::unproven)).end_object();
}

void CompareJson::reading_names(const std::vector<ReadingId>& readings) {
  json_.begin_array();
  for (const ReadingId reading : readings) json_.text(report_.readings.name(reading));
  json_.end_array();
}

void CompareJson::findings() {
  json_.key("findings").begin_array();
  for (std::size_t i = 0; i < report_.findings.clusters.size(); ++i)
    for (const Diagnosis& diagnosis : report_.findings.clusters[i].diagnoses) finding(i, diagnosis);
  json_.end_array();
}

void CompareJson::names(std::string_view key, const std::vector<ElementId>& elements) {
  json_.key(key).begin_array();
  for (const ElementId e : elements)
    if (e != ElementId::none) json_.text(report_.graph.element_name(e));
  json_.end_array();
}

void CompareJson::in_ohms(const Diagnosis& diagnosis) {
  json_.key("in_ohms").begin_array();
  for (const ExplainedOhms& value : diagnosis.in_ohms) {
    json_.begin_object().key("reading").text(report_.readings.name(value.reading));
    json_.key("ohms").interval(value.ohms).key("ways").begin_array();
    for (const std::vector<ElementId>& way : value.loads) {
      json_.begin_object();
      names("loads", way);
      json_.end_object();
    }
    json_.end_array().end_object();
  }
  json_.end_array();
}

void CompareJson::notes() {
  json_.key("notes").begin_object();
  noted("beeps", report_.notes.beeps);
  noted("opens", report_.notes.opens);
  noted("ohms", report_.notes.ohms);
  noted("hiding", report_.notes.hiding);
  json_.end_object();
}

void CompareJson::noted(std::string_view key, const NotedReadings& kind) {
  json_.key(key).begin_object().key("all").number(kind.all).key("some").begin_array();
  for (const NotedReading& one : kind.some) {
    const Expectation& made = one.expectation;
    json_.begin_object()
        .key("reading")
        .text(report_.readings.name(one.reading))
        .key("alike")
        .number(one.alike);
    json_.key("ohms").interval(made.ohms);
    names("causes", made.causes);
    names("hidden", made.hidden.empty() ? std::vector<ElementId>{} : made.hidden.front().elements);
    json_.key("steps").texts(made.steps ? made.steps->settings : std::vector<std::string>{}).end_object();
  }
  json_.end_array().end_object();
}

/// Null unless something is decided about this very explanation.
void CompareJson::decision(std::size_t cluster, const Diagnosis& diagnosis) {
  json_.key("decision");
  const DecidedFinding* decided = decided_of(report_.decided, cluster);
  const auto& others = diagnosis.equivalent;
  if (decided == nullptr || (decided->faults != diagnosis.faults &&
                             std::find(others.begin(), others.end(), decided->faults) == others.end())) {
    json_.null();
    return;
  }
  const Decision& made = report_.decisions->rows[decided->decision];
  json_.begin_object().key("kind").text(word(made.decision)).key("by").text(made.by);
  json_.key("time").text(made.time).key("text").text(made.text).end_object();
}

void CompareJson::finding(std::size_t cluster, const Diagnosis& diagnosis) {
  const FaultWords words = fault_words(diagnosis.faults, report_.graph, report_.readings);
  json_.begin_object().key("cluster").number(cluster + 1).key("rank").number(diagnosis.rank);
  json_.key("probability").number(diagnosis.probability);
  write_faults(json_, diagnosis.faults, report_.graph, report_.readings);
  json_.key("explains");
  std::vector<ReadingId> explained = report_.findings.clusters[cluster].readings;
  for (const std::size_t other : diagnosis.also_explains) {
    const std::vector<ReadingId>& more = report_.findings.clusters[other].readings;
    explained.insert(explained.end(), more.begin(), more.end());
  }
  std::sort(explained.begin(), explained.end());
  reading_names(explained);
  json_.key("also_explains").begin_array();
  for (const std::size_t other : diagnosis.also_explains) json_.number(other + 1);
  json_.end_array();
  in_ohms(diagnosis);
  json_.key("equivalent").begin_array();
  for (const std::vector<Fault>& faults : diagnosis.equivalent) {
    json_.begin_object();
    write_faults(json_, faults, report_.graph, report_.readings);
    json_.key("text").text(fault_words(faults, report_.graph, report_.readings).text).end_object();
  }
  json_.end_array();
  json_.key("text").text(words.text).key("action").text(words.action).key("drawing").text(words.drawing);
  decision(cluster, diagnosis);
  json_.key("next_reading");
  report::write_next_reading(json_, report_.next.empty() ? nullptr : &report_.next[cluster], report_.graph,
                             report_.readings);
  json_.end_object();
}

void CompareJson::unexplained() {
  json_.key("unexplained").begin_array();
  for (std::size_t i = 0; i < report_.findings.clusters.size(); ++i) {
    const Cluster& cluster = report_.findings.clusters[i];
    if (!cluster.diagnoses.empty()) continue;
    json_.begin_object().key("cluster").number(i + 1).key("readings");
    reading_names(cluster.readings);
    json_.key("contradiction");
    reading_names(cluster.contradiction);
    json_.end_object();
  }
  json_.end_array();
}

void CompareJson::conflicts() {
  json_.key("conflicts").begin_array();
  for (const Conflict& conflict : report_.findings.conflicts) {
    json_.begin_object().key("clusters").begin_array();
    for (const std::size_t cluster : conflict.clusters) json_.number(cluster + 1);
    json_.end_array().key("reading").text(report_.readings.name(conflict.reading)).end_object();
  }
  json_.end_array();
}

void CompareJson::channels() {
  json_.key("channels").begin_array();
  for (std::size_t i = 0; i < report_.findings.channels.size(); ++i) channel(i);
  json_.end_array();
}

void CompareJson::channel(std::size_t number) {
  const Channel& drawn = report_.graph.netlist().channels[number];
  const ChannelResult& result = report_.findings.channels[number];
  json_.begin_object().key("point").text(report_.graph.netlist().points.name(drawn.point));
  json_.key("tag").text(drawn.tag).key("address").text(drawn.address).key("type").text(word(drawn.type));
  json_.key("state").text(word(result.state)).key("isolated").boolean(result.isolated);
  json_.key("unproven_elements").begin_array();
  for (const ElementId element : result.unproven_elements) json_.text(report_.graph.element_name(element));
  json_.end_array().key("clusters").begin_array();
  for (const std::size_t cluster : result.clusters) json_.number(cluster + 1);
  json_.end_array().end_object();
}

void CompareJson::unproven() {
  const auto elements = report::unproven_elements(report_.graph, report_.findings).elements;
  json_.key("unproven").begin_array();
  for (const ElementId element : elements)
    json_.object({{"name", report_.graph.element_name(element)},
                  {"kind", report_.graph.element_kind_word(element)},
                  {"sheet", report_.graph.element_sheet(element)}});
  json_.end_array();
}

void CompareJson::unknown() {
  json_.key("unknown").begin_array();
  std::size_t next = 0;
  for (std::uint32_t i = 0; i < report_.comparison.standing.size(); ++i) {
    if (report_.comparison.standing[i] != Standing::unknown_point) continue;
    if (next >= report_.comparison.unknown_points.size()) break;
    const Error& error = report_.comparison.unknown_points[next++];
    json_.begin_object().key("reading").text(report_.readings.name(ReadingId{i}));
    json_.key("message").text(to_text(error)).key("nearest").texts(error.nearest).end_object();
  }
  json_.end_array();
}

void CompareJson::with_standing(std::string_view key, Standing standing) {
  json_.key(key).begin_array();
  for (std::uint32_t i = 0; i < report_.comparison.standing.size(); ++i)
    if (report_.comparison.standing[i] == standing) json_.text(report_.readings.name(ReadingId{i}));
  json_.end_array();
}

void CompareJson::why_stale() {
  json_.key("why_stale").begin_array();
  for (const StaleReadings& group : stale_readings(report_.readings, report_.comparison)) {
    json_.begin_object().key("why").text(group.why).key("readings").begin_array();
    for (const ReadingId reading : group.readings) json_.text(report_.readings.name(reading));
    json_.end_array().end_object();
  }
  json_.end_array();
}

void CompareJson::complete() {
  const DiagnoseOptions& options = report_.options;
  std::size_t up_to = options.max_faults;
  for (const Cluster& cluster : report_.findings.clusters) up_to = std::min(up_to, cluster.complete_up_to);
  json_.key("complete").begin_object().key("max_faults").number(options.max_faults);
  json_.key("up_to").number(up_to).key("joint").boolean(options.joint);
  json_.key("least_share").number(options.least_share);
  json_.key("least_single_share").number(options.least_single_share);
  const auto clusters_that = [this](std::string_view key, bool Cluster::*is_so) {
    json_.key(key).begin_array();
    for (std::size_t i = 0; i < report_.findings.clusters.size(); ++i)
      if (report_.findings.clusters[i].*is_so) json_.number(i + 1);
    json_.end_array();
  };
  clusters_that("cut_short", &Cluster::cut_short);
  clusters_that("too_many", &Cluster::too_many);
  json_.end_object();
  json_.key("work").begin_object().key("sets_tried").number(report_.findings.nodes_expanded);
  json_.key("nets_relabelled").number(report_.findings.nets_relabelled).end_object();
}

}  // namespace

void compare_json(const CompareReport& report, const TextSink& sink) { CompareJson(report, sink).write(); }

std::string compare_json(const CompareReport& report) {
  std::string text;
  compare_json(report, [&](std::string_view part) { text += part; });
  return text;
}

}  // namespace ringtrue
