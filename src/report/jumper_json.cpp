#include "json_writer.hpp"
#include "ringtrue/report/jumper_report.hpp"

// The keys and their meaning stand in netlists/schema/jumper.schema.json; a test validates this output
// against it.

namespace ringtrue {

namespace {

using report::JsonWriter;

void put_point(JsonWriter& json, std::string_view key, PointId p, const ConductionGraph& graph) {
  json.key(key);
  if (p == PointId::none)
    json.null();
  else
    json.text(graph.netlist().points.name(p));
}

void put_verdict(JsonWriter& json, const JumperVerdict& verdict, const ConductionGraph& graph,
                 const JumperOptions& options) {
  json.begin_object().key("answer").text(word(verdict.answer)).key("unproven_by").text(verdict.unproven_by);
  json.key("reasons").begin_array();
  for (const WhyJumper& why : verdict.why) {
    json.begin_object().key("id").text(word(why.reason)).key("refuses").boolean(is_refusal(why.reason));
    json.key("names").texts(why.names).key("elements").begin_array();
    for (const ElementId e : why.elements) json.text(graph.element_name(e));
    json.end_array().key("to_read").begin_array();
    for (const auto& [from, to] : why.to_read)
      json.begin_object()
          .key("from")
          .text(graph.netlist().points.name(from))
          .key("to")
          .text(graph.netlist().points.name(to))
          .end_object();
    json.end_array();
    json.key("text").text(jumper_reason_text(why, graph, options, Detail::everything)).end_object();
  }
  json.end_array().end_object();
}

void put_test(JsonWriter& json, const InputTest& test, const ConductionGraph& graph,
              const JumperOptions& options) {
  const Channel& channel = graph.netlist().channels[test.trace.channel];
  const InputTestWords words = input_test_words(test, graph, options, Detail::everything);
  json.begin_object();
  put_point(json, "point", channel.point, graph);
  json.key("type").text(word(channel.type)).key("address").text(channel.address).key("tag").text(channel.tag);
  json.key("test").text(word(test.kind)).key("what").text(words.what);
  put_point(json, "return", channel.return_point, graph);
  put_point(json, "field", channel.field, graph);
  put_point(json, "third", test.third, graph);
  json.key("device").text(channel.device);
  json.key("module").text(channel.module).key("led").text(channel.led);
  json.key("lit_at_rest").boolean(test.lit_at_rest).key("do").text(words.act);
  json.key("expect").text(words.expect).key("stands_for").text(words.stands_for);
  json.key("also").begin_array();
  for (const std::size_t i : test.also)
    json.text(graph.netlist().points.name(graph.netlist().channels[i].point));
  json.end_array().key("jumper");
  if (test.jumper)
    put_verdict(json, *test.jumper, graph, options);
  else
    json.null();
  json.end_object();
}

}  // namespace

std::string jumper_json(std::span<const InputTest> tests, const ConductionGraph& graph,
                        const JumperOptions& options) {
  JsonWriter json;
  json.begin_object().key("panel").text(graph.netlist().panel.name);
  json.key("revision").text(graph.netlist().panel.revision);
  json.key("tests").begin_array();
  for (const InputTest& test : tests) put_test(json, test, graph, options);
  json.end_array().key("cautions").begin_array();
  for (const std::string_view caution : input_test_cautions()) json.text(caution);
  json.end_array().end_object();
  return json.take();
}

}  // namespace ringtrue
