#include "job_decisions.hpp"

#include <charconv>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "ringtrue/diagnose/decided.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/live/clock.hpp"
#include "ringtrue/live/entry.hpp"
#include "ringtrue/report/as_built_report.hpp"
#include "ringtrue/revise/as_built.hpp"
#include "ringtrue/write/whole_file.hpp"
#include "ringtrue/write/write.hpp"

namespace ringtrue::cli {

namespace {

struct DecidingCall {
  DiagnosingOptions diagnosing;
  std::string finding, decision, by, text, folder;
  std::size_t explanation = 1;
  [[nodiscard]] const std::string& job() const { return diagnosing.netlist; }
};

/// A finding is called by its number, or by a reading that it explains.
std::optional<std::size_t> find_cluster(const std::string& called, const Findings& findings,
                                        const Readings& readings) {
  for (std::size_t c = 0; c < findings.clusters.size(); ++c)
    for (const ReadingId reading : findings.clusters[c].readings)
      if (readings.name(reading) == called) return c;
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(called.data(), called.data() + called.size(), number);
  const bool is_number = error == std::errc{} && end == called.data() + called.size();
  return is_number && number >= 1 && number <= findings.clusters.size() ? std::optional(number - 1)
                                                                        : std::nullopt;
}

std::string joined_names(const std::vector<ReadingId>& readings, const Readings& of) {
  std::string text;
  for (const ReadingId reading : readings) text += (text.empty() ? "" : "; ") + of.name(reading);
  return text;
}

std::string count_of(std::size_t number) {
  return number == 1 ? "1 finding" : std::to_string(number) + " findings";
}

Result<Diagnosis> chosen(const DecidingCall& call, const Diagnosed& made, std::size_t cluster) {
  const std::vector<Diagnosis>& diagnoses = made.findings.clusters[cluster].diagnoses;
  if (call.explanation >= 1 && call.explanation <= diagnoses.size()) return diagnoses[call.explanation - 1];
  if (diagnoses.empty())
    return wrong_call("nothing explains this finding, so there is nothing to decide", "FINDING", call.finding,
                      "its readings taken again");
  return wrong_call("this finding has no such explanation", "--explanation", std::to_string(call.explanation),
                    "a number from 1 to " + std::to_string(diagnoses.size()));
}

/// What follows from it, said at once.
Result<std::string> consequence(const DecidingCall& call, const Diagnosed& made, const Diagnosis& diagnosis) {
  if (call.decision == word(DecisionKind::drawing)) {
    const std::vector<Fault> decided[] = {diagnosis.faults};
    return as_built(made.graph, decided, made.panel.readings, made.comparison).map([&](const AsBuilt& built) {
      std::string text = red_lines_text(built);
      if (!built.to_withdraw.empty())
        text += "  to be withdrawn: " + joined_names(built.to_withdraw, made.panel.readings) + "\n";
      return text + "  ringtrue job as-built " + call.job() + " OUTDIR writes the changed netlist\n";
    });
  }
  if (call.decision == word(DecisionKind::accepted) && touches_role(diagnosis.faults, made.graph))
    return "  It touches a circuit with a safety role: the record stays unsigned until it is settled.\n";
  return std::string();
}

ExitStatus run_decide(const DecidingCall& call) {
  auto job = open_job(call.job());
  if (!job) return refuse(job.error());
  auto contents = job->contents();
  if (!contents) return refuse(contents.error());
  const auto made = diagnose_readings(call.diagnosing, std::move(contents->panel));
  if (!made) return refuse(made.error());
  const Panel& panel = (*made)->panel;
  const auto cluster = find_cluster(call.finding, (*made)->findings, panel.readings);
  if (!cluster)
    return refuse(wrong_call("there is no such finding", "FINDING", call.finding,
                             "the number of a finding as ringtrue compare " + call.job() +
                                 " prints it (there are " +
                                 std::to_string((*made)->findings.clusters.size()) +
                                 "), or the id of a reading that contradicts the drawing")
                      .value());
  if (call.decision == word(DecisionKind::withdrawn) &&
      decided_of(decided_findings(panel.decisions, (*made)->findings, (*made)->graph, panel.readings).open,
                 *cluster) == nullptr)
    return refuse(wrong_call("nothing is decided about this finding, so there is nothing to withdraw",
                             "FINDING", call.finding, "a finding that was decided")
                      .value());
  const auto diagnosis = chosen(call, **made, *cluster);
  if (!diagnosis) return refuse(diagnosis.error());
  const auto follows = consequence(call, **made, *diagnosis);
  if (!follows) return refuse(follows.error());

  Decision decision;
  decision.finding = finding_name(diagnosis->faults, (*made)->graph, panel.readings);
  decision.readings = joined_names((*made)->findings.clusters[*cluster].readings, panel.readings);
  for (const std::string& point : clamps_to_open(*diagnosis, (*made)->graph))
    decision.points += (decision.points.empty() ? "" : "; ") + point;
  const std::string now = time_now();
  decision.text = call.text, decision.by = call.by;
  decision.time = now.substr(0, now.find('.')) + "Z";  // people read it; the id tells two apart
  decision.revision = std::to_string(contents->netlists.size());
  decision.id = now + " " + decision.by;
  const DecisionRow row{decision.finding, decision.readings, decision.points,   call.decision, decision.text,
                        decision.time,    decision.by,       decision.revision, decision.id};
  if (const auto appended = job->append(row); !appended) return refuse(appended.error());
  decision.decision = *from_word<DecisionKind>(call.decision);
  return write_result(call.job() + ": finding " + std::to_string(*cluster + 1) + ", " + decision.finding +
                          "\n  " + decision_words(decision) + "\n" + *follows,
                      ExitStatus::good);
}

Result<void> write_text(const std::filesystem::path& path, const std::string& text) {
  write::OutputFile file(path);
  file.put(text);
  return file.finish();
}

/// How the same readings stand against the changed drawing.
std::string again_text(const Diagnosed& made, const AsBuilt& built, const DecidingCall& call) {
  const ConductionGraph graph(built.netlist, made.settings.copper);
  const auto after = compare(graph, made.panel.readings, made.panel.events, made.panel.meters,
                             call.diagnosing.meter.unnamed());
  if (!after) return "  with the same readings: " + to_text(after.error().front()) + "\n";
  const Findings left = diagnose(graph, made.panel.readings, *after, made.settings.diagnose);
  std::string text = "  with the same readings: " +
                     (left.clusters.empty() ? std::string("no finding") : count_of(left.clusters.size())) +
                     " left\n";
  if (!built.to_withdraw.empty())
    text += "  to be withdrawn: " + joined_names(built.to_withdraw, made.panel.readings) + "\n";
  if (!built.no_longer_judged.empty())
    text += "  to be taken again, since what they lift or operate has changed: " +
            joined_names(built.no_longer_judged, made.panel.readings) + "\n";
  return text;
}

ExitStatus run_as_built(const DecidingCall& call) {
  if (const auto job = open_job(call.job()); !job) return refuse(job.error());
  const auto made = diagnose_readings(call.diagnosing);
  if (!made) return refuse(made.error());
  const Panel& panel = (*made)->panel;
  std::vector<std::vector<Fault>> faults;
  std::vector<Decision> decisions;
  for (const DecidedFinding& one :
       decided_findings(panel.decisions, (*made)->findings, (*made)->graph, panel.readings).open) {
    const Decision& decision = panel.decisions.rows[one.decision];
    if (decision.decision != DecisionKind::drawing) continue;
    faults.push_back(one.faults);
    decisions.push_back(decision);
  }
  if (faults.empty())
    return refuse(wrong_call("the drawing is to be changed for no finding of this job", "JOB", call.job(),
                             "ringtrue job decide " + call.job() + " FINDING drawing --by NAME before")
                      .value());
  const auto built = as_built((*made)->graph, faults, panel.readings, (*made)->comparison);
  if (!built) return refuse(built.error());
  const auto write_all = [&](const std::filesystem::path& folder) -> Result<void> {
    std::error_code what_the_files_will_say;
    std::filesystem::create_directories(folder, what_the_files_will_say);
    return write_netlist(built->netlist, folder / "netlist").and_then([&] {
      return write_text(folder / "red-lines.csv", red_lines_csv(*built, decisions));
    });
  };
  const auto written = write::write_whole(call.folder, {.is_folder = true}, Existing::refuse, write_all);
  if (!written) return refuse(written.error());
  return write_result(call.folder + ": netlist and red-lines.csv written, for " + count_of(faults.size()) +
                          "\n" + red_lines_text(*built) + again_text(**made, *built, call) +
                          "  before it is released: ringtrue check " + call.folder + "/netlist\n",
                      ExitStatus::good);
}

CLI::App& add_word(CLI::App& job, DecidingCall& call, const std::string& word, const std::string& line) {
  CLI::App& added = *job.add_subcommand(word, line);
  added.group("What to do");
  added.add_option("JOB", call.diagnosing.netlist, "File that ends in .rtj")->required()->type_name("");
  return added;
}

/// So that both speak of the findings that `compare` shows.
void add_judging(CLI::App& word, DecidingCall& call) {
  word.add_flag("--all", call.diagnosing.all, "Print every note on how the files were read");
  add_explaining_options(word, call.diagnosing.explaining);
  add_threshold_option(word, call.diagnosing.meter);
}

}  // namespace

void add_decisions(CLI::App& job, std::function<ExitStatus()>& run) {
  const auto call = std::make_shared<DecidingCall>();
  CLI::App& decide =
      add_word(job, *call, "decide", "Say what is done about a finding: repair, drawing or accepted");
  decide
      .add_option("FINDING", call->finding,
                  "Its number as ringtrue compare JOB prints it or, as numbers shift while\n"
                  "others log, the id of a reading that it explains")
      ->required()
      ->type_name("");
  decide
      .add_option("DECISION", call->decision,
                  "repair: the panel is wrong; drawing: the panel is right, rows of the\n"
                  "drawing change; accepted: it stays, --text says why; withdrawn: undecided")
      ->required()
      ->type_name("")
      ->check(one_of({"repair", "drawing", "accepted", "withdrawn"}).description(""));
  decide.add_option("--by", call->by, "Who decides")->required()->check(one_name())->option_text("NAME");
  decide.add_option("--text", call->text, "Why, or what else is to be said")
      ->check(plain_text())
      ->option_text("TEXT");
  decide
      .add_option("--explanation", call->explanation,
                  "Which of its explanations, in the order of compare --all; 1 is the likeliest")
      ->check(whole_number_between(1, 1000000))
      ->option_text("N");
  add_judging(decide, *call);
  decide.footer(
      "The last decision about a finding stands; all of them stay in the job.\n\n"
      "Example:\n  ringtrue job decide quickstart.rtj R016 drawing --by AK");
  decide.callback([call, &run] { run = [call] { return run_decide(*call); }; });
  CLI::App& drawn = add_word(job, *call, "as-built",
                             "Write the netlist with the rows changed that were decided, and the red-lines");
  drawn.add_option("OUTDIR", call->folder, "New folder to write")->required()->type_name("");
  add_judging(drawn, *call);
  drawn.footer(
      "Writes netlist (a folder of CSV files) and red-lines.csv. The job stays as it is: once the\n"
      "drawing is released, job revise JOB NETLIST --as-built adds it, and the readings count on.\n\n"
      "Example:\n  ringtrue job as-built quickstart.rtj quickstart-as-built");
  drawn.callback([call, &run] { run = [call] { return run_as_built(*call); }; });
}

}  // namespace ringtrue::cli
