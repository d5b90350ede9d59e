#include "certificate_json.hpp"
#include "plan_words.hpp"
#include "planned_readings_json.hpp"
#include "ringtrue/report/plan_report.hpp"

// The keys and their meaning stand in netlists/schema/plan.schema.json; a test validates this output against
// it.

namespace ringtrue {

namespace {

using report::JsonWriter;

class PlanJson {
 public:
  explicit PlanJson(const PlanReport& report) : report_(report), plan_(report.plan), graph_(report.graph) {}

  [[nodiscard]] std::string write() {
    const PanelInfo& panel = graph_.netlist().panel;
    json_.begin_object().key("panel").text(panel.name).key("revision").text(panel.revision);
    json_.key("goal").text(word(report_.options.goal)).key("isolation");
    if (report_.options.goal == Goal::identify)
      json_.text(word(report_.options.isolation));
    else
      json_.null();
    json_.key("summary");
    summary();
    json_.key("walk");
    walk(plan_.walk);
    json_.key("wire_by_wire");
    walk(plan_.wire_by_wire);
    json_.key("conditions").begin_array();
    for (const PlanCondition& condition : plan_.conditions)
      json_.begin_object()
          .key("conditions")
          .text(condition.text)
          .key("lifts")
          .number(condition.lifts)
          .end_object();
    json_.end_array().key("readings");
    report::write_planned_readings(json_, plan_, graph_);
    json_.key("not_covered").begin_array();
    for (const NotCovered& one : plan_.not_covered) {
      json_.begin_object().key("element").text(graph_.element_name(one.element));
      json_.key("why").text(word(one.why));
      report::write_names(json_, "witness", one.witness, graph_);
      json_.end_object();
    }
    json_.end_array().key("group_tests").begin_array();
    for (const GroupTests& tests : plan_.group_tests) group_tests(tests);
    json_.end_array().key("certificate");
    report::write_certificate(json_, report_.certificate);
    json_.end_object();
    return json_.take();
  }

 private:
  void summary() {
    json_.begin_object().key("readings").number(plan_.readings.size());
    json_.key("targets").number(plan_.targets).key("proven_before").number(plan_.proven_before);
    json_.key("not_covered").number(plan_.not_covered.size());
    json_.key("at_rest").number(plan_.at_rest).key("least_at_rest").number(plan_.least_at_rest);
    json_.key("lifts").number(plan_.lifts).key("near_faults_only").boolean(plan_.near_faults_only);
    json_.key("contradictions").number(report_.contradictions);
    json_.end_object();
  }

  void walk(const WalkFigures& walk) {
    json_.begin_object().key("readings").number(walk.readings).key("moves").number(walk.moves);
    json_.key("conditions").number(walk.conditions).key("effort").number(walk.effort).end_object();
  }

  void group_tests(const GroupTests& tests) {
    const PlanCondition& condition = plan_.conditions[tests.condition];
    json_.begin_object().key("conditions").text(condition.text).key("tests").number(std::size_t{tests.tests});
    json_.key("tests_stuck").number(std::size_t{tests.tests_stuck});
    json_.key("tests_locating").number(std::size_t{tests.tests_locating}).key("bundles").begin_array();
    for (std::size_t i = 0; i < tests.bundles.size(); ++i) {
      json_.begin_object().key("clips").text(report::clips_of(tests.codes[i], tests.tests));
      json_.key("points").begin_array();
      for (const PointId point : tests.bundles[i]) json_.text(point_name(point, condition.made, graph_));
      json_.end_array().end_object();
    }
    json_.end_array().end_object();
  }

  const PlanReport& report_;
  const Plan& plan_;
  const ConductionGraph& graph_;
  JsonWriter json_;
};

}  // namespace

std::string plan_json(const PlanReport& report) { return PlanJson(report).write(); }

}  // namespace ringtrue
