#include "ringtrue/live/io_entry.hpp"

#include <algorithm>
#include <optional>

#include "live/io_judged.hpp"
#include "ringtrue/model/number.hpp"
#include "ringtrue/report/analog_report.hpp"
#include "ringtrue/report/io_record.hpp"
#include "ringtrue/report/jumper_report.hpp"

namespace ringtrue {

namespace {

using namespace live;

tl::unexpected<Errors> wrong(ErrorCode code, std::string message, std::string field, std::string_view found,
                             std::string expected) {
  return fail(
      {code, std::move(message), {"", 0, "", std::move(field)}, std::string(found), std::move(expected), {}});
}

template <class Enum>
Result<void> check_word(std::string_view text, std::string field) {
  if (text.empty() || from_word<Enum>(text)) return {};
  return wrong(ErrorCode::unknown_kind, "unknown word", std::move(field), text, listed_words<Enum>());
}

Result<std::optional<double>> number_in(std::string_view text, std::string_view unit, std::string field,
                                        std::string expected) {
  if (text.empty()) return std::nullopt;
  std::string_view number = text;
  if (number.ends_with(unit) || (unit == "V" && number.ends_with('v'))) number.remove_suffix(unit.size());
  if (const auto value = parse_number(trimmed(number))) return value;
  return wrong(ErrorCode::bad_number, "not a number", std::move(field), text, std::move(expected));
}

Result<std::optional<double>> volts_in(std::string_view text, std::string field) {
  return number_in(text, "V", std::move(field), "volts such as 23.9");
}

class EntryMaker {
 public:
  EntryMaker(const IoTest& test, const ConductionGraph& graph, const IoSeen& seen)
      : test_(test),
        graph_(graph),
        seen_(seen),
        channel_(graph.netlist().channels[test.channel]),
        name_(channel_.tag.empty() ? graph.netlist().points.name(channel_.point)
                                   : std::string(channel_.tag)) {}

  [[nodiscard]] Result<IoEntry> make() {
    return check_words()
        .and_then([&] { return look_at_channel(); })
        .and_then([&] { return conclude(); })
        .map([&] { return std::move(made_); });
  }

 private:
  Result<void> check_words() {
    return check_word<Stimulus>(seen_.stimulus, "stimulus")
        .and_then([&] { return check_word<IoVerdict>(seen_.verdict, "verdict"); })
        .and_then([&] { return check_word<LedSeen>(seen_.led, "led"); })
        .and_then([&] { return check_word<LedSeen>(seen_.back, "back"); })
        .and_then([&] { return check_word<BitRead>(seen_.bit, "bit"); })
        .and_then([&] { return check_word<OnlyThis>(seen_.only_this, "only_this"); });
  }

  Result<void> look_at_channel() {
    made_.channel = graph_.netlist().points.name(channel_.point);
    made_.revision = graph_.netlist().panel.revision;
    made_.led = seen_.led, made_.bit = seen_.bit, made_.only_this = seen_.only_this,
    made_.value = seen_.value;
    switch (channel_.type) {
      case ChannelType::DI:
        return refuse_seen({{"percent", seen_.percent},
                            {"responded", seen_.responded},
                            {"on", seen_.on},
                            {"off", seen_.off}})
            .and_then([&] { return input(); });
      case ChannelType::DO:
        return refuse_seen({{"percent", seen_.percent},
                            {"led", seen_.back},
                            {"bit", seen_.bit},
                            {"only_this", seen_.only_this}})
            .and_then([&] { return output(); });
      default:
        return refuse_seen({{"led", seen_.led},
                            {"led", seen_.back},
                            {"bit", seen_.bit},
                            {"responded", seen_.responded},
                            {"on", seen_.on},
                            {"off", seen_.off}})
            .and_then([&] { return analog(); });
    }
  }

  /// What a channel of this type can't show.
  Result<void> refuse_seen(std::initializer_list<std::pair<const char*, std::string_view>> fields) const {
    for (const auto& [field, text] : fields)
      if (!text.empty())
        return wrong(ErrorCode::bad_call, name_ + " is " + article() + ", which shows no such thing", field,
                     text, expected_seen());
    return {};
  }
  [[nodiscard]] std::string article() const {
    const std::string type(word(channel_.type));
    return (type == "DI" || type == "DO" ? "a " : "an ") + type;
  }
  [[nodiscard]] std::string expected_seen() const {
    if (channel_.type == ChannelType::DI) return "lit or dark, bit=, only=";
    if (channel_.type == ChannelType::DO) return "responded=yes or no, on= and off= volts";
    return "a percentage and what was seen there, such as 50=12.1";
  }

  Result<void> input() {
    InputRecord record = input_record(test_.input, graph_);
    if (seen_.stimulus.empty() && !record.stimulus)
      return wrong(
          ErrorCode::bad_call,
          "there is no test of " + name_ + " here: " + jumper_reason_in_short(*test_.input.jumper, graph_),
          "stimulus", "", "the stimulus and pass or fail, where it was tried all the same");
    made_.stimulus = seen_.stimulus.empty() ? word(*record.stimulus) : seen_.stimulus;
    made_.at = record.at;
    const bool is_jumper = made_.stimulus == word(Stimulus::jumper),
               is_simulator = made_.stimulus == word(Stimulus::simulator);
    if (!record.stimulus || made_.stimulus != word(*record.stimulus)) {
      if (!is_jumper && !is_simulator) return input_by_other_means();
      record.acted = is_jumper ? "jumper fitted" : "simulator on",
      record.back = is_jumper ? "removed" : "off";
      record.lit_when_acted = true;
    }
    made_.given = record.acted + ", then " + record.back;
    made_.expected = expected_of(record, test_.input.lit_at_rest);
    judged_ = judged_input(record, seen_);
    if (!is_jumper && !is_simulator) return measured();
    return fitted(*test_.input.jumper, is_jumper).and_then([&] { return measured(); });
  }

  /// The drawing doesn't say what it shows then.
  Result<void> input_by_other_means() {
    if (seen_.verdict.empty())
      return wrong(ErrorCode::missing_field, "nothing says what " + name_ + " shows when " + made_.stimulus,
                   "verdict", "", "pass or fail");
    made_.at = {};
    return measured();
  }

  Result<void> measured() {
    return volts_in(seen_.value, "value").map([&](std::optional<double> volts) {
      if (volts) made_.value = plain(*volts) + " V";
    });
  }

  /// What may not be fitted can't have been. A sensor or resistor does the same harm as a jumper, but for
  /// what only a NAMUR input takes amiss.
  Result<void> fitted(JumperVerdict verdict, bool is_jumper) {
    std::vector<WhyJumper>& all = verdict.why;
    if (!is_jumper)
      std::erase_if(all, [](const WhyJumper& why) { return why.reason == JumperReason::namur_input; });
    const auto refuses = [](const WhyJumper& why) { return is_refusal(why.reason); };
    const bool is_refused = std::any_of(all.begin(), all.end(), refuses);
    if (is_refused) std::erase_if(all, [&](const WhyJumper& why) { return !refuses(why); });
    const std::string what = (is_jumper ? "a jumper at " : "a simulator at ") + name_,
                      why = jumper_reason_in_short(verdict, graph_);
    if (is_refused)
      return wrong(ErrorCode::bad_call, what + " is refused, so it can't be recorded: " + why, "stimulus",
                   made_.stimulus, "the test that this channel has");
    if (all.empty()) return {};
    if (seen_.unproven.empty())
      return wrong(ErrorCode::bad_call, what + " is on hold: " + why, "unproven", "",
                   "that settled, or unproven=NAME for whoever takes it on themselves");
    add(judged_.beside, "on hold, offered without proof by " + std::string(seen_.unproven));
    return {};
  }

  Result<void> output() {
    const OutputRecord record = output_record(*test_.outlet, graph_);
    const bool is_guarded = test_.outlet->role != Role::none;
    made_.stimulus =
        !seen_.stimulus.empty() ? seen_.stimulus : word(is_guarded ? Stimulus::substitute : Stimulus::logic);
    made_.at = record.at;
    made_.given = made_.stimulus == word(Stimulus::logic) ? "on and off by its logic"
                  : made_.stimulus == word(Stimulus::substitute)
                      ? "on and off, with a box of real stop devices"
                  : made_.stimulus == word(Stimulus::forced) ? "forced on, then off"
                                                             : "";
    made_.expected = record.expected();
    const auto on = volts_in(seen_.on.empty() ? seen_.value : seen_.on, "on");
    if (!on) return tl::unexpected(on.error());
    const auto off = volts_in(seen_.off, "off");
    if (!off) return tl::unexpected(off.error());
    if (!seen_.responded.empty() && seen_.responded != "yes" && seen_.responded != "no")
      return wrong(ErrorCode::unknown_kind, "unknown word", "responded", seen_.responded, "yes or no");
    made_.value = {};
    if (*on) made_.value = "on " + plain(**on) + " V";
    if (*off) add(made_.value, "off " + plain(**off) + " V", ", ");
    judged_ = judged_output(record, seen_.responded, *on, *off);
    return {};
  }

  Result<void> analog() {
    const bool is_output = channel_.type == ChannelType::AO;
    made_.stimulus =
        !seen_.stimulus.empty() ? seen_.stimulus : word(is_output ? Stimulus::forced : Stimulus::simulator);
    if (seen_.percent.empty()) {
      judged_.lacking = "what was seen at which percentage";
      return {};
    }
    if (seen_.value.empty())
      return wrong(ErrorCode::missing_field, "nothing was seen", "value", "", expected_seen());
    const auto point = analog_seen_from(*test_.analog, trimmed(seen_.percent), trimmed(seen_.value));
    if (!point) return tl::unexpected(point.error());
    if (!seen_.seen_as.empty() && (seen_.seen_as != "raw" || is_output))
      return wrong(ErrorCode::bad_call, "what was seen is no such thing", "seen_as", seen_.seen_as,
                   is_output ? "mA or V at the terminals" : "raw, or nothing for the unit");
    if (test_.analog->hook_up.why_not && made_.stimulus == word(Stimulus::simulator))
      return wrong(ErrorCode::bad_call,
                   "no simulator is to be connected to " + name_ + ": " +
                       no_hook_up_text(*test_.analog->hook_up.why_not),
                   "stimulus", made_.stimulus, "");
    return judge_analog(*point);
  }

  Result<void> judge_analog(const AnalogSeen& seen) {
    AnalogReport report{graph_, {*test_.analog}, {}};
    report.seen_as = channel_.type == ChannelType::AO ? SeenAs::signal
                     : seen_.seen_as == "raw"         ? SeenAs::raw
                                                      : SeenAs::value;
    report.tolerance_pct = seen_.tolerance_pct;
    return judge_seen(*test_.analog, seen, report.seen_as, report.tolerance_pct)
        .map([&](const AnalogVerdict& verdict) {
          report.seen.push_back(verdict);
          const AnalogRecord record = analog_record(report, 0);
          made_.at = record.at, made_.given = record.given, made_.expected = record.expected;
          made_.value = record.value;
          judged_.is_anything = true;
          (verdict.is_good ? judged_.beside : judged_.against) = record.reason;
        });
  }

  Result<void> conclude() {
    if (!judged_.is_anything && seen_.verdict.empty())
      return wrong(ErrorCode::missing_field, "nothing was seen", "", "", expected_seen());
    if (seen_.verdict == word(IoVerdict::withdrawn))
      return wrong(ErrorCode::bad_call, "a result is not withdrawn this way", "verdict", seen_.verdict,
                   "pass or fail");
    if (seen_.verdict == word(IoVerdict::pass) && !judged_.against.empty())
      return wrong(ErrorCode::bad_call, "what was seen speaks against a pass: " + judged_.against, "verdict",
                   seen_.verdict, "fail, or what was seen put right");
    made_.reason = judged_.against;
    add(made_.reason, judged_.beside);
    if (!seen_.verdict.empty()) {
      made_.verdict = seen_.verdict;
    } else if (!judged_.against.empty()) {
      made_.verdict = word(IoVerdict::fail);
    } else if (!judged_.lacking.empty()) {
      made_.verdict = word(IoVerdict::incomplete);
      add(made_.reason, "not said: " + judged_.lacking);
    } else {
      made_.verdict = word(IoVerdict::pass);
    }
    add(made_.reason, seen_.reason);
    for (const auto& [given, target] : {std::pair{seen_.at, &made_.at}, std::pair{seen_.given, &made_.given},
                                        std::pair{seen_.expected, &made_.expected}})
      if (!given.empty()) *target = given;
    IoResultRow row = made_.row();
    row.time = "2026-01-01T00:00:00Z", row.by = "-";  // come later
    return io_result_from_row(row, 0, "").map([&](const IoResult& result) {
      made_.shown = shown_by(result, channel_.type);
    });
  }

  const IoTest& test_;
  const ConductionGraph& graph_;
  const IoSeen& seen_;
  const Channel& channel_;
  std::string name_;
  Judged judged_;
  IoEntry made_;
};

}  // namespace

IoResultRow IoEntry::row() const {
  IoResultRow row;
  row.channel = channel, row.stimulus = stimulus, row.at = at, row.given = given, row.expected = expected;
  row.led = led, row.bit = bit, row.value = value, row.only_this = only_this, row.verdict = verdict;
  row.reason = reason, row.revision = revision;
  return row;
}

Result<IoEntry> make_io_entry(const IoTest& test, const ConductionGraph& graph, const IoSeen& seen) {
  return EntryMaker(test, graph, seen).make();
}

IoResultRow withdrawal_of(const IoResult& result) {
  IoResultRow row;
  row.channel = result.channel, row.stimulus = word(result.stimulus), row.revision = result.revision;
  row.verdict = word(IoVerdict::withdrawn), row.supersedes = result.id;
  return row;
}

}  // namespace ringtrue
