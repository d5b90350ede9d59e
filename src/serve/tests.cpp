#include "serve/tests.hpp"

#include <numeric>

#include "ringtrue/live/io_test_words.hpp"
#include "ringtrue/report/analog_report.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "serve/json.hpp"

namespace ringtrue::serve {

namespace {

Json optional_number(const std::optional<double>& number) { return number ? Json(*number) : Json(nullptr); }

Json analog(const IoTest& test, const Channel& channel) {
  if (!test.analog || !test.analog->scale) return nullptr;
  const AnalogScale& scale = *test.analog->scale;
  const bool is_input = channel.type == ChannelType::AI;
  Json points = Json::array();
  for (const AnalogPoint& point : test.analog->points)
    if (point.kind == AnalogPoint::Kind::in_range)
      points.push_back({{"percent", point.percent},
                        {"signal", optional_number(point.signal)},
                        {"value", optional_number(point.value)},
                        {"raw", optional_number(point.raw)}});
  const std::string_view signal_unit = unit_of(scale.signal.kind);
  return {{"signal_unit", signal_unit},
          {"unit", channel.unit},
          {"seen_unit", is_input ? channel.unit : signal_unit},
          {"feeds", is_input},
          {"tolerance_pct", k_default_tolerance_pct},
          {"points", std::move(points)}};
}

Json row(const IoResult& result, ChannelType type) {
  return {{"id", result.id},
          {"stimulus", word(result.stimulus)},
          {"given", result.given},
          {"led", word(result.led)},
          {"bit", word(result.bit)},
          {"value", result.value},
          {"only_this", word(result.only_this)},
          {"verdict", word(result.verdict)},
          {"shown", shown_by(result, type)},
          {"reason", result.reason},
          {"revision", result.revision},
          {"by", result.by},
          {"time", result.time}};
}

Json test_json(const IoTest& test, const LiveJob& live) {
  const ConductionGraph& graph = live.drawing()->graph;
  const Channel& channel = graph.netlist().channels[test.channel];
  const IoTestWords words = io_test_words(test, graph);
  const std::vector<const IoResult*> results = results_of(test, graph, live.io_results());
  Json places = Json::array(), rows = Json::array();
  for (const IoPlace& place : words.places)
    places.push_back({{"use", place.use}, {"point", place.point}, {"place", place.place}});
  for (const IoResult* result : results) rows.push_back(row(*result, channel.type));
  return {{"point", graph.netlist().points.name(channel.point)},
          {"type", word(channel.type)},
          {"address", channel.address},
          {"tag", channel.tag},
          {"text", channel.text},
          {"test", words.kind},
          {"stimulus", words.stimulus},
          {"what", words.what},
          {"do", words.act},
          {"answer", words.answer},
          {"reasons", words.reasons},
          {"places", std::move(places)},
          {"led", words.led},
          {"expect", words.expect},
          {"stands_for", words.stands_for},
          {"acted", words.acted},
          {"back", words.back},
          {"lit_when_acted", words.lit_when_acted},
          {"responds", words.responds},
          {"analog", analog(test, channel)},
          {"shown", shown_of(test, graph, results)},
          {"results", std::move(rows)}};
}

std::string tests_text(const LiveJob& live) {
  const ConductionGraph& graph = live.drawing()->graph;
  std::vector<std::size_t> channels(graph.netlist().channels.size());
  std::iota(channels.begin(), channels.end(), std::size_t{0});
  Json all = Json::array();
  for (const IoTest& test : io_tests(graph, channels, &live.state().findings()))
    all.push_back(test_json(test, live));
  Json cautions = Json::array();
  for (const std::string_view caution : input_test_cautions()) cautions.push_back(caution);
  return text_of({{"tests", std::move(all)}, {"cautions", std::move(cautions)}});
}

}  // namespace

const std::string& TestsText::text(const LiveJob& live) {
  if (of_ != live.generation()) text_ = tests_text(live), of_ = live.generation();
  return text_;
}

}  // namespace ringtrue::serve
