#include <algorithm>
#include <memory>

#include "channel_names.hpp"
#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "panel.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/live/clock.hpp"
#include "ringtrue/live/io_entry.hpp"
#include "ringtrue/live/numbering.hpp"
#include "ringtrue/model/number.hpp"
#include "ringtrue/report/analog_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct AnalogCall : CommonOptions {  // `all` also takes every channel
  std::vector<std::string> channels;
  std::vector<std::string> seen;
  std::string by;
  std::optional<double> tolerance, cold_junction;
  bool csv = false, is_raw = false;
};

bool is_analog(const Channel& channel) {
  return channel.type == ChannelType::AI || channel.type == ChannelType::AO;
}

Result<std::vector<std::size_t>> analog_channels(const Netlist& netlist, const AnalogCall& call) {
  if (call.all == !call.channels.empty())
    return wrong_call("it tests the channels that are named, or all", "CHANNEL", "",
                      "points, addresses or tags, or else --all");
  if (!call.all) {
    auto chosen = chosen_channels(netlist, call.channels);
    if (!chosen) return chosen;
    for (const std::size_t i : *chosen)
      if (!is_analog(netlist.channels[i]))
        return wrong_call("not an analog channel", "CHANNEL",
                          netlist.points.name(netlist.channels[i].point) + ", " +
                              std::string(word(netlist.channels[i].type)),
                          "an AI or AO");
    return chosen;
  }
  std::vector<std::size_t> chosen;
  for (std::size_t i = 0; i < netlist.channels.size(); ++i)
    if (is_analog(netlist.channels[i])) chosen.push_back(i);
  return chosen;
}

/// `50=12.1`, `3.6mA=failure`
Result<AnalogSeen> seen_from(std::string_view typed, const AnalogSheet& sheet) {
  const std::size_t equals = typed.find('=');
  if (equals == typed.npos)
    return wrong_call("not a point and what was seen there", "--seen", std::string(typed),
                      "such as 50=12.1, 3.6mA=failure or open=failure");
  return analog_seen_from(sheet, trimmed(typed.substr(0, equals)), trimmed(typed.substr(equals + 1)));
}

/// Judges what was seen into the report.
Result<void> judge_all(const AnalogCall& call, AnalogReport& report) {
  if (call.seen.empty()) return {};
  if (report.sheets.size() != 1)
    return wrong_call("values are seen at one channel", "--seen",
                      std::to_string(report.sheets.size()) + " channels", "one");
  const AnalogSheet& sheet = report.sheets.front();
  const bool is_output = report.graph.netlist().channels[sheet.channel].type == ChannelType::AO;
  if (is_output && call.is_raw)
    return wrong_call("of an output mA or V at its terminals are seen", "--seen-raw", "", "an AI");
  report.seen_as = is_output ? SeenAs::signal : call.is_raw ? SeenAs::raw : SeenAs::value;
  Errors errors;
  for (const std::string& typed : call.seen) {
    const auto verdict = seen_from(typed, sheet).and_then([&](const AnalogSeen& seen) {
      return judge_seen(sheet, seen, report.seen_as, report.tolerance_pct);
    });
    if (verdict)
      report.seen.push_back(*verdict);
    else
      errors.insert(errors.end(), verdict.error().begin(), verdict.error().end());
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return {};
}

/// Adds a result for each value seen.
/// @return the ids that they got.
Result<std::vector<std::string>> record(const AnalogCall& call, const AnalogReport& report) {
  std::vector<IoEntry> entries;
  const IoTest test{report.sheets.front().channel, {}, report.sheets.front(), {}};
  for (const std::string_view typed : call.seen) {
    const std::size_t equals = typed.find('=');
    IoSeen seen;
    seen.percent = trimmed(typed.substr(0, equals)), seen.value = trimmed(typed.substr(equals + 1));
    seen.seen_as = report.seen_as == SeenAs::raw ? "raw" : "";
    seen.tolerance_pct = report.tolerance_pct;
    auto entry = make_io_entry(test, report.graph, seen);
    if (!entry) return tl::unexpected(std::move(entry.error()));
    entries.push_back(std::move(*entry));
  }
  auto job = open_job(call.netlist);
  if (!job) return tl::unexpected(job.error());
  auto numbering = Numbering::of(*job);
  if (!numbering) return tl::unexpected(numbering.error());
  std::vector<std::string> ids;
  for (const IoEntry& entry : entries) {
    const std::string time = time_now();
    IoResultRow row = entry.row();
    row.time = time, row.by = call.by;
    auto id = numbering->append(*job, row);
    if (!id) return tl::unexpected(id.error());
    ids.push_back(std::move(*id));
  }
  return ids;
}

Result<void> record_where_asked(const AnalogCall& call, const AnalogReport& report) {
  if (call.by.empty()) {
    if (!report.seen.empty() && is_job_name(call.netlist))
      say("not recorded in the job: --by NAME records what was seen");
    return {};
  }
  const auto ids = record(call, report);
  if (!ids) return tl::unexpected(ids.error());
  std::string text = "recorded in " + call.netlist + ":";
  for (const std::string& id : *ids) text += ' ' + id;
  say(text);
  return {};
}

std::string written(const AnalogCall& call, const AnalogReport& report) {
  if (call.json) return analog_json(report);
  return call.csv ? analog_csv(report) : analog_text(report);
}

ExitStatus run_analog(const AnalogCall& call) {
  if (!call.by.empty() && !is_job_name(call.netlist))
    return refuse(wrong_call("results are recorded in a job", "--by", call.netlist, "a .rtj job").value());
  const auto panel = panel_of({call.netlist, std::nullopt});
  if (!panel) return refuse(panel.error());
  say_notes(panel->netlist.notes, call.detail());
  const auto channels = analog_channels(panel->netlist, call);
  if (!channels) return refuse(channels.error());
  if (channels->empty()) say("the netlist lists no analog channels, so there is nothing to test");

  const ConductionGraph graph(panel->netlist);
  const Supplies supplies(graph);
  AnalogReport report{graph, {}, {}};
  for (const std::size_t channel : *channels)
    report.sheets.push_back(analog_sheet(supplies, channel, call.cold_junction));
  report.tolerance_pct = call.tolerance.value_or(k_default_tolerance_pct);
  report.tolerance_is_given = call.tolerance.has_value();
  if (const auto judged = judge_all(call, report); !judged) return refuse(judged.error());
  if (const auto recorded = record_where_asked(call, report); !recorded) return refuse(recorded.error());
  const bool is_good = std::all_of(report.seen.begin(), report.seen.end(),
                                   [](const AnalogVerdict& verdict) { return verdict.is_good; });
  return write_result(written(call, report), is_good ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_analog(CLI::App& command) {
  const auto call = std::make_shared<AnalogCall>();
  add_common_options(command, *call);
  command.get_option("--all")->description("Every analog channel; what was noted on reading, in full");
  command.add_option("CHANNEL", call->channels, "Point, address or tag of an AI or AO")->type_name("");
  CLI::Option* const csv =
      command.add_flag("--csv", call->csv, "Print a sheet to be filled in")->excludes("--json");
  CLI::Option* const seen =
      command
          .add_option("--seen", call->seen,
                      "What was seen at some % of one channel, 0=8.1,50=24: of an input at the\n"
                      "controller in its unit, of an output mA or V at its terminals. A point may\n"
                      "also be 3.6mA, open or shorted; what was seen there, failure")
          ->delimiter(',')
          ->allow_extra_args(false)
          ->excludes(csv)
          ->option_text("POINT=SEEN,...");
  command.add_flag("--seen-raw", call->is_raw, "What was seen are raw counts")
      ->needs(seen)
      ->option_text("(with --seen)");
  command.add_option("--by", call->by, "Record what was seen in the job; who tested")
      ->check(one_name())
      ->needs(seen)
      ->option_text("NAME (with --seen)");
  command
      .add_option("--tolerance", call->tolerance,
                  "Error in % of span that passes (default 0.5, an estimate: the contract\n"
                  "decides)")
      ->check(number_between(0, 100, "0 to 100 % of span"))
      ->option_text("PERCENT");
  command
      .add_option("--cold-junction", call->cold_junction,
                  "Temperature at the terminals in °C: a thermocouple's mV are given for it\n"
                  "(default 0)")
      ->check(number_between(-50, 100, "-50 to 100 °C"))
      ->option_text("DEGREES");
  return [call] { return run_analog(*call); };
}

}  // namespace ringtrue::cli
