#pragma once
#include <filesystem>
#include <functional>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "command.hpp"
#include "findings_watch.hpp"
#include "ringtrue/live/io_test.hpp"
#include "ringtrue/live/live_job.hpp"
#include "ringtrue/live/numbering.hpp"
#include "words.hpp"

namespace ringtrue::cli::log {

/// One person's logging into a job: takes line after line and says what follows from each. Knows no terminal.
class Session {
 public:
  struct Options {
    LiveOptions live;
    std::string by, meter, witness;
    Colour colour = Colour::off;
  };
  using Print = std::function<void(std::string_view)>;

  /// @errors of `open_job` and `LiveJob::open`; unknown_object for a meter that the job lacks.
  [[nodiscard]] static Result<Session> open(const std::filesystem::path& job, const Options& options,
                                            Print print);

  /// The caution, how far the job is, which changes are open.
  void begin();
  /// Does what the line says. What it adds to the job is printed once it's on the disk, not before.
  /// @errors whatever is wrong with the line or the job; then nothing of it was done.
  [[nodiscard]] Result<void> take(std::string_view line);
  /// Prints what others added since, and the reading to take next.
  void propose();
  /// The condition that is set, how many changes are open, whether a remark waits.
  [[nodiscard]] std::string prompt() const;
  /// What was added here, and how many findings there are.
  void end();
  [[nodiscard]] bool is_over() const { return is_over_; }
  /// No findings, no reading at an unknown point, none that contradicts another.
  [[nodiscard]] bool is_good() const;
  [[nodiscard]] const Netlist& netlist() const { return live_.drawing()->netlist; }

 private:
  Session(Job job, LiveJob live, const Numbering& numbering, Options options, Print print)
      : job_(std::move(job)),
        live_(std::move(live)),
        numbering_(numbering),
        options_(std::move(options)),
        print_(std::move(print)) {}

  // One for each command.
  Result<void> run(const Nothing&) { return {}; }
  Result<void> run(const Take& typed);
  Result<void> run(const Ask& typed);
  Result<void> run(const When& typed);
  Result<void> run(const TakeOver&);
  Result<void> run(const Skip&);
  Result<void> run(const ShowNext& typed);
  Result<void> run(const Undo& typed);
  Result<void> run(const Correct& typed);
  Result<void> run(const ShowFindings&);
  Result<void> run(const LogRepair& typed);
  Result<void> run(const LogChange& typed);
  Result<void> run(const EndChange& typed);
  Result<void> run(const LogIo& typed);
  Result<void> run(const ShowTest& typed);
  Result<void> run(const Put& typed);
  Result<void> run(const ShowState&);
  Result<void> run(const ShowLast& typed);
  Result<void> run(const ShowHelp&);
  Result<void> run(const Quit&);

  /// Judges the row, adds it and acknowledges it. Author and, unless it supersedes another, time, meter and
  /// witness are filled in.
  Result<void> log(ReadingRow row, std::string_view supersedes = {});
  Result<void> log_proposed(const std::string& value);
  /// Adds an event and acknowledges it with `what` behind its id.
  Result<void> log(EventRow row, const std::string& what);
  /// The row of that id, or the last one logged here.
  Result<JournalReading> row_to_supersede(const std::string& id) const;

  [[nodiscard]] IoTest test_of(std::size_t channel) const;
  [[nodiscard]] Result<std::size_t> one_channel(const std::string& typed) const;
  /// False if no result has the id.
  Result<bool> undo_result(const std::string& id);

  void added(const std::string& id) { own_.insert(id); }
  void catch_up();
  void tell_revision();
  void tell_rows_of_others();
  void tell_events_of_others();
  void tell_results_of_others();
  void tell_contradicting(const std::string& id);
  /// Nothing if all is read.
  const std::optional<Upcoming>& proposed();
  void show(const Upcoming& reading);
  void show(const std::vector<Upcoming>& readings);
  [[nodiscard]] bool was_shown(const Upcoming& reading) const;

  Job job_;
  LiveJob live_;
  Numbering numbering_;
  Options options_;
  Print print_;
  FindingsWatch watch_;
  std::string condition_, note_;
  std::optional<Upcoming> proposed_;
  bool is_proposed_ = false;       ///< `proposed_` is what follows from the job as it was last caught up with
  std::set<std::string> shown_;    ///< keys of readings that were shown, so that a value alone can be meant
  std::set<std::string> skipped_;  ///< likewise
  std::vector<std::string> logged_;  ///< ids of readings and results added here that stand, oldest first
  std::set<std::string> own_;        ///< ids of all rows added here
  std::string last_row_;             ///< id of the newest reading that was told or added
  std::size_t events_told_ = 0;
  std::shared_ptr<const Drawing> drawing_told_;
  std::size_t outdated_told_ = 0;
  std::set<std::string> results_told_;
  bool is_over_ = false;
};

}  // namespace ringtrue::cli::log
