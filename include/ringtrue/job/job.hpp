#pragma once
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/load/load.hpp"
#include "ringtrue/model/job_mark.hpp"
#include "ringtrue/model/signatures.hpp"

namespace ringtrue {

/// One revision of the netlist, as it was loaded from files.
struct JobNetlist {
  std::string path;    ///< as it was named then
  std::string sha256;  ///< of the lines `SHA256  NAME` of its files in the order of their names: what
                       ///< `sha256sum * | sha256sum` prints in their folder (byte order)
  std::vector<std::string> files;  ///< names below the netlist's folder, in order
  bool is_as_built = false;        ///< it writes down the panel as it was found: no clamp was opened for it
  std::size_t readings = 0;        ///< current ones that were added while it was the newest
};

/// What a revision of the netlist means for the panel.
enum class Rewired : std::uint8_t {
  yes,  ///< it is rewired to the drawing: clamps that differ are opened, and readings over them are stale
  as_built,  ///< the drawing was changed to what is there: no clamp was opened, and readings count on
};

/// What a job holds, counted.
struct JobContents {
  std::vector<JobNetlist> netlists;     ///< oldest first; never empty
  std::size_t superseded_readings = 0;  ///< by a correction; those that are withdrawn besides don't count
  std::size_t withdrawn_readings = 0;
  /// What `sha256sum` prints of the readings.csv that `Job::export_to` writes: of every row, current or not.
  std::string readings_sha256;
  /// Of all rows but signatures: what `sha256sum decisions.csv events.csv meters.csv readings.csv results.csv
  /// | sha256sum` prints there.
  std::string rows_sha256;
  Panel panel;   ///< what is current
  JobMark rows;  ///< every one, current or not
  Signatures signatures;
};

/// What came into a job after a mark.
struct JobNews {
  JobMark mark;  ///< how far it is read now
  /// Where more came than I/O results and readings that supersede none: all that is current.
  std::optional<Panel> panel;
  Readings readings;                    ///< else: those readings, in the order in which they were added
  std::optional<IoResults> io_results;  ///< and, where there are new ones, all results that are current
};

/// A row of readings as it stands in a job.
struct JournalReading {
  std::string from, to, value, time, by, conditions, meter, method, witness, note, id;
  std::string supersedes;     ///< id of the reading that this one corrects; without a value: withdraws
  std::string superseded_by;  ///< ids of the rows that take its place, `; ` between them; empty: none does
};

/// What became of a row that was to be added.
enum class Appended : std::uint8_t {
  added,
  already_there,  ///< the same row stood in the job under this id; nothing was added
};

/// What files hold that rows are added of; those that are there.
struct JobRows {
  std::optional<Readings> readings;
  std::optional<Events> events;
  std::optional<Meters> meters;
  std::optional<IoResults> io_results;
  std::optional<Decisions> decisions;
  std::optional<Signatures> signatures;
};

/// How many rows of each kind.
struct JobRowCounts {
  std::size_t readings = 0, events = 0, meters = 0, io_results = 0, decisions = 0, signatures = 0;
};

/// A file that holds all that is known of a panel: netlist revisions byte for byte, every reading, event,
/// meter, I/O result, decision about a finding and signature. Rows are added and never changed or taken away;
/// triggers in the file refuse that.
///
/// Several processes may append to and read one job at once; an object of this class belongs to one thread at
/// a time. What `append` has acknowledged is on the disk and outlives a kill or a power cut (SQLite, WAL,
/// synchronous FULL). Where a call fails, the job is as before.
/// @errors of every call: damaged_job, busy_job (another process keeps it), file_unwritable;
///         of those that append also read_only_job and disk_full.
class Job {
 public:
  Job(Job&&) noexcept;
  Job& operator=(Job&&) noexcept;
  ~Job();

  /// Adds a reading. Its id must be given: sent again with the same id, it is not added twice.
  /// @param supersedes  id of the reading that this one corrects: that one stays, but is no longer current.
  ///   A row without a value withdraws it and is no reading itself. Nothing brings a reading back, neither
  ///   the withdrawal of its withdrawal nor that of its correction: what was read is read and logged anew.
  /// @errors missing_field (no id); repeated_row (another reading has this id); unknown_reading (nothing to
  ///         supersede under that id); what is wrong with the row, as for `ReadingsBuilder`.
  [[nodiscard]] Result<Appended> append(const ReadingRow& row, std::string_view supersedes = {});
  /// Adds an event; the same rules.
  [[nodiscard]] Result<Appended> append(const EventRow& row);
  /// Adds a result of an I/O test, or withdraws one; the same rules.
  [[nodiscard]] Result<Appended> append(const IoResultRow& row);
  /// Adds a decision about a finding; the same rules. The last one of a finding stands.
  [[nodiscard]] Result<Appended> append(const DecisionRow& row);
  /// Adds a signature; the same rules. The last one of a role counts.
  [[nodiscard]] Result<Appended> append(const Signature& signature);
  /// Adds what stands in files, all or none; a row without an id gets one made from its text. A meter's name
  /// is its id.
  /// @return how many weren't in the job yet.
  /// @errors as `append`, with the place in the file; unknown_object for a mark of a netlist that the job
  ///         lacks.
  [[nodiscard]] Result<JobRowCounts> append(const JobRows& rows);
  /// Adds a revision of the netlist, which must load. The newest one once more adds nothing.
  /// @errors as `load_netlist`; bad_mapping for a mapping file whose tables don't lie beside or below it.
  [[nodiscard]] Result<Appended> append_netlist(const std::filesystem::path& path, Rewired how = Rewired::yes,
                                                const LoadLimits& limits = {});

  /// The same that `load_panel` gives of the files: the newest netlist, loaded from the stored bytes;
  /// readings that no other row supersedes, events, meters and I/O results in the order in which they were
  /// added. Their `file` is the job, their `line` that of the row in the exported CSV file. Rows that were
  /// added under an earlier revision are marked with it, and still as that one names things: `carry_over`
  /// (ringtrue/revise/carry_over.hpp) brings them to the newest.
  [[nodiscard]] Result<Panel> panel() const;
  /// All of it, counted, with the sums by which a state is told. Cost: reads every row.
  [[nodiscard]] Result<JobContents> contents() const;
  /// Tells the job from any other of its name: 16 hexadecimal digits that it keeps for its life.
  [[nodiscard]] Result<std::string> id() const;
  /// What any process added since, but for signatures. Of a mark that is all zero: everything.
  [[nodiscard]] Result<JobNews> news(const JobMark& since) const;
  /// The rows of readings that were added last, newest first, whether current or not, withdrawals too.
  /// @param newest  at most so many.
  [[nodiscard]] Result<std::vector<JournalReading>> journal(std::size_t newest) const;
  /// The row of readings under this id, whether current or not; nothing if there is none.
  [[nodiscard]] Result<std::optional<JournalReading>> find_reading(std::string_view id) const;

  /// The result under this id, whether withdrawn or not, or the withdrawal; nothing if there is none.
  [[nodiscard]] Result<std::optional<IoResult>> find_io_result(std::string_view id) const;

  /// Writes the job as files into a new folder: readings.csv, events.csv, meters.csv, results.csv,
  /// decisions.csv, signatures.csv, and the files of the netlist, byte for byte, below `netlist` (of earlier
  /// revisions `netlist-1`, ...). Readings and results have the columns `supersedes` and `superseded_by`, by
  /// which loaders leave out what isn't current. These and events have `netlist`, see NetlistMark, by which
  /// `append` knows their revision again. Nothing partial ever stands under the name.
  /// @errors file_exists, file_unwritable; damaged_job also where a file isn't what was loaded: `salvage_job`
  ///         writes it all the same.
  [[nodiscard]] Result<void> export_to(const std::filesystem::path& folder) const;

 private:
  friend Result<Job> create_job(const std::filesystem::path&, const PanelSource&, const LoadLimits&);
  friend Result<Job> open_job(const std::filesystem::path&, std::chrono::milliseconds);
  struct Connection;
  explicit Job(std::unique_ptr<Connection> connection);
  std::unique_ptr<Connection> connection_;
};

/// A job is told by the end of its name, `.rtj`.
[[nodiscard]] bool is_job_name(const std::filesystem::path& path);

/// Makes a job of a netlist and, where they are given, readings, events beside them, meters and I/O
/// results.
/// @errors bad_call (the name doesn't end in .rtj); file_exists; file_unwritable; those of `load_panel` and
///         `Job::append`. Then no file is there.
[[nodiscard]] Result<Job> create_job(const std::filesystem::path& path, const PanelSource& source,
                                     const LoadLimits& limits = {});

/// How long a call waits for another process that keeps the job.
inline constexpr std::chrono::milliseconds k_job_patience{10'000};

/// Opens a job; one of an older form is brought to today's. Where the file or its folder may not be written
/// to, it is open for reading.
/// @errors file_unreadable (no such file, with the nearest names); not_a_job; newer_job; read_only_job
///         (an older job, or one with rows in its log, that may not be written to).
[[nodiscard]] Result<Job> open_job(const std::filesystem::path& path,
                                   std::chrono::milliseconds patience = k_job_patience);

/// Temporary changes that were made and not undone: no later event undoes the same points.
[[nodiscard]] std::vector<const Event*> open_temporary_changes(const Events& events);

}  // namespace ringtrue
