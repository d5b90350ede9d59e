#include "drive_lines.hpp"
#include "json_writer.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "stop_words.hpp"

// The keys and their meaning stand in netlists/schema/drive.schema.json; a test validates this output against
// it.

namespace ringtrue {

namespace {

using logic::How;
using logic::Step;
using report::JsonWriter;

class DriveJson {
 public:
  explicit DriveJson(const DriveReport& report) : report_(report), graph_(report.graph) {}

  [[nodiscard]] std::string write() {
    const PanelInfo& panel = graph_.netlist().panel;
    json_.begin_object().key("panel").text(panel.name).key("revision").text(panel.revision);
    json_.key("logic").text(report_.logic).key("fitted").begin_array();
    for (const auto& [channel, how] : report::fitted_channels(report_)) fitted(channel);
    json_.end_array().key("stop_circuits").begin_array();
    for (const logic::StopCircuit& circuit : report_.circuits) stop_circuit(circuit);
    json_.end_array().key("outputs").begin_array();
    for (const DrivenOutput& output : report_.outputs) one(output);
    json_.end_array().end_object();
    return json_.take();
  }

 private:
  void point(std::string_view key, PointId p) {
    json_.key(key);
    if (p == PointId::none)
      json_.null();
    else
      json_.text(graph_.netlist().points.name(p));
  }

  void fitted(std::size_t number) {
    const Channel& channel = graph_.netlist().channels[number];
    const InputTest& test = report_.fittings.tests[number];
    json_.begin_object().key("input").text(channel.tag.empty() ? channel.address : channel.tag);
    json_.key("test").text(word(test.kind));
    point("return", channel.return_point);
    point("field", channel.field);
    json_.key("do").text(report::fitting_words(number, report_)).key("verdict");
    if (test.jumper)
      json_.text(word(test.jumper->answer));
    else
      json_.null();
    json_.key("unproven_by").text(test.jumper ? test.jumper->unproven_by : "").key("reasons").begin_array();
    if (test.jumper)
      for (const WhyJumper& why : test.jumper->why)
        json_.text(jumper_reason_text(why, graph_, report_.options, Detail::everything));
    json_.end_array().end_object();
  }

  void stop_circuit(const logic::StopCircuit& circuit) {
    const report::StopWords words(circuit, graph_);
    json_.begin_object().key("relay").text(circuit.relay).key("role").text(word(circuit.role));
    json_.key("channels").begin_array();
    for (const logic::StopLoop& loop : circuit.channels) stop_loop(loop);
    json_.end_array().key("resets").begin_array();
    for (const logic::StopLoop& loop : circuit.resets) stop_loop(loop);
    json_.end_array().key("reset").text(words.reset()).key("moves").text(words.moves());
    json_.key("shown_by").begin_array();
    for (const logic::StopShown& shown : circuit.shown_by)
      json_.text(graph_.netlist().points.name(graph_.netlist().channels[shown.channel].point));
    json_.end_array().key("box").texts(words.box()).key("log").text(words.log_line());
    json_.key("steps").begin_array();
    const auto steps = words.steps();
    for (std::size_t i = 0; i < steps.size(); ++i) {
      json_.begin_object().key("do").text(steps[i].act).key("expect").text(steps[i].expect);
      json_.key("relay_in").boolean(circuit.steps[i].is_in);
      json_.key("depends_on_make").boolean(circuit.steps[i].depends_on_make).end_object();
    }
    json_.end_array().end_object();
  }

  void stop_loop(const logic::StopLoop& loop) {
    json_.begin_object().key("points").begin_array();
    for (const PointId p : loop.points) json_.text(graph_.netlist().points.name(p));
    json_.end_array().key("elements").begin_array();
    for (const ElementId e : loop.elements) json_.text(graph_.element_name(e));
    json_.end_array().key("contacts").begin_array();
    for (const ElementId e : loop.contacts) json_.text(graph_.element_name(e));
    json_.end_array().end_object();
  }

  void one(const DrivenOutput& output) {
    const logic::Drive& drive = output.drive;
    const report::DriveWords words(report_, output);
    const Channel& drawn = words.channel(drive.output);
    json_.begin_object().key("point").text(graph_.netlist().points.name(drawn.point));
    json_.key("address").text(drawn.address).key("tag").text(drawn.tag);
    json_.key("verdict").text(word(words.verdict())).key("reason").text(words.reason());
    json_.key("whole").boolean(drive.is_whole).key("fewest_changes").boolean(drive.is_exact_order);
    json_.key("oscillates").boolean(drive.oscillates);
    names("needs", words, drive.needs);
    names("refused", words, drive.refused);
    json_.key("responds").text(words.responds()).key("measure").text(words.measure());
    // What is never driven has nothing to be followed.
    const logic::Drive nothing;
    found(words, words.verdict() != logic::DriveVerdict::not_testable ? drive : nothing);
    json_.end_object();
  }

  void names(std::string_view key, const report::DriveWords& words, const std::vector<std::uint32_t>& list) {
    json_.key(key).begin_array();
    for (const std::uint32_t variable : list) json_.text(words.input_name(variable));
    json_.end_array();
  }

  void found(const report::DriveWords& words, const logic::Drive& drive) {
    sources(words, drive.sources);
    std::size_t number = drive.steps.empty() ? 0 : drive.steps.size() - 1;
    steps("steps", words, drive.sources, {}, drive.steps);
    json_.key("deciding");
    pair_set(words, drive.deciding, number);
    json_.key("with_box");
    if (drive.with_box)
      pair_set(words, *drive.with_box, number);
    else
      json_.null();
  }

  void sources(const report::DriveWords& words, const std::vector<logic::Source>& list) {
    json_.key("sources").begin_array();
    for (const logic::Source& source : list) {
      json_.begin_object().key("how").text(word(source.how)).key("device").text(source.device);
      json_.key("role").text(word(source.role)).key("refused").boolean(source.is_refused).key("follows");
      if (source.how == How::follow)
        json_.text(words.input_name(source.output));
      else
        json_.null();
      json_.key("inverted").boolean(source.is_inverted);
      names("inputs", words, source.variables);
      json_.key("options").begin_array();
      for (const std::vector<double>& option : source.options) {
        json_.begin_array();
        for (const double value : option) json_.number(value);
        json_.end_array();
      }
      json_.end_array().end_object();
    }
    json_.end_array().key("rest").texts(words.at_rest(list));
  }

  void pair_set(const report::DriveWords& words, const logic::PairSet& set, std::size_t& number) {
    const std::size_t first = number + 1;
    json_.begin_object();
    sources(words, set.sources);
    json_.key("chained").boolean(set.is_chained).key("fewest_changes").boolean(set.is_exact_order);
    json_.key("tests").begin_array();
    for (const logic::Trial& test : set.tests) {
      json_.begin_object().key("number").number(++number);
      steps("prior", words, set.sources, {}, test.prior);
      steps("steps", words, set.sources, test.prior.back().choice, test.steps);
      json_.key("watch_ms").number(std::size_t{test.watch_ms}).key("restart").boolean(test.must_restart);
      json_.key("back_ms").number(std::size_t{test.back_ms}).end_object();
    }
    json_.end_array().key("pairs").begin_array();
    for (const logic::Pair& pair : set.pairs)
      json_.begin_object()
          .key("input")
          .text(words.input_name(pair.variable))
          .key("first")
          .number(first + pair.first)
          .key("second")
          .number(first + pair.second)
          .end_object();
    json_.end_array().key("unpaired").begin_array();
    for (const logic::Unpaired& unpaired : set.unpaired)
      json_.object({{"input", words.input_name(unpaired.variable)},
                    {"cause", word(unpaired.cause)},
                    {"text", words.cause(unpaired, set.sources)}});
    json_.end_array().end_object();
  }

  /// `before` is what was set before the first step; empty if that is the start.
  void steps(std::string_view key, const report::DriveWords& words, const std::vector<logic::Source>& list,
             logic::Choice before, const std::vector<Step>& steps) {
    json_.key(key).begin_array();
    for (const Step& step : steps) {
      json_.begin_object().key("kind").text(kind_word(step.kind));
      json_.key("wait_ms").number(std::size_t{step.wait_ms});
      json_.key("do").texts(before.empty() ? std::vector<std::string>{}
                                           : words.actions(list, before, step, true));
      json_.key("first");
      if (step.first == logic::k_none)
        json_.null();
      else
        json_.text(words.input_name(list[step.first].variables.front()));
      json_.key("together").boolean(step.is_together).key("inputs").begin_array();
      for (std::size_t i = 0; i < step.choice.size(); ++i) input_values(words, list[i], step.choice[i]);
      json_.end_array().key("scans_ms").begin_array();
      for (const std::uint32_t ms : step.scans_ms) json_.number(std::size_t{ms});
      json_.end_array().key("output").boolean(step.is_on).end_object();
      before = step.choice;
    }
    json_.end_array();
  }

  void input_values(const report::DriveWords& words, const logic::Source& source, std::size_t option) {
    if (source.how == How::follow) return;
    for (std::size_t k = 0; k < source.variables.size(); ++k)
      json_.begin_object()
          .key("input")
          .text(words.input_name(source.variables[k]))
          .key("value")
          .number(source.options[option][k])
          .end_object();
  }

  static std::string_view kind_word(Step::Kind kind) {
    if (kind == Step::Kind::rest) return "rest";
    return kind == Step::Kind::wait ? "wait" : "change";
  }

  const DriveReport& report_;
  const ConductionGraph& graph_;
  JsonWriter json_;
};

}  // namespace

std::string drive_json(const DriveReport& report) { return DriveJson(report).write(); }

}  // namespace ringtrue
