#include "json_writer.hpp"
#include "power_words.hpp"

// The keys and their meaning stand in netlists/schema/energise.schema.json; a test validates this output
// against it.

namespace ringtrue {

namespace {

using report::JsonWriter;

class PowerJson {
 public:
  explicit PowerJson(const PowerReport& report) : report_(report), netlist_(report.graph.netlist()) {}

  [[nodiscard]] std::string write() {
    json_.begin_object().key("panel").text(netlist_.panel.name).key("revision").text(netlist_.panel.revision);
    names("cautions", report::power_cautions());
    json_.key("before").begin_array();
    for (const report::Precondition& must : report::preconditions(report_, Detail::everything))
      json_.begin_object()
          .key("id")
          .text(must.id)
          .key("state")
          .text(must.state)
          .key("text")
          .text(must.text)
          .key("missing")
          .text(must.missing)
          .end_object();
    json_.end_array();
    names("open", report_.power_up.devices);
    names("unplugged", report_.power_up.unplugged);
    json_.key("steps").begin_array();
    for (std::size_t i = 0; i < report_.power_up.steps.size(); ++i) step(i);
    json_.end_array();
    json_.key("plug_in").begin_array();
    for (const PlugIn& plug : report_.power_up.plug_ins) plug_in(plug);
    json_.end_array();
    potentials("never_live", report_.power_up.never_live);
    json_.end_object();
    return json_.take();
  }

 private:
  void step(std::size_t number) {
    const PowerStep& step = report_.power_up.steps[number];
    json_.begin_object().key("action").text(word(step.action)).key("device").text(step.device);
    json_.key("kind").text(step.kind).key("sheet").text(step.sheet).key("is_fed").boolean(step.is_fed);
    potentials("goes_live", step.goes_live);
    measured("measure", step.readings);
    measured("pins", step.pins);
    json_.key("zero").begin_array();
    for (const MustBeZero& zero : step.zeros)
      json_.begin_object().key("red").text(name(zero.red)).key("black").text(name(zero.black)).end_object();
    json_.end_array();
    json_.key("unproven").begin_array();
    if (report_.before != nullptr)
      for (const ElementId e : report_.before->unproven_live[number])
        json_.text(report_.graph.element_name(e));
    json_.end_array();
    json_.key("cautions").texts(report::step_cautions(report_, number, Detail::everything)).end_object();
  }

  void plug_in(const PlugIn& plug) {
    json_.begin_object().key("part").text(plug.part).key("after_step");
    if (plug.after_step)
      json_.number(*plug.after_step + 1);
    else
      json_.null();
    measured("pins", plug.pins);
    json_.key("not_stated").begin_array();
    for (const PointId p : plug.not_stated) json_.text(name(p));
    json_.end_array().end_object();
  }

  void measured(std::string_view key, const std::vector<ExpectedVolts>& list) {
    json_.key(key).begin_array();
    for (const ExpectedVolts& expected : list) {
      json_.begin_object().key("red").text(name(expected.red)).key("black").text(name(expected.black));
      json_.key("volts").number(expected.volts).key("alternating").boolean(expected.alternating);
      json_.key("through").begin_array();
      for (const ElementId e : expected.through) json_.text(report_.graph.element_name(e));
      json_.end_array().key("also").begin_array();
      for (const PointId p : expected.also) json_.text(name(p));
      json_.end_array().end_object();
    }
    json_.end_array();
  }

  void names(std::string_view key, const std::vector<std::string_view>& list) {
    json_.key(key).begin_array();
    for (const std::string_view each : list) json_.text(each);
    json_.end_array();
  }

  void potentials(std::string_view key, const std::vector<std::uint32_t>& list) {
    json_.key(key).begin_array();
    for (const std::uint32_t i : list) json_.text(netlist_.potentials[i].name);
    json_.end_array();
  }

  [[nodiscard]] std::string name(PointId p) const { return netlist_.points.name(p); }

  const PowerReport& report_;
  const Netlist& netlist_;
  JsonWriter json_;
};

}  // namespace

std::string power_json(const PowerReport& report) { return PowerJson(report).write(); }

}  // namespace ringtrue
