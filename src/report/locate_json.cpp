#include <cmath>

#include "json_writer.hpp"
#include "locate_words.hpp"

// The keys and their meaning stand in netlists/schema/locate.schema.json; a test validates this output
// against it.

namespace ringtrue {

namespace {

using report::JsonWriter;

class LocateJson {
 public:
  explicit LocateJson(const LocateReport& report)
      : report_(report), graph_(report.graph), netlist_(report.graph.netlist()) {}

  [[nodiscard]] std::string write() {
    const Located& found = report_.located;
    json_.begin_object().key("panel").text(netlist_.panel.name).key("revision").text(netlist_.panel.revision);
    json_.key("channel").text(name(netlist_.channels[report_.loop.channel].point));
    json_.key("minus").text(name(report_.loop.minus())).key("volts").number(report_.loop.volts);
    segments();
    findings();
    readings();
    indices("suspects", found.suspects);
    json_.key("next");
    if (found.next)
      json_.text(name(*found.next));
    else
      json_.null();
    json_.key("split").text(word(report_.by));
    left("left", found.left);
    left("left_by_count", found.left_by_count);
    json_.key("supply_missing").boolean(found.is_supply_missing);
    json_.key("contradictory").boolean(found.is_contradictory);
    json_.key("unclear").begin_array();
    for (const PointId p : found.unclear) json_.text(name(p));
    json_.end_array().key("outcome").text(report::locate_outcome(report_)).end_object();
    return json_.take();
  }

 private:
  void segments() {
    json_.key("segments").begin_array();
    for (std::size_t i = 0; i < report_.loop.segments.size(); ++i) {
      const LoopSegment& segment = report_.loop.segments[i];
      const bool has_element = segment.element != ElementId::none;
      json_.begin_object().key("kind").text(word(segment.kind));
      json_.key("name").text(has_element ? graph_.element_name(segment.element) : "");
      json_.key("from").text(name(segment.from)).key("to").text(name(segment.to));
      json_.key("sheet").text(has_element ? graph_.element_sheet(segment.element) : "");
      json_.key("proven").boolean(report_.evidence.is_proven[i] != 0);
      json_.key("open_at_rest").boolean(report::is_open_at_rest(segment, graph_));
      json_.key("weight").number(report_.evidence.weights[i]).end_object();
    }
    json_.end_array();
  }

  void findings() {
    json_.key("findings").begin_array();
    for (const report::LoopFinding& finding : report::loop_findings(report_)) {
      json_.begin_object().key("cluster").number(finding.number).key("text").text(finding.text);
      indices("segments", finding.segments);
      json_.end_object();
    }
    json_.end_array();
  }

  void readings() {
    const LoopReadings& found = report_.loop_readings;
    json_.key("taken").begin_array();
    for (const auto& [reading, volts] : found.taken)
      json_.begin_object()
          .key("id")
          .text(report_.readings.name(reading))
          .key("point")
          .text(name(volts.point))
          .key("volts")
          .number(volts.volts)
          .end_object();
    json_.end_array().key("not_taken").begin_array();
    for (const LoopReadings::NotTaken& each : found.not_taken)
      json_.begin_object()
          .key("id")
          .text(report_.readings.name(each.reading))
          .key("why")
          .text(word(each.why))
          .end_object();
    json_.end_array().key("seen");
    if (found.seen)
      json_.begin_object()
          .key("id")
          .text(report_.readings.name(*found.seen))
          .key("value")
          .text(to_text(report_.readings.rows[index(*found.seen)].value))
          .end_object();
    else
      json_.null();
  }

  void left(std::string_view key, const VoltagesLeft& left) {
    json_.key(key).begin_object().key("at_most").number(left.at_most);
    json_.key("on_average").number(std::round(left.on_average * 1000) / 1000).end_object();
  }

  void indices(std::string_view key, const std::vector<std::size_t>& list) {
    json_.key(key).begin_array();
    for (const std::size_t each : list) json_.number(each);
    json_.end_array();
  }

  [[nodiscard]] std::string name(PointId p) const { return netlist_.points.name(p); }

  const LocateReport& report_;
  const ConductionGraph& graph_;
  const Netlist& netlist_;
  JsonWriter json_;
};

}  // namespace

std::string locate_json(const LocateReport& report) { return LocateJson(report).write(); }

}  // namespace ringtrue
