#include "json_writer.hpp"
#include "ringtrue/report/job_report.hpp"
#include "ringtrue/report/signature_words.hpp"

// The keys and their meaning stand in netlists/schema/job.schema.json; a test validates this output against
// it.

namespace ringtrue {

namespace {

using report::JsonWriter;

void write_netlists(JsonWriter& json, const std::vector<JobNetlist>& netlists) {
  json.key("netlists").begin_array();
  std::size_t number = 0;
  for (const JobNetlist& netlist : netlists) {
    json.begin_object().key("number").number(++number).key("path").text(netlist.path);
    json.key("sha256").text(netlist.sha256).key("files").texts(netlist.files);
    json.key("as_built").boolean(netlist.is_as_built).key("readings").number(netlist.readings).end_object();
  }
  json.end_array();
}

void write_open_changes(JsonWriter& json, const Events& events) {
  json.key("open_temporary_changes").begin_array();
  for (const Event* event : open_temporary_changes(events)) {
    json.begin_object().key("id").text(event->id).key("time").text(event->time).key("by").text(event->by);
    json.key("points").texts(event->points).key("text").text(event->text).end_object();
  }
  json.end_array();
}

void write_signatures(JsonWriter& json, const JobContents& contents) {
  json.key("signatures").begin_array();
  for (const Signature& signature : contents.signatures.rows) {
    json.begin_object().key("role").text(word(signature.role)).key("by").text(signature.by);
    json.key("time").text(signature.time).key("text").text(signature.text).key("id").text(signature.id);
    json.key("netlist").number(static_cast<std::size_t>(signature.rows.netlists));
    json.key("netlist_sha256").text(signature.netlist_sha256);
    json.key("rows_sha256").text(signature.rows_sha256);
    json.key("reservations").texts(signature_reservations(signature, contents)).end_object();
  }
  json.end_array();
}

}  // namespace

std::string job_json(const JobContents& contents) {
  const Panel& panel = contents.panel;
  JsonWriter json;
  json.begin_object().key("panel").text(panel.netlist.panel.name);
  json.key("revision").text(panel.netlist.panel.revision);
  write_netlists(json, contents.netlists);
  json.key("readings").begin_object().key("current").number(panel.readings.rows.size());
  json.key("superseded").number(contents.superseded_readings);
  json.key("withdrawn").number(contents.withdrawn_readings).end_object();
  json.key("events").number(panel.events.rows.size());
  json.key("meters").number(panel.meters.rows.size());
  json.key("io_results").number(panel.io_results.rows.size());
  json.key("decisions").number(standing_decisions(panel.decisions).size());
  write_signatures(json, contents);
  write_open_changes(json, panel.events);
  json.end_object();
  return json.take();
}

}  // namespace ringtrue
