#include "json_writer.hpp"
#include "ringtrue/report/check_report.hpp"

// The keys and their meaning stand in netlists/schema/check.schema.json; a test validates this output against
// it.

namespace ringtrue {

namespace {

using report::JsonWriter;

void write_row(JsonWriter& json, const Netlist& netlist, const ProblemRow& row) {
  json.begin_object().key("file").text(netlist.files[row.source.file]);
  json.key("line").number(std::size_t{row.source.line});
  json.key("sheet").text(row.sheet).key("what").text(row.what).end_object();
}

void write_problem(JsonWriter& json, const Netlist& netlist, const Problem& problem) {
  const Rule& rule = rules()[problem.rule];
  json.begin_object().key("rule").text(rule.id).key("severity").text(word(problem.severity));
  json.key("reason").text(problem.reason).key("source").text(rule.source);
  json.key("rows").begin_array();
  for (const ProblemRow& row : problem.rows) write_row(json, netlist, row);
  json.end_array().end_object();
}

}  // namespace

std::string check_json(const Netlist& netlist, const CheckReport& report) {
  JsonWriter json;
  json.begin_object().key("panel").text(netlist.panel.name).key("revision").text(netlist.panel.revision);
  json.key("summary").begin_object();
  json.key("errors").number(report.count(Severity::error));
  json.key("warnings").number(report.count(Severity::warning));
  json.key("notices").number(report.count(Severity::notice)).end_object();
  const NumberingFound& numbering = report.numbering;
  json.key("numbering").begin_object().key("convention").text(word(numbering.numbering));
  json.key("given").boolean(numbering.is_given).key("confidence").number(numbering.confidence);
  json.key("conductors").number(numbering.conductors).end_object();
  json.key("problems").begin_array();
  for (const Problem& problem : report.problems) write_problem(json, netlist, problem);
  json.end_array().end_object();
  return json.take();
}

}  // namespace ringtrue
