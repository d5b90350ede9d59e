#include "json_writer.hpp"
#include "locate_words.hpp"

// The keys and their meaning stand in netlists/schema/locate.schema.json; a test validates this output
// against it.

namespace ringtrue {

std::string locate_json(const LocateReport& report) {
  const ConductionGraph& graph = report.graph;
  const Netlist& netlist = graph.netlist();
  const auto name = [&](PointId p) { return netlist.points.name(p); };
  report::JsonWriter json;
  json.begin_object().key("panel").text(netlist.panel.name).key("revision").text(netlist.panel.revision);
  json.key("channel").text(name(netlist.channels[report.channel].point));
  json.key("minus").text(name(report.loop.minus())).key("volts").number(report.loop.volts);
  json.key("segments").begin_array();
  for (const LoopSegment& segment : report.loop.segments) {
    const bool is_element = segment.kind == SegmentKind::element;
    json.begin_object().key("kind").text(word(segment.kind));
    json.key("name").text(is_element ? graph.element_name(segment.element) : "");
    json.key("from").text(name(segment.from)).key("to").text(name(segment.to));
    json.key("sheet").text(is_element ? graph.element_sheet(segment.element) : "");
    json.key("proven").boolean(is_element && report.is_proven[index(segment.element)] != 0).end_object();
  }
  json.end_array().key("suspects").begin_array();
  for (const std::size_t suspect : report.located.suspects) json.number(suspect);
  json.end_array().key("next");
  if (report.located.next)
    json.text(name(*report.located.next));
  else
    json.null();
  json.key("at_most").number(report.located.further);
  json.key("supply_missing").boolean(report.located.is_supply_missing);
  json.key("contradictory").boolean(report.located.is_contradictory);
  json.key("unclear").begin_array();
  for (const PointId p : report.located.unclear) json.text(name(p));
  json.end_array().key("outcome").text(report::locate_outcome(report)).end_object();
  return json.take();
}

}  // namespace ringtrue
