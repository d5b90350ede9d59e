#include "ringtrue/live/io_test.hpp"

#include <algorithm>
#include <set>

#include "ringtrue/graph/trace.hpp"
#include "ringtrue/report/analog_report.hpp"

namespace ringtrue {

namespace {

constexpr double k_percents[] = {0, 25, 50, 75, 100};

/// What the record of an analog point says was given, by which a result is known to be of it.
std::set<std::string> given_at_five_points(const AnalogSheet& sheet, const ConductionGraph& graph) {
  const bool is_output = graph.netlist().channels[sheet.channel].type == ChannelType::AO;
  AnalogReport report{graph, {sheet}, {}, is_output ? SeenAs::signal : SeenAs::value};
  std::set<std::string> all;
  for (const double percent : k_percents) {
    report.seen.assign(1, AnalogVerdict{});
    report.seen.front().point = sheet.scale->point_at(percent);
    if (report.seen.front().point.signal) all.insert(analog_record(report, 0).given);
  }
  return all;
}

/// By what revisions touched, where a job knows that, else by the revision's label.
bool is_of_another(const IoResult& result, std::string_view revision) {
  if (result.outdated) return !result.outdated->empty();
  return !result.revision.empty() && !revision.empty() && result.revision != revision;
}

std::string_view shown_by_all(const IoTest& test, const ConductionGraph& graph,
                              const std::vector<const IoResult*>& results) {
  const ChannelType type = graph.netlist().channels[test.channel].type;
  if (!test.analog || !test.analog->scale) return shown_by(*results.back(), type);
  std::set<std::string> missing = given_at_five_points(*test.analog, graph);
  for (const IoResult* result : results) {
    if (result->verdict == IoVerdict::fail) return word(IoVerdict::fail);
    if (result->verdict == IoVerdict::pass) missing.erase(result->given);
  }
  return word(missing.empty() ? IoVerdict::pass : IoVerdict::incomplete);
}

}  // namespace

std::vector<IoTest> io_tests(const ConductionGraph& graph, std::span<const std::size_t> channels,
                             const Findings* findings) {
  const Supplies supplies(graph);
  std::vector<InputTest> inputs = input_tests(graph, channels, findings);
  std::vector<IoTest> tests;
  for (std::size_t i = 0; i < channels.size(); ++i) {
    IoTest test{channels[i], std::move(inputs[i]), {}, {}};
    const ChannelType type = graph.netlist().channels[channels[i]].type;
    if (type == ChannelType::AI || type == ChannelType::AO) test.analog = analog_sheet(supplies, channels[i]);
    if (type == ChannelType::DO) test.outlet = logic::outlet_of(graph, channels[i]);
    tests.push_back(std::move(test));
  }
  return tests;
}

std::vector<const IoResult*> results_of(const IoTest& test, const ConductionGraph& graph,
                                        const IoResults& results) {
  const Channel& channel = graph.netlist().channels[test.channel];
  const std::string point = graph.netlist().points.name(channel.point);
  std::vector<const IoResult*> last;
  for (const IoResult& result : results.rows) {
    if (result.channel != point && (channel.address.empty() || result.channel != channel.address) &&
        (channel.tag.empty() || result.channel != channel.tag))
      continue;
    std::erase_if(last,
                  [&](const IoResult* earlier) { return !test.analog || earlier->given == result.given; });
    last.push_back(&result);
  }
  return last;
}

std::string_view shown_of(const IoTest& test, const ConductionGraph& graph,
                          const std::vector<const IoResult*>& results) {
  if (results.empty()) return "not tested";
  const std::string_view shown = shown_by_all(test, graph, results);
  const bool is_older = std::any_of(results.begin(), results.end(), [&](const IoResult* result) {
    return is_of_another(*result, graph.netlist().panel.revision);
  });
  return shown == word(IoVerdict::pass) && is_older ? "other revision" : shown;
}

}  // namespace ringtrue
