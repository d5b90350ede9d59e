#include "job/database.hpp"

#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>
#include <cerrno>
#include <new>
#include <stdexcept>
#include <system_error>

namespace ringtrue::job {

namespace {

namespace fs = std::filesystem;

Error make_error(const std::string& name, ErrorCode code, std::string message, std::string expected) {
  Error error;
  error.code = code;
  error.message = std::move(message);
  error.place.file = name;
  error.expected = std::move(expected);
  return error;
}

bool is_no_room(int reason) { return reason == ENOSPC || reason == EFBIG || reason == EDQUOT; }
bool is_no_permission(int reason) { return reason == EACCES || reason == EPERM || reason == EROFS; }

/// The system's reason for an error of reading or writing. Where a commit fails, SQLite keeps it with the
/// file alone, the log or the database.
int reason_of_io_error(sqlite3* connection) {
  sqlite3_file* log = nullptr;
  int reason = 0;
  sqlite3_file_control(connection, "main", SQLITE_FCNTL_JOURNAL_POINTER, &log);
  if (log != nullptr && log->pMethods != nullptr)
    log->pMethods->xFileControl(log, SQLITE_FCNTL_LAST_ERRNO, &reason);
  if (reason == 0) sqlite3_file_control(connection, "main", SQLITE_FCNTL_LAST_ERRNO, &reason);
  return reason != 0 ? reason : sqlite3_system_errno(connection);
}

/// What the last call on the connection failed by.
Error last_error(sqlite3* connection, const std::string& name) {
  const int code = sqlite3_extended_errcode(connection) & 0xFF;
  const int reason = code == SQLITE_IOERR ? reason_of_io_error(connection) : sqlite3_system_errno(connection);
  const auto text = [&] { return " (" + std::generic_category().message(reason) + ")"; };
  const bool is_file_error = code == SQLITE_IOERR || code == SQLITE_CANTOPEN;
  if (code == SQLITE_NOMEM) throw std::bad_alloc();
  if (code == SQLITE_NOTADB)
    return make_error(name, ErrorCode::not_a_job, "this is no job", "a file that ringtrue job new made");
  if (code == SQLITE_FULL || (is_file_error && is_no_room(reason)))
    return make_error(name, ErrorCode::disk_full, "the disk is full; nothing of this was written",
                      "room beside the job");
  if (code == SQLITE_READONLY || code == SQLITE_PERM || (is_file_error && is_no_permission(reason)))
    return make_error(name, ErrorCode::read_only_job, "the job may not be written to",
                      "a file and a folder with permission to write");
  if (code == SQLITE_BUSY || code == SQLITE_LOCKED)
    return make_error(name, ErrorCode::busy_job, "another program keeps the job", "it to finish; try again");
  if (is_file_error)
    return make_error(name, ErrorCode::file_unwritable, "it could not be read or written" + text(), "");
  return make_error(name, ErrorCode::damaged_job,
                    "the job is damaged (" + std::string(sqlite3_errmsg(connection)) + ")",
                    "a whole one; a copy from before may be");
}

bool may_be_written(const fs::path& folder) {
  return ::faccessat(AT_FDCWD, folder.empty() ? "." : folder.c_str(), W_OK, AT_EACCESS) == 0;
}

fs::path log_of(const fs::path& path) { return path.string() + "-wal"; }

std::uintmax_t bytes_in(const fs::path& path) {
  std::error_code is_missing;
  const std::uintmax_t size = fs::file_size(path, is_missing);
  return is_missing ? 0 : size;
}

/// SQLite needs a log and its index beside the file, even to read. Where it can't make them and nobody else
/// has, the file alone is all there is to read.
/// @errors read_only_job
Result<bool> is_all_there_is(const fs::path& path, const std::string& name) {
  if (may_be_written(path.parent_path())) return false;
  std::error_code is_missing;
  if (fs::exists(log_of(path), is_missing) && fs::exists(path.string() + "-shm", is_missing)) return false;
  if (bytes_in(log_of(path)) == 0) return true;
  return fail(make_error(name, ErrorCode::read_only_job,
                         "newer rows stand in the log " + log_of(path).filename().string() +
                             ", which can't be read where the folder may not be written to",
                         "a folder with permission to write"));
}

/// RFC 3986: what means something else in a URI.
std::string uri_of_fixed(const fs::path& path) {
  std::string uri = "file:";
  for (const char c : path.string())
    uri += c == '%' ? "%25" : c == '?' ? "%3f" : c == '#' ? "%23" : std::string(1, c);
  return uri + "?immutable=1";
}

/// Binding fails only where the program is wrong, or memory is short.
void must(int code) {
  if (code == SQLITE_NOMEM) throw std::bad_alloc();
  if (code != SQLITE_OK) throw std::logic_error(sqlite3_errstr(code));
}

}  // namespace

void Statement::Finaliser::operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }

void Statement::bind(int at, std::string_view text) {
  if (text.empty()) return must(sqlite3_bind_null(statement_.get(), at));
  must(sqlite3_bind_text64(statement_.get(), at, text.data(), text.size(), SQLITE_TRANSIENT, SQLITE_UTF8));
}

void Statement::bind_bytes(int at, std::string_view bytes) {
  const char* data = bytes.empty() ? "" : bytes.data();
  must(sqlite3_bind_blob64(statement_.get(), at, data, bytes.size(), SQLITE_STATIC));
}

void Statement::bind(int at, std::int64_t number) { must(sqlite3_bind_int64(statement_.get(), at, number)); }

Result<bool> Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) {
    sqlite3_reset(statement_.get());
    return false;
  }
  Error error = last_error(sqlite3_db_handle(statement_.get()), std::string(name_));
  sqlite3_reset(statement_.get());
  return fail(std::move(error));
}

void Statement::reset() { sqlite3_reset(statement_.get()); }

std::string_view Statement::bytes(int column) const {
  const void* data = sqlite3_column_blob(statement_.get(), column);
  const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column));
  return data == nullptr ? std::string_view{} : std::string_view{static_cast<const char*>(data), size};
}

std::int64_t Statement::number(int column) const { return sqlite3_column_int64(statement_.get(), column); }

void Database::Closer::operator()(sqlite3* connection) const { sqlite3_close(connection); }

Result<std::unique_ptr<Database>> Database::open(const fs::path& path, std::string name, Open how,
                                                 std::chrono::milliseconds patience) {
  std::optional<Fixed> fixed;
  if (how != Open::create) {
    const fs::path real = fs::canonical(path);
    const auto is_fixed = is_all_there_is(real, name);
    if (!is_fixed) return tl::unexpected(is_fixed.error());
    if (*is_fixed) fixed = {real, fs::last_write_time(real)};
  }
  sqlite3* connection = nullptr;
  const std::string file = fixed ? uri_of_fixed(fixed->path) : path.string();
  const int flags = fixed                 ? SQLITE_OPEN_READONLY | SQLITE_OPEN_URI
                    : how == Open::create ? SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE
                                          : SQLITE_OPEN_READWRITE;
  const int code = sqlite3_open_v2(file.c_str(), &connection, flags, nullptr);
  if (connection == nullptr) throw std::bad_alloc();
  std::unique_ptr<Database> database(new Database(connection, std::move(name)));
  database->fixed_ = std::move(fixed);
  if (code != SQLITE_OK) return fail(last_error(connection, database->name_));
  sqlite3_busy_timeout(connection, static_cast<int>(patience.count()));
  // Before anything reads the first page: only with it does SQLite look into a file that was cut.
  if (how == Open::damaged)
    if (auto set = database->run("PRAGMA writable_schema = ON; PRAGMA query_only = ON"); !set)
      return tl::unexpected(std::move(set.error()));
  if (auto set = database->run("PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON"); !set)
    return tl::unexpected(std::move(set.error()));
  return database;
}

Result<void> Database::run(const std::string& statements) {
  if (sqlite3_exec(connection_.get(), statements.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK) return {};
  return fail(last_error(connection_.get(), name_));
}

Result<Statement> Database::prepare(std::string_view statement) {
  sqlite3_stmt* prepared = nullptr;
  const int code = sqlite3_prepare_v2(connection_.get(), statement.data(), static_cast<int>(statement.size()),
                                      &prepared, nullptr);
  if (code != SQLITE_OK) return fail(last_error(connection_.get(), name_));
  return Statement(prepared, name_);
}

Result<std::string> Database::cell(std::string_view query) {
  return prepare(query).and_then([](Statement statement) {
    return statement.step().map(
        [&](bool is_there) { return is_there ? std::string(statement.bytes(0)) : std::string(); });
  });
}

Result<std::int64_t> Database::number(std::string_view query) {
  return prepare(query).and_then([](Statement statement) {
    return statement.step().map([&](bool is_there) { return is_there ? statement.number(0) : 0; });
  });
}

Result<void> Database::still_as_opened() const {
  if (!fixed_) return {};
  std::error_code is_missing;
  const bool is_same = fs::last_write_time(fixed_->path, is_missing) == fixed_->written && !is_missing;
  if (is_same && bytes_in(log_of(fixed_->path)) == 0) return {};
  return fail(make_error(name_, ErrorCode::busy_job,
                         "another program has added to the job since it was opened",
                         "it to be opened again"));
}

void Database::roll_back() {
  if (sqlite3_get_autocommit(connection_.get()) == 0)
    sqlite3_exec(connection_.get(), "ROLLBACK", nullptr, nullptr, nullptr);
}

}  // namespace ringtrue::job
