#include "fault_keys.hpp"
#include "ringtrue/report/faults_report.hpp"

// The keys and their meaning stand in netlists/schema/faults.schema.json; a test validates this output
// against it.

namespace ringtrue {

std::string faults_json(const FaultsReport& report) {
  report::JsonWriter json;
  json.begin_object();
  json.key("panel").text(report.graph.netlist().panel.name);
  json.key("revision").text(report.graph.netlist().panel.revision);
  json.key("faults").begin_array();
  for (const PossibleFault& one : report.faults) {
    const FaultParts parts = fault_parts(one.fault, report.graph, report.readings);
    json.begin_object();
    report::write_fault_keys(json, one.fault.kind, parts);
    json.key("probability").number(one.probability);
    if (one.fault.kind == FaultKind::bad_reading)
      json.key("reading").text(report.readings.name(one.fault.reading));
    if (one.fault.kind == FaultKind::wrong_value) json.key("silent").boolean(one.fault.above);
    json.end_object();
  }
  json.end_array().end_object();
  return json.take();
}

}  // namespace ringtrue
