#pragma once
#include <chrono>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "ringtrue/base/error.hpp"

struct sqlite3;
struct sqlite3_stmt;

// SQLite behind the few calls that a job needs; its return codes become errors here and nowhere else.

namespace ringtrue::job {

/// One statement, run once for each row bound to it. Not used beyond the life of its database.
class Statement {
 public:
  /// Parameters count from 1. Empty text is stored as NULL: not stated.
  void bind(int at, std::string_view text);
  void bind_bytes(int at, std::string_view bytes);
  void bind(int at, std::int64_t number);
  /// True if there is a row; false at the end, after which the statement may be bound again.
  /// @errors as those of Database
  [[nodiscard]] Result<bool> step();
  /// Leaves the rows that are left; the statement may be bound again.
  void reset();
  /// Columns of the current row count from 0. The bytes stay until the next step.
  [[nodiscard]] std::string_view bytes(int column) const;
  [[nodiscard]] std::int64_t number(int column) const;

 private:
  friend class Database;
  struct Finaliser {
    void operator()(sqlite3_stmt* statement) const;
  };
  Statement(sqlite3_stmt* statement, std::string_view name) : statement_(statement), name_(name) {}
  std::unique_ptr<sqlite3_stmt, Finaliser> statement_;
  std::string_view name_;
};

enum class Open : std::uint8_t {
  existing,
  create,
  damaged,  ///< to read what can be read, also of a file that was cut
};

/// A connection to one file, for one thread at a time. Errors name the file as `name`: damaged_job,
/// not_a_job, read_only_job, busy_job (another process keeps it), disk_full, file_unwritable.
class Database {
 public:
  /// The file is read-only where it or its folder may not be written to. Every commit is on the disk before
  /// it returns (synchronous FULL).
  /// @param patience  how long a call waits for another process.
  /// @errors also read_only_job where what is in the log can't be read without writing.
  [[nodiscard]] static Result<std::unique_ptr<Database>> open(const std::filesystem::path& path,
                                                              std::string name, Open how,
                                                              std::chrono::milliseconds patience);
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;

  [[nodiscard]] const std::string& name() const { return name_; }
  /// Runs statements that give no rows, or whose rows are of no interest.
  [[nodiscard]] Result<void> run(const std::string& statements);
  [[nodiscard]] Result<Statement> prepare(std::string_view statement);
  /// The first cell of what a query gives; empty if it gives nothing.
  [[nodiscard]] Result<std::string> cell(std::string_view query);
  [[nodiscard]] Result<std::int64_t> number(std::string_view query);

 private:
  template <class Work>
  friend auto in_transaction(Database& database, const char* begin, Work work) -> decltype(work());
  struct Closer {
    void operator()(sqlite3* connection) const;
  };
  Database(sqlite3* connection, std::string name) : connection_(connection), name_(std::move(name)) {}
  /// Gives up a transaction that is still open.
  void roll_back();
  /// Whether nobody has written to a file that is read without locks; always so of any other.
  /// @errors busy_job
  [[nodiscard]] Result<void> still_as_opened() const;

  /// A file in a folder where SQLite can't make its log, and so no locks either.
  struct Fixed {
    std::filesystem::path path;
    std::filesystem::file_time_type written;
  };
  std::optional<Fixed> fixed_;

  std::unique_ptr<sqlite3, Closer> connection_;
  std::string name_;
};

inline constexpr const char* k_to_read = "BEGIN";
inline constexpr const char* k_to_write = "BEGIN IMMEDIATE";

/// Does the work within one transaction: all of it is committed, or, if anything fails, nothing.
template <class Work>
auto in_transaction(Database& database, const char* begin, Work work) -> decltype(work()) {
  if (auto begun = database.run(begin); !begun) return tl::unexpected(std::move(begun.error()));
  struct RollBack {
    Database& database;
    ~RollBack() { database.roll_back(); }
  } const whatever_is_not_committed{database};
  auto result = work();
  if (auto same = database.still_as_opened(); !same) return tl::unexpected(std::move(same.error()));
  if (!result) return result;
  if (auto done = database.run("COMMIT"); !done) return tl::unexpected(std::move(done.error()));
  return result;
}

}  // namespace ringtrue::job
