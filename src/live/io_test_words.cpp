#include "ringtrue/live/io_test_words.hpp"

#include <algorithm>

#include "ringtrue/report/analog_report.hpp"
#include "ringtrue/report/io_record.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "ringtrue/report/panel_words.hpp"

namespace ringtrue {

namespace {

class Words {
 public:
  Words(const IoTest& test, const ConductionGraph& graph)
      : test_(test), graph_(graph), channel_(graph.netlist().channels[test.channel]) {}

  [[nodiscard]] IoTestWords all() {
    said_.kind = word(test_.input.kind);
    if (test_.analog)
      analog();
    else if (test_.outlet)
      output();
    else
      input();
    return std::move(said_);
  }

 private:
  void input() {
    InputTest offered = test_.input;
    const bool is_fitted = offered.kind == InputTestKind::jumper || offered.kind == InputTestKind::sensor ||
                           offered.kind == InputTestKind::namur;
    if (is_fitted) answer(offered);
    const InputTestWords words = input_test_words(offered, graph_, {}, Detail::short_lists);
    said_.what = words.what, said_.act = words.act, said_.led = words.led;
    said_.expect = words.expect, said_.stands_for = words.stands_for;
    const InputRecord record = input_record(test_.input, graph_);
    if (record.stimulus)
      said_.stimulus = word(*record.stimulus), said_.acted = record.acted, said_.back = record.back,
      said_.lit_when_acted = record.lit_when_acted;
    if (test_.input.kind == InputTestKind::none) {
      said_.answer = word(JumperAnswer::refused);
      said_.reasons = words.reasons;
    }
    if (!is_fitted || said_.answer == word(JumperAnswer::refused)) return;
    const bool is_way = offered.kind == InputTestKind::jumper;
    place(is_way ? "from" : "between", channel_.return_point);
    place(is_way ? "to" : "and", channel_.field);
    if (offered.third != PointId::none) place("third lead", offered.third);
  }

  /// Says the answer and its reasons, and leaves in `offered` what makes the words those of an offer.
  void answer(InputTest& offered) {
    const bool is_there = test_.input.is_there();
    JumperVerdict& jumper = *offered.jumper;
    const auto reason_counts = [&](const WhyJumper& why) { return is_there || is_refusal(why.reason); };
    for (const WhyJumper& why : jumper.why)
      if (reason_counts(why) && !(is_there && is_refusal(why.reason)))
        said_.reasons.push_back(jumper_reason_text(why, graph_, {}, Detail::short_lists));
    said_.answer = word(!is_there               ? JumperAnswer::refused
                        : said_.reasons.empty() ? JumperAnswer::offered
                                                : JumperAnswer::hold);
    if (jumper.answer == JumperAnswer::hold) jumper.answer = JumperAnswer::offered;
  }

  void analog() {
    said_.what = std::string(word(channel_.type)) + (channel_.signal.empty() ? "" : ", ") +
                 std::string(channel_.signal);
    said_.stimulus = word(channel_.type == ChannelType::AI ? Stimulus::simulator : Stimulus::forced);
    said_.act = "Connect " + hook_up_text(*test_.analog, graph_);
    const HookUp& hook_up = test_.analog->hook_up;
    if (hook_up.why_not) said_.answer = word(JumperAnswer::refused);
    if (hook_up.why_not) return;
    place(hook_up.polarity_known ? "plus" : "between", hook_up.plus);
    place(hook_up.polarity_known ? "minus" : "and", hook_up.minus);
    for (const FurtherLead& lead : hook_up.further_leads) place("further lead", lead.terminal);
  }

  void output() {
    const OutputRecord record = output_record(*test_.outlet, graph_);
    said_.stimulus = word(test_.outlet->role == Role::none ? Stimulus::logic : Stimulus::substitute);
    said_.what = "output" + (channel_.device.empty() ? "" : " to " + std::string(channel_.device));
    said_.act =
        test_.outlet->role == Role::none
            ? "Drive it by its logic: the sheet of ringtrue drive says how."
            : "Its feed passes a " + std::string(word(test_.outlet->role)) +
                  " circuit: only with a box of real stop devices, per the licensed procedure. The sheet of "
                  "ringtrue drive says how; never by jumpers.";
    said_.expect = record.expected();
    said_.responds = record.responds;
    place("between", channel_.field);
    place("and", channel_.return_point);
    said_.led = channel_.led;
    if (!channel_.module.empty() && !channel_.led.empty()) said_.led += " on " + std::string(channel_.module);
  }

  void place(std::string_view use, PointId point) {
    if (point == PointId::none) return;
    said_.places.push_back({std::string(use), graph_.netlist().points.name(point),
                            point_place(point, graph_, Detail::short_lists)});
  }

  const IoTest& test_;
  const ConductionGraph& graph_;
  const Channel& channel_;
  IoTestWords said_;
};

}  // namespace

IoTestWords io_test_words(const IoTest& test, const ConductionGraph& graph) {
  return Words(test, graph).all();
}

}  // namespace ringtrue
