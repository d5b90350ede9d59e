#include "drive_words.hpp"
#include "json_writer.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "ringtrue/report/words.hpp"

// The keys and their meaning stand in netlists/schema/drive.schema.json; a test validates this output against
// it.

namespace ringtrue {

namespace {

using logic::How;
using logic::Step;
using report::JsonWriter;

class DriveJson {
 public:
  explicit DriveJson(const ConductionGraph& graph) : graph_(graph) {}

  [[nodiscard]] std::string write(std::string_view logic, std::span<const DrivenOutput> outputs) {
    const PanelInfo& panel = graph_.netlist().panel;
    json_.begin_object().key("panel").text(panel.name).key("revision").text(panel.revision);
    json_.key("logic").text(logic).key("outputs").begin_array();
    for (const DrivenOutput& output : outputs) one(output);
    json_.end_array().end_object();
    return json_.take();
  }

 private:
  void one(const DrivenOutput& output) {
    const logic::Drive& drive = output.drive;
    const report::DriveWords words(graph_, output);
    const Channel& drawn = words.channel(drive.output);
    const logic::DriveVerdict verdict = logic::verdict_of(drive, output.outlet);
    json_.begin_object().key("point").text(graph_.netlist().points.name(drawn.point));
    json_.key("address").text(drawn.address).key("tag").text(drawn.tag);
    json_.key("verdict").text(word(verdict)).key("reason").text(words.reason());
    json_.key("whole").boolean(drive.is_whole).key("fewest_changes").boolean(drive.is_exact_order);
    json_.key("chained").boolean(drive.is_chained).key("oscillates").boolean(drive.oscillates);
    json_.key("needs").begin_array();
    for (const std::uint32_t variable : drive.needs) json_.text(words.input_name(variable));
    json_.end_array();
    json_.key("substitute")
        .texts(verdict == logic::DriveVerdict::substitute ? words.box() : std::vector<std::string>{});
    json_.key("responds").text(words.responds()).key("measure").text(words.measure());
    sources(words, drive);
    json_.key("rest").texts(words.at_rest());
    // What is never driven has nothing to be followed.
    const logic::Drive nothing;
    const bool is_shown = verdict != logic::DriveVerdict::not_testable;
    found(words, is_shown ? drive : nothing);
  }

  void found(const report::DriveWords& words, const logic::Drive& drive) {
    steps("steps", words, drive, {}, drive.steps);
    json_.key("pairs").begin_array();
    for (const logic::Pair& pair : drive.pairs) pair_of(words, drive, pair);
    json_.end_array().key("unpaired").begin_array();
    for (const logic::Unpaired& unpaired : drive.unpaired)
      json_.object({{"input", words.input_name(unpaired.variable)},
                    {"cause", word(unpaired.cause)},
                    {"text", words.cause(unpaired)}});
    json_.end_array().end_object();
  }

  void sources(const report::DriveWords& words, const logic::Drive& drive) {
    json_.key("sources").begin_array();
    for (const logic::Source& source : drive.sources) {
      json_.begin_object().key("how").text(word(source.how)).key("device").text(source.device);
      json_.key("role").text(word(source.role)).key("follows");
      if (source.how == How::follow)
        json_.text(words.input_name(source.output));
      else
        json_.null();
      json_.key("inputs").begin_array();
      for (const std::uint32_t variable : source.variables) json_.text(words.input_name(variable));
      json_.end_array().key("options").begin_array();
      for (const std::vector<double>& option : source.options) {
        json_.begin_array();
        for (const double value : option) json_.number(value);
        json_.end_array();
      }
      json_.end_array().end_object();
    }
    json_.end_array();
  }

  void pair_of(const report::DriveWords& words, const logic::Drive& drive, const logic::Pair& pair) {
    json_.begin_object().key("input").text(words.input_name(pair.variable));
    steps("prior", words, drive, {}, pair.prior);
    const logic::Choice& before = pair.prior.back().choice;
    steps("first", words, drive, before, pair.first);
    steps("second", words, drive, before, pair.second);
    json_.end_object();
  }

  /// `before` is what was set before the first step; empty if that is the start.
  void steps(std::string_view key, const report::DriveWords& words, const logic::Drive& drive,
             logic::Choice before, const std::vector<Step>& list) {
    json_.key(key).begin_array();
    for (const Step& step : list) {
      json_.begin_object()
          .key("kind")
          .text(kind_word(step.kind))
          .key("wait_ms")
          .number(std::size_t{step.wait_ms});
      json_.key("do").texts(before.empty() ? std::vector<std::string>{} : words.actions(before, step.choice));
      json_.key("together").boolean(step.is_together).key("inputs").begin_array();
      for (std::size_t i = 0; i < step.choice.size(); ++i)
        input_values(words, drive.sources[i], step.choice[i]);
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

  const ConductionGraph& graph_;
  JsonWriter json_;
};

}  // namespace

std::string drive_json(const ConductionGraph& graph, std::string_view logic,
                       std::span<const DrivenOutput> outputs) {
  return DriveJson(graph).write(logic, outputs);
}

}  // namespace ringtrue
