#include <algorithm>

#include "planned_readings_json.hpp"
#include "ringtrue/report/retest_report.hpp"

// The keys and their meaning stand in netlists/schema/retest.schema.json; a test validates this output
// against it.

namespace ringtrue {

namespace {

using report::JsonWriter;

class RetestJson {
 public:
  explicit RetestJson(const RetestReport& report) : report_(report) {}

  [[nodiscard]] std::string write() {
    const PanelInfo &was = report_.before.netlist().panel, &is = report_.after.netlist().panel;
    json_.begin_object().key("panel").text(is.name);
    json_.key("revision_before").text(was.revision).key("revision_after").text(is.revision);
    rows("conductors", report_.difference.same_conductors, report_.difference.conductors);
    rows("parts", report_.difference.same_parts, report_.difference.parts);
    listings("channels", report_.difference.channels);
    listings("potentials", report_.difference.potentials);
    renamed();
    labels();
    json_.key("summary");
    summary();
    json_.key("readings").begin_array();
    if (report_.retest != nullptr)
      for (std::uint32_t i = 0; i < report_.retest->readings.size(); ++i) reading(i);
    json_.end_array().key("to_take");
    if (report_.plan != nullptr)
      report::write_planned_readings(json_, report_.plan->plan, report_.after);
    else
      json_.null();
    json_.end_object();
    return json_.take();
  }

 private:
  void row(std::string_view key, const ConductionGraph& graph, ElementId e) {
    json_.key(key);
    if (e == ElementId::none) return void(json_.null());
    const PointTable& points = graph.netlist().points;
    json_.object({{"name", graph.element_name(e)},
                  {"from", points.name(graph.end_a(e))},
                  {"to", points.name(graph.end_b(e))},
                  {"sheet", graph.element_sheet(e)}});
  }

  void rows(std::string_view key, std::size_t same, const std::vector<ChangedRow>& changed) {
    json_.key(key).begin_object().key("same").number(same).key("changes").begin_array();
    for (const ChangedRow& one : changed) {
      json_.begin_object().key("change").text(word(one.change));
      row("before", report_.before, one.before), row("after", report_.after, one.after);
      json_.end_object();
    }
    json_.end_array().end_object();
  }

  void listings(std::string_view key, const std::vector<ChangedListing>& changed) {
    json_.key(key).begin_array();
    for (const ChangedListing& row : changed) {
      json_.begin_object().key("change").text(word(row.change)).key("name").text(row.name);
      json_.key("fields").begin_array();
      for (const ChangedField& field : row.fields)
        json_.object({{"name", field.name}, {"before", field.before}, {"after", field.after}});
      json_.end_array().end_object();
    }
    json_.end_array();
  }

  void renamed() {
    json_.key("renamed").begin_array();
    for (const RenamedPart& part : report_.difference.renamed)
      json_.object({{"before", part.before}, {"after", part.after}});
    json_.end_array();
  }

  void labels() {
    const PointTable& points = report_.after.netlist().points;
    json_.key("labels").begin_array();
    for (const ChangedRow& one : report_.difference.conductors) {
      if (one.change != Change::renumbered) continue;
      for (const PointId end : {report_.after.end_a(one.after), report_.after.end_b(one.after)})
        json_.object({{"point", points.name(end)},
                      {"before", report_.before.element_name(one.before)},
                      {"after", report_.after.element_name(one.after)}});
    }
    json_.end_array();
  }

  void summary() {
    if (report_.retest == nullptr) return void(json_.null());
    json_.begin_object();
    for (std::size_t i = 0; i < k_validities; ++i) {
      std::string key(word(static_cast<Validity>(i)));
      std::replace(key.begin(), key.end(), '-', '_');
      json_.key(key).number(report_.retest->counts[i]);
    }
    json_.key("targets").number(report_.plan->plan.targets);
    json_.key("stay_proven").number(report_.plan->plan.proven_before);
    json_.key("to_take").number(report_.plan->plan.readings.size());
    json_.key("not_covered").number(report_.plan->plan.not_covered.size()).end_object();
  }

  void reading(std::uint32_t number) {
    const RetestedReading& one = report_.retest->readings[number];
    json_.begin_object().key("id").text(report_.readings.name(ReadingId{number}));
    json_.key("validity").text(word(one.validity)).key("clamp");
    if (one.clamp == PointId::none)
      json_.null();
    else
      json_.text(report_.before.netlist().points.name(one.clamp));
    report::write_names(json_, "proves", one.proves, report_.before);
    json_.end_object();
  }

  const RetestReport& report_;
  JsonWriter json_;
};

}  // namespace

std::string retest_json(const RetestReport& report) { return RetestJson(report).write(); }

}  // namespace ringtrue
