#include <array>

#include "ringtrue/report/csv_sheet.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

constexpr std::array<std::string_view, 21> k_columns = {
    "channel",     "tag", "text",      "test",    "return", "return_place", "field",
    "field_place", "do",  "light",     "expect",  "jumper", "because",      "stimulus",
    "led",         "bit", "only_this", "verdict", "reason", "time",         "by"};
using Cells = std::array<std::string, k_columns.size()>;

/// As in a file of results; empty where whoever tests has a choice, or there is nothing to do.
std::string stimulus_of(const InputTest& test) {
  if (test.is_by_what_is_wired()) return std::string(word(Stimulus::operated));
  return test.kind == InputTestKind::jumper && test.is_there() ? std::string(word(Stimulus::jumper))
                                                               : std::string();
}

Cells cells_of(const InputTest& test, const ConductionGraph& graph, const JumperOptions& options) {
  const Channel& channel = graph.netlist().channels[test.trace.channel];
  const InputTestWords words = input_test_words(test, graph, options, Detail::everything);
  const auto name = [&](PointId p) { return p == PointId::none ? "" : graph.netlist().points.name(p); };
  const auto place = [&](PointId p) {
    return p == PointId::none ? "" : point_place(p, graph, Detail::everything);
  };
  const bool is_operated = test.is_by_what_is_wired();
  std::string act = words.act;
  if (!words.stands_for.empty()) act += " " + words.stands_for;
  return {name(channel.point),
          std::string(channel.tag),
          std::string(channel.text),
          words.what,
          name(channel.return_point),
          place(channel.return_point),
          name(channel.field),
          place(channel.field),
          act,
          words.led,
          words.expect,
          is_operated ? "" : words.verdict,
          is_operated ? "" : report::joined(words.reasons, " "),
          stimulus_of(test),
          "",
          "",
          "",
          "",
          "",
          "",
          ""};
}

}  // namespace

std::string jumper_csv(std::span<const InputTest> tests, const ConductionGraph& graph,
                       const JumperOptions& options) {
  std::string out;
  report::put_sheet_header(out, k_columns);
  for (const InputTest& test : tests) report::put_sheet_row(out, cells_of(test, graph, options));
  return out;
}

}  // namespace ringtrue
