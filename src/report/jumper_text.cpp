#include <algorithm>
#include <array>

#include "input_volts.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_entry;
using report::append_wrapped;

class JumperText {
 public:
  JumperText(const ConductionGraph& graph, const JumperOptions& options, Detail detail)
      : graph_(graph), options_(options), detail_(detail) {}

  [[nodiscard]] std::string write(std::span<const InputTest> tests) {
    append_wrapped(
        out_,
        panel_label(graph_.netlist().panel) + ": input tests of " + report::counted(tests.size(), "channel"),
        0, 2);
    summary(tests);
    for (const InputTest& test : tests) channel(test);
    out_ += '\n';
    if (std::any_of(tests.begin(), tests.end(), [&](const InputTest& test) { return is_digital(test); }))
      append_wrapped(out_, report::input_volts_words(), 0, 0);
    for (const std::string_view caution : input_test_cautions()) append_wrapped(out_, caution, 0, 0);
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool is_digital(const InputTest& test) const {
    return graph_.netlist().channels[test.trace.channel].type == ChannelType::DI;
  }
  void summary(std::span<const InputTest> tests);
  void channel(const InputTest& test);
  void terminal(std::string_view label, PointId point);
  void entry(std::string_view label, std::string_view text) {
    if (!text.empty()) append_entry(out_, 2, label, 9, text);
  }

  const ConductionGraph& graph_;
  const JumperOptions& options_;
  Detail detail_;
  std::string out_;
};

void JumperText::summary(std::span<const InputTest> tests) {
  std::array<std::size_t, 3> count{};
  for (const InputTest& test : tests)
    if (test.jumper && !test.is_by_what_is_wired()) ++count[static_cast<std::size_t>(test.jumper->answer)];
  const auto of = [&](JumperAnswer answer) {
    return std::to_string(count[static_cast<std::size_t>(answer)]);
  };
  append_wrapped(
      out_,
      "Jumpers: " + of(JumperAnswer::offered) + " offered, " + of(JumperAnswer::hold) + " on hold, " +
          of(JumperAnswer::refused) + " refused; " +
          std::to_string(std::count_if(tests.begin(), tests.end(),
                                       [](const InputTest& test) { return test.is_by_what_is_wired(); })) +
          " operated where they are wired.",
      0, 2);
}

void JumperText::channel(const InputTest& test) {
  const Channel& drawn = graph_.netlist().channels[test.trace.channel];
  std::string line = graph_.netlist().points.name(drawn.point) + "  " + std::string(word(drawn.type));
  for (const std::string_view text : {drawn.address, drawn.tag, drawn.text})
    if (!text.empty()) line.append("  ").append(text);
  out_ += '\n' + line + '\n';
  const InputTestWords words = input_test_words(test, graph_, options_, detail_);
  entry("test", words.what);
  if (test.kind != InputTestKind::output) {
    terminal("return", drawn.return_point);
    terminal("field", drawn.field);
  }
  if (!test.is_by_what_is_wired()) {
    entry("jumper", words.verdict);
    for (const std::string& reason : words.reasons) entry("", reason);
  }
  entry("do", words.act);
  entry("LED", words.led);
  entry("expect", words.expect);
  entry("", words.stands_for);
}

void JumperText::terminal(std::string_view label, PointId point) {
  if (point == PointId::none) return;
  const std::string place = point_place(point, graph_, detail_);
  entry(label, graph_.netlist().points.name(point) + (place.empty() ? "" : " (" + place + ")"));
}

}  // namespace

std::string jumper_text(std::span<const InputTest> tests, const ConductionGraph& graph,
                        const JumperOptions& options, Detail detail) {
  return JumperText(graph, options, detail).write(tests);
}

}  // namespace ringtrue
