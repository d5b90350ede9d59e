#include <pwd.h>
#include <unistd.h>
#include <cstdlib>
#include <memory>
#include <string>

#include "diagnosing.hpp"
#include "job_argument.hpp"
#include "log/lines.hpp"
#include "log/session.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

using log::Colour;
using log::Lines;
using log::Session;

struct LogCall : JobArgument {
  std::string by, meter, witness;
  ExplainingOptions explaining;
  MeterOptions unnamed;
};

std::string login_name() {
  for (const char* variable : {"USER", "LOGNAME"})
    if (const char* name = std::getenv(variable); name != nullptr && *name != '\0') return name;
  const passwd* user = getpwuid(getuid());
  return user == nullptr ? "" : user->pw_name;
}

bool wants_colour() {
  const char* refused = std::getenv("NO_COLOR");
  return log::is_terminal() && (refused == nullptr || *refused == '\0');
}

Result<Session::Options> options_of(const LogCall& call) {
  const auto settings = call.explaining.read();
  if (!settings) return tl::unexpected(settings.error());
  Session::Options options{{},
                           call.by.empty() ? login_name() : call.by,
                           call.meter,
                           call.witness,
                           wants_colour() ? Colour::on : Colour::off};
  if (options.by.empty())
    return fail({ErrorCode::bad_call, "it isn't known who reads", {}, "", "--by NAME", {}});
  options.live.copper = settings->copper;
  options.live.diagnose = settings->diagnose;
  options.live.meter = call.unnamed.unnamed();
  return options;
}

/// What can keep a line out of the job although nothing is wrong with it.
bool is_fault_of_the_file(ErrorCode code) {
  return code == ErrorCode::disk_full || code == ErrorCode::read_only_job || code == ErrorCode::busy_job ||
         code == ErrorCode::file_unwritable || code == ErrorCode::damaged_job;
}

void say_not_taken(Errors errors, std::size_t line, bool is_edited) {
  for (Error& error : errors) {
    if (!is_edited) error.place.file = "line " + std::to_string(line);
    error.place.line = 0;
    say(to_text(error));
  }
  if (is_fault_of_the_file(errors.front().code))
    say(is_edited ? "NOT LOGGED. Mend that, then fetch the line with the arrow key and enter it again."
                  : "NOT LOGGED. Mend that, then give the line again.");
}

ExitStatus take_lines(Session& session, Lines& lines, bool is_edited, const ExitStatus& written) {
  std::size_t number = 0, not_taken = 0;
  session.begin();
  while (!session.is_over() && written == ExitStatus::good) {
    if (log::is_output_terminal()) session.propose();
    const auto line = lines.next(is_edited ? session.prompt() : "");
    if (!line) break;
    ++number;
    if (auto taken = session.take(*line); !taken) {
      ++not_taken;
      say_not_taken(std::move(taken.error()), number, is_edited);
    }
  }
  session.end();
  if (!is_edited && not_taken != 0) {
    say(std::to_string(not_taken) + (not_taken == 1 ? " line was" : " lines were") + " not taken");
    return ExitStatus::bad_input;
  }
  if (written != ExitStatus::good) return written;
  return session.is_good() ? ExitStatus::good : ExitStatus::findings;
}

ExitStatus run_log(const LogCall& call) {
  const auto options = options_of(call);
  if (!options) return refuse(options.error());
  if (const auto made = call.make_where_missing(); !made) return refuse(made.error());
  ExitStatus written = ExitStatus::good;
  auto session = Session::open(call.job, *options, [&written](std::string_view text) {
    if (written == ExitStatus::good) written = write_result(text, ExitStatus::good);
  });
  if (!session) return refuse(call.not_opened(session.error()));
  const bool is_edited = log::is_terminal();
  const std::unique_ptr<Lines> lines = is_edited ? log::edited_lines([&](std::string_view line) {
    return log::Names(session->netlist()).complete(line);
  })
                                                 : log::piped_lines();
  return take_lines(*session, *lines, is_edited, written);
}

}  // namespace

Run declare_log(CLI::App& command) {
  const auto call = std::make_shared<LogCall>();
  add_job_argument(command, *call);
  command.add_option("--by", call->by, "Who reads (default: the login name)")
      ->check(one_name())
      ->option_text("NAME");
  command.add_option("--meter", call->meter, "Meter in hand, as the job calls it")->option_text("NAME");
  command.add_option("--witness", call->witness, "Who looks on")->check(one_name())->option_text("NAME");
  add_explaining_options(command, call->explaining);
  add_threshold_option(command, call->unnamed);
  command.footer(
      "A line per reading: FROM TO VALUE, WIRE VALUE, POINT VALUE, or a value alone for the reading\n"
      "shown as next. Values: b (beep), o (open), OL, ohms, volts, lit, dark. A line per channel tried:\n"
      "CHANNEL lit dark bit=1 only=yes, CHANNEL 50=12.1, CHANNEL on=24 off=0. On a terminal TAB completes "
      "names,\n"
      "the arrow keys bring lines back, help lists the commands. A name with blanks stands in quotation\n"
      "marks. What is acknowledged is on the disk.\n"
      "Without a terminal, lines are read from standard input, where a value alone needs next before it;\n"
      "exit status 2 if some were not taken.\n\n" +
      command.get_footer());
  return [call] { return run_log(*call); };
}

}  // namespace ringtrue::cli
