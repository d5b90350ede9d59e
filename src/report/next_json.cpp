#include "json_writer.hpp"
#include "next_words.hpp"
#include "ringtrue/report/next_report.hpp"
#include "ringtrue/report/words.hpp"

// The keys and their meaning stand in netlists/schema/next.schema.json; a test validates this output against
// it.

namespace ringtrue {

namespace {

using report::JsonWriter;

class NextJson {
 public:
  explicit NextJson(const NextReport& report) : report_(report) {}

  [[nodiscard]] std::string write() {
    const PanelInfo& panel = report_.graph.netlist().panel;
    json_.begin_object().key("panel").text(panel.name).key("revision").text(panel.revision);
    json_.key("findings").begin_array();
    for (std::size_t i = 0; i < report_.next.size(); ++i) finding(i);
    json_.end_array().end_object();
    return json_.take();
  }

 private:
  void finding(std::size_t number) {
    const Cluster& cluster = report_.findings.clusters[number];
    const NextReading& next = report_.next[number];
    json_.begin_object().key("cluster").number(number + 1).key("state").text(word(next.state));
    json_.key("explanations").number(cluster.diagnoses.size());
    json_.key("next_reading");
    report::write_next_reading(json_, &next, report_.graph, report_.readings);
    json_.key("again");
    if (next.again == ReadingId::none)
      json_.null();
    else
      json_.text(report_.readings.name(next.again));
    json_.key("bits").number(next.bits).key("bits_open").number(next.bits_open);
    json_.key("effort").number(next.effort);
    json_.key("outcomes").begin_array();
    for (const NextOutcome& one : next.outcomes) outcome(cluster, next, one);
    json_.end_array();
    const bool has_work = next.state != NextState::reading && !cluster.diagnoses.empty();
    json_.key("action").text(has_work ? words(cluster.diagnoses.front()).action : "");
    json_.end_object();
  }

  void outcome(const Cluster& cluster, const NextReading& next, const NextOutcome& outcome) {
    json_.begin_object().key("read").text(next.in_ohms ? "ohms" : outcome.beeps ? "beep" : "open");
    json_.key("ohms");
    if (next.in_ohms)
      json_.interval(outcome.ohms);
    else
      json_.null();
    json_.key("probability").number(outcome.probability).key("leaves").begin_array();
    for (const NextOutcome::Left& left : outcome.left) {
      json_.begin_object().key("explanation").number(left.diagnosis + 1);
      json_.key("probability").number(left.probability);
      json_.key("text").text(words(cluster.diagnoses[left.diagnosis]).text).end_object();
    }
    json_.end_array().end_object();
  }

  [[nodiscard]] FaultWords words(const Diagnosis& diagnosis) const {
    return fault_words(diagnosis.faults, report_.graph, report_.readings);
  }

  const NextReport& report_;
  JsonWriter json_;
};

}  // namespace

std::string next_json(const NextReport& report) { return NextJson(report).write(); }

}  // namespace ringtrue
