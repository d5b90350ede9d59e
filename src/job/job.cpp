#include "ringtrue/job/job.hpp"

#include <algorithm>
#include <optional>

#include "job/append.hpp"
#include "job/database.hpp"
#include "job/export.hpp"
#include "job/journal.hpp"
#include "job/netlists.hpp"
#include "job/news.hpp"
#include "job/panel.hpp"
#include "job/schema.hpp"
#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/write/whole_file.hpp"

namespace ringtrue {

using namespace job;
namespace fs = std::filesystem;

struct Job::Connection {
  std::unique_ptr<Database> database;
};

namespace {

Error wrong_file(const fs::path& path, ErrorCode code, std::string message, std::string expected) {
  return {code, std::move(message), {path.string(), 0, "", ""}, "", std::move(expected), {}};
}

Error no_such_job(const fs::path& path) {
  Error error = wrong_file(path, ErrorCode::file_unreadable, "there is no such file", "");
  NearestNames nearest(path.filename().string());
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  for (const std::string& name : files_on_disk().names_in(folder)) nearest.offer(name);
  for (const std::string& name : nearest.take())
    error.nearest.push_back((path.parent_path() / name).string());
  return error;
}

/// SQLite would take the log of a job that stood here before for one of the new job.
std::optional<Error> log_left_behind(const fs::path& path) {
  for (const char* end : {"-wal", "-journal"})
    if (fs::path log = path.string() + end; files_on_disk().is_there(log))
      return wrong_file(log, ErrorCode::file_exists, "the log of an earlier job of this name stands here",
                        "another name, or that job beside it");
  return std::nullopt;
}

/// Makes the whole job in a file that nobody else knows yet.
Result<void> fill(Database& database, const fs::path& netlist, const KeptFiles& files, const JobRows& rows) {
  auto filled = in_transaction(database, k_to_write, [&]() -> Result<JobRowCounts> {
    return make_schema(database)
        .and_then([&] { return store_netlist(database, netlist, files); })
        .and_then([&](Appended) { return append_all(database, rows); });
  });
  if (!filled) return tl::unexpected(std::move(filled.error()));
  const auto mode = database.cell("PRAGMA journal_mode = WAL");
  if (!mode) return tl::unexpected(mode.error());
  if (*mode != "wal")
    return fail(wrong_file(database.name(), ErrorCode::file_unwritable,
                           "on this file system a job cannot be shared by several programs",
                           "a folder on a local disk"));
  return {};
}

}  // namespace

Job::Job(std::unique_ptr<Connection> connection) : connection_(std::move(connection)) {}
Job::Job(Job&&) noexcept = default;
Job& Job::operator=(Job&&) noexcept = default;
Job::~Job() = default;

Result<Appended> Job::append(const ReadingRow& row, std::string_view supersedes) {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_write, [&] { return append_reading(database, row, supersedes); });
}

Result<Appended> Job::append(const EventRow& row) {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_write, [&] { return append_event(database, row); });
}

Result<Appended> Job::append(const IoResultRow& row) {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_write, [&] { return append_io_result(database, row); });
}

Result<Appended> Job::append(const DecisionRow& row) {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_write, [&] { return append_decision(database, row); });
}

Result<Appended> Job::append(const Signature& signature) {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_write, [&] { return append_signature(database, signature); });
}

Result<JobRowCounts> Job::append(const JobRows& rows) {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_write, [&] { return append_all(database, rows); });
}

namespace {

/// So that the files that are kept are read one after the other.
LoadLimits by_one_thread(LoadLimits limits) {
  limits.threads = {};
  return limits;
}

}  // namespace

Result<Appended> Job::append_netlist(const fs::path& path, Rewired how, const LoadLimits& limits) {
  Database& database = *connection_->database;
  const KeptFiles files;
  if (const auto netlist = load_netlist(path, by_one_thread(limits), files); !netlist)
    return tl::unexpected(netlist.error());
  return in_transaction(database, k_to_write, [&] { return store_netlist(database, path, files, how); });
}

Result<Panel> Job::panel() const {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_read, [&] { return read_panel(database); });
}

Result<JobContents> Job::contents() const {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_read, [&]() -> Result<JobContents> {
    JobContents contents;
    auto netlists = stored_netlists(database);
    if (!netlists) return tl::unexpected(std::move(netlists.error()));
    contents.netlists = std::move(*netlists);
    const auto readings = database.number("SELECT count(value) FROM reading");
    if (!readings) return tl::unexpected(readings.error());
    const auto withdrawn = database.number(
        "SELECT count(DISTINCT later.supersedes) FROM reading AS later JOIN reading ON later.supersedes = "
        "reading.id WHERE later.value IS NULL AND reading.value IS NOT NULL");
    if (!withdrawn) return tl::unexpected(withdrawn.error());
    auto readings_sha256 = sha256_of_readings(database);
    if (!readings_sha256) return tl::unexpected(std::move(readings_sha256.error()));
    contents.readings_sha256 = std::move(*readings_sha256);
    auto rows_sha256 = sha256_of_rows(database);
    if (!rows_sha256) return tl::unexpected(std::move(rows_sha256.error()));
    contents.rows_sha256 = std::move(*rows_sha256);
    auto panel = read_panel(database);
    if (!panel) return tl::unexpected(std::move(panel.error()));
    contents.panel = std::move(*panel);
    const auto rows = mark_of(database);
    if (!rows) return tl::unexpected(rows.error());
    contents.rows = *rows;
    auto signatures = signatures_of(database);
    if (!signatures) return tl::unexpected(std::move(signatures.error()));
    contents.signatures = std::move(*signatures);
    contents.withdrawn_readings = static_cast<std::size_t>(*withdrawn);
    contents.superseded_readings = static_cast<std::size_t>(*readings) - contents.withdrawn_readings -
                                   contents.panel.readings.rows.size();
    return contents;
  });
}

Result<std::string> Job::id() const { return connection_->database->cell("SELECT id FROM job"); }

Result<JobNews> Job::news(const JobMark& since) const {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_read, [&] { return read_news(database, since); });
}

Result<std::vector<JournalReading>> Job::journal(std::size_t newest) const {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_read, [&] { return newest_readings(database, newest); });
}

Result<std::optional<JournalReading>> Job::find_reading(std::string_view id) const {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_read, [&] { return job::find_reading(database, id); });
}

Result<std::optional<IoResult>> Job::find_io_result(std::string_view id) const {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_read, [&] { return job::find_io_result(database, id); });
}

Result<void> Job::export_to(const fs::path& folder) const {
  Database& database = *connection_->database;
  return in_transaction(database, k_to_read, [&] { return export_files(database, folder); });
}

bool is_job_name(const fs::path& path) { return path.extension() == ".rtj"; }

Result<Job> create_job(const fs::path& path, const PanelSource& source, const LoadLimits& limits) {
  if (!is_job_name(path))
    return fail(wrong_file(path, ErrorCode::bad_call, "the name of a job ends in .rtj",
                           path.stem().string() + ".rtj"));
  if (auto error = log_left_behind(path)) return fail(std::move(*error));
  const KeptFiles files;
  auto panel = load_panel(source, by_one_thread(limits), files);
  if (!panel) return tl::unexpected(std::move(panel.error()));
  const JobRows rows{std::move(panel->readings),
                     std::move(panel->events),
                     std::move(panel->meters),
                     std::move(panel->io_results),
                     std::nullopt,
                     std::nullopt};
  const auto make = [&](const fs::path& made) {
    return Database::open(made, path.string(), Open::create, k_job_patience)
        .and_then(
            [&](std::unique_ptr<Database> database) { return fill(*database, source.netlist, files, rows); });
  };
  return write::write_whole(path, {}, Existing::refuse, make).and_then([&] { return open_job(path); });
}

Result<Job> open_job(const fs::path& path, std::chrono::milliseconds patience) {
  if (!files_on_disk().is_there(path)) return fail(no_such_job(path));
  if (files_on_disk().is_folder(path))
    return fail(
        wrong_file(path, ErrorCode::not_a_job, "this is a folder", "a file that ringtrue job new made"));
  auto database = Database::open(path, path.string(), Open::existing, patience);
  if (!database) return tl::unexpected(std::move(database.error()));
  if (auto checked = check_schema(**database); !checked) return tl::unexpected(std::move(checked.error()));
  return Job(std::make_unique<Job::Connection>(Job::Connection{std::move(*database)}));
}

std::vector<const Event*> open_temporary_changes(const Events& events) {
  const auto undoes = [](const Event& later, const Event& made) {
    return later.kind == EventKind::temporary_undone && later.points == made.points &&
           *seconds_of_time(later.time) >= *seconds_of_time(made.time);
  };
  std::vector<const Event*> open;
  for (const Event& event : events.rows)
    if (event.kind == EventKind::temporary_made &&
        std::none_of(events.rows.begin(), events.rows.end(),
                     [&](const Event& later) { return undoes(later, event); }))
      open.push_back(&event);
  return open;
}

}  // namespace ringtrue
