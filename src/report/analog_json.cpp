#include "analog_words.hpp"
#include "json_writer.hpp"
#include "ringtrue/report/analog_report.hpp"

// The keys and their meaning stand in netlists/schema/analog.schema.json; a test validates this output
// against it.

namespace ringtrue {

namespace {

using namespace report;

class AnalogJson {
 public:
  explicit AnalogJson(const AnalogReport& report) : report_(report), netlist_(report.graph.netlist()) {}

  [[nodiscard]] std::string write() {
    json_.begin_object().key("panel").text(netlist_.panel.name);
    json_.key("revision").text(netlist_.panel.revision).key("caution").text(k_io_caution);
    json_.key("tolerance_pct").number(report_.tolerance_pct);
    json_.key("tolerance_is_an_estimate").boolean(!report_.tolerance_is_given);
    json_.key("channels").begin_array();
    for (const AnalogSheet& sheet : report_.sheets) channel(sheet);
    json_.end_array();
    json_.key("seen").begin_array();
    for (const AnalogVerdict& verdict : report_.seen) seen(verdict);
    json_.end_array().end_object();
    return json_.take();
  }

 private:
  void channel(const AnalogSheet& sheet) {
    const Channel& drawn = netlist_.channels[sheet.channel];
    json_.begin_object().key("point").text(netlist_.points.name(drawn.point));
    json_.key("address").text(drawn.address).key("tag").text(drawn.tag).key("type").text(word(drawn.type));
    json_.key("signal").text(drawn.signal).key("signal_unit");
    if (sheet.scale)
      json_.text(unit_of(sheet.scale->signal.kind));
    else
      json_.null();
    json_.key("unit").text(drawn.unit).key("cold_junction");
    number(sheet.scale ? sheet.scale->cold_junction : std::nullopt);
    json_.key("lacking").begin_array();
    for (const AnalogGap gap : sheet.gaps) reason(words_of(gap));
    json_.end_array().key("connect");
    connect(sheet.hook_up);
    json_.key("points").begin_array();
    for (const AnalogPoint& point : sheet.points) this->point(point);
    json_.end_array().end_object();
  }

  void connect(const HookUp& hook_up) {
    if (hook_up.why_not) {
      json_.begin_object().key("nothing");
      reason(words_of(*hook_up.why_not));
      json_.end_object();
      return;
    }
    json_.begin_object().key("simulator").text(words_of(hook_up.simulator).id);
    json_.key("plus").text(netlist_.points.name(hook_up.plus));
    json_.key("minus").text(netlist_.points.name(hook_up.minus));
    json_.key("polarity_known").boolean(hook_up.polarity_known).key("further_leads").begin_array();
    for (const FurtherLead& lead : hook_up.further_leads)
      json_.begin_object()
          .key("terminal")
          .text(netlist_.points.name(lead.terminal))
          .key("device")
          .text(netlist_.points.name(lead.device))
          .end_object();
    json_.end_array().end_object();
  }

  void point(const AnalogPoint& point) {
    json_.begin_object().key("kind").text(report::word(point.kind)).key("percent");
    number(to_do(point.kind).empty() ? std::optional(point.percent) : std::nullopt);
    json_.key("signal");
    number(point.signal);
    json_.key("value");
    number(point.value);
    json_.key("raw");
    number(point.raw);
    json_.end_object();
  }

  void seen(const AnalogVerdict& verdict) {
    const AnalogPoint& point = verdict.point;
    json_.begin_object().key("kind").text(report::word(point.kind)).key("percent");
    number(to_do(point.kind).empty() ? std::optional(point.percent) : std::nullopt);
    json_.key("expected");
    number(verdict.expected);
    json_.key("seen");
    number(verdict.seen);
    json_.key("unit").text(unit_of_seen(report_)).key("error_pct");
    number(verdict.expected && verdict.seen ? std::optional(verdict.error_pct) : std::nullopt);
    json_.key("verdict").text(verdict.is_good ? "pass" : "fail").end_object();
  }

  void reason(const IdAndText& words) {
    json_.begin_object().key("id").text(words.id).key("text").text(words.text).end_object();
  }

  void number(const std::optional<double>& value) {
    if (value)
      json_.number(*value);
    else
      json_.null();
  }

  const AnalogReport& report_;
  const Netlist& netlist_;
  JsonWriter json_;
};

}  // namespace

std::string analog_json(const AnalogReport& report) { return AnalogJson(report).write(); }

}  // namespace ringtrue
