#include "json_writer.hpp"
#include "ringtrue/report/expect_report.hpp"
#include "way_words.hpp"

// The keys and their meaning stand in netlists/schema/expect.schema.json; a test validates this output
// against it.

namespace ringtrue {

namespace {

using report::JsonWriter;

class ExpectJson {
 public:
  explicit ExpectJson(const ExpectReport& report) : report_(report), graph_(report.graph) {}

  [[nodiscard]] std::string write() {
    const PanelInfo& panel = graph_.netlist().panel;
    const Expectation& first = report_.meters.front().expectation;
    json_.begin_object().key("panel").text(panel.name).key("revision").text(panel.revision);
    json_.key("from").text(report_.from).key("to").text(report_.to).key("conditions").text(report_.when);
    json_.key("ohms").interval(first.ohms);
    json_.key("ohms_with_leads_exchanged").interval(report_.exchanged.value_or(first.ohms));
    json_.key("ways").begin_array();
    for (const Way& each : first.ways) way(each);
    json_.end_array().key("has_more_ways").boolean(first.has_more_ways);
    json_.key("meters").begin_array();
    for (const ExpectReport::WithMeter& with : report_.meters) meter(with);
    json_.end_array().end_object();
    return json_.take();
  }

 private:
  void way(const Way& way) {
    json_.begin_object().key("copper").boolean(way.is_copper).key("ohms").interval(way.ohms);
    json_.key("elements").begin_array();
    for (std::size_t i = 0; i < way.edges.size(); ++i) {
      const ElementId e = way.edges[i].element;
      json_.begin_object();
      json_.key("name").text(e == ElementId::none ? "" : graph_.element_name(e));
      json_.key("kind").text(e == ElementId::none ? "temporary" : graph_.element_kind_word(e));
      json_.key("from").text(report::point_name(way, i, graph_));
      json_.key("to").text(report::point_name(way, i + 1, graph_));
      json_.key("sheet").text(e == ElementId::none ? "" : graph_.element_sheet(e));
      json_.key("ohms").interval(way.values[i]);
      json_.end_object();
    }
    json_.end_array().end_object();
  }

  void meter(const ExpectReport::WithMeter& with) {
    const Expectation& made = with.expectation;
    json_.begin_object().key("meter").text(with.meter);
    json_.key("threshold").number(with.settings.threshold.value);
    json_.key("buzzer").text(word(made.buzzer));
    names("causes", made.causes);
    json_.key("hidden").begin_array();
    for (const HiddenBreak& broken : made.hidden) {
      json_.begin_object();
      names("elements", broken.elements);
      json_.key("second_way");
      way(broken.second);
      json_.end_object();
    }
    json_.end_array().key("steps");
    if (made.steps)
      steps(made);
    else
      json_.null();
    json_.end_object();
  }

  void steps(const Expectation& made) {
    json_.begin_object().key("conditions").texts(made.steps->settings);
    json_.key("fewest").boolean(made.steps->searched_whole);
    json_.key("buzzer").text(word(made.after_steps)).end_object();
  }

  void names(std::string_view key, const std::vector<ElementId>& elements) {
    json_.key(key).begin_array();
    for (const ElementId e : elements) json_.text(graph_.element_name(e));
    json_.end_array();
  }

  const ExpectReport& report_;
  const ConductionGraph& graph_;
  JsonWriter json_;
};

}  // namespace

std::string expect_json(const ExpectReport& report) { return ExpectJson(report).write(); }

}  // namespace ringtrue
