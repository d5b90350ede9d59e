// The form of a job's file. Version n is what the first n steps make, for a new job and for an old one alike.
// A step that was ever released is never changed: a new form is a new step at the end.
#include "job/schema.hpp"

#include <iterator>
#include <string>

namespace ringtrue::job {

namespace {

/// "RTJ" and a 1, in SQLite's header: tells a job from any other database.
constexpr std::int64_t k_application_id = 0x52544A31;

/// Numbers count from 1 without gaps, since nothing is ever taken away. The triggers on INSERT are for INSERT
/// OR REPLACE, which would take a row away without asking those on DELETE.
constexpr std::string_view k_steps[] = {
    R"(
CREATE TABLE netlist (number INTEGER PRIMARY KEY, path TEXT NOT NULL, sha256 TEXT NOT NULL);
CREATE TABLE netlist_file (number INTEGER PRIMARY KEY, netlist INTEGER NOT NULL REFERENCES netlist (number),
  path TEXT NOT NULL, name TEXT NOT NULL, sha256 TEXT NOT NULL, bytes BLOB NOT NULL, UNIQUE (netlist, name));
CREATE TABLE reading (number INTEGER PRIMARY KEY, "from" TEXT NOT NULL, "to" TEXT, "value" TEXT NOT NULL,
  "time" TEXT, "by" TEXT, conditions TEXT, meter TEXT, method TEXT, witness TEXT, note TEXT,
  id TEXT NOT NULL UNIQUE);
CREATE TABLE event (number INTEGER PRIMARY KEY, "time" TEXT NOT NULL, "by" TEXT, kind TEXT NOT NULL,
  points TEXT NOT NULL, "text" TEXT, id TEXT NOT NULL UNIQUE);
CREATE TABLE meter (number INTEGER PRIMARY KEY, meter TEXT NOT NULL UNIQUE, kind TEXT, serial TEXT,
  calibrated_until TEXT, threshold TEXT, "range" TEXT, lead_ohms TEXT, accuracy TEXT);

CREATE TRIGGER netlist_not_changed BEFORE UPDATE ON netlist
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER netlist_not_deleted BEFORE DELETE ON netlist
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER netlist_not_replaced BEFORE INSERT ON netlist
  WHEN EXISTS (SELECT 1 FROM netlist WHERE number = NEW.number)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

CREATE TRIGGER netlist_file_not_changed BEFORE UPDATE ON netlist_file
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER netlist_file_not_deleted BEFORE DELETE ON netlist_file
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER netlist_file_not_replaced BEFORE INSERT ON netlist_file
  WHEN EXISTS (SELECT 1 FROM netlist_file
               WHERE number = NEW.number OR (netlist = NEW.netlist AND name = NEW.name))
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

CREATE TRIGGER reading_not_changed BEFORE UPDATE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER reading_not_deleted BEFORE DELETE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER reading_not_replaced BEFORE INSERT ON reading
  WHEN EXISTS (SELECT 1 FROM reading WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

CREATE TRIGGER event_not_changed BEFORE UPDATE ON event
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER event_not_deleted BEFORE DELETE ON event
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER event_not_replaced BEFORE INSERT ON event
  WHEN EXISTS (SELECT 1 FROM event WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

CREATE TRIGGER meter_not_changed BEFORE UPDATE ON meter
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER meter_not_deleted BEFORE DELETE ON meter
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER meter_not_replaced BEFORE INSERT ON meter
  WHEN EXISTS (SELECT 1 FROM meter WHERE number = NEW.number OR meter = NEW.meter)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
)",
    // 2: a reading may supersede an earlier one.
    R"(
ALTER TABLE reading ADD COLUMN supersedes TEXT REFERENCES reading (id);
CREATE INDEX reading_supersedes ON reading (supersedes);
)",
    // 3: a reading without a value withdraws the one that it supersedes. Results of I/O tests. Something to
    // tell the job from another of its name.
    R"(
CREATE TABLE reading_new (number INTEGER PRIMARY KEY, "from" TEXT NOT NULL, "to" TEXT, "value" TEXT,
  "time" TEXT, "by" TEXT, conditions TEXT, meter TEXT, method TEXT, witness TEXT, note TEXT,
  id TEXT NOT NULL UNIQUE, supersedes TEXT REFERENCES reading_new (id),
  CHECK ("value" IS NOT NULL OR supersedes IS NOT NULL));
INSERT INTO reading_new (number, "from", "to", "value", "time", "by", conditions, meter, method, witness, note,
  id, supersedes)
  SELECT number, "from", "to", "value", "time", "by", conditions, meter, method, witness, note, id, supersedes
  FROM reading ORDER BY number;
DROP TABLE reading;
ALTER TABLE reading_new RENAME TO reading;
CREATE INDEX reading_supersedes ON reading (supersedes);
CREATE TRIGGER reading_not_changed BEFORE UPDATE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER reading_not_deleted BEFORE DELETE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER reading_not_replaced BEFORE INSERT ON reading
  WHEN EXISTS (SELECT 1 FROM reading WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

CREATE TABLE result (number INTEGER PRIMARY KEY, channel TEXT NOT NULL, stimulus TEXT NOT NULL, "at" TEXT,
  given TEXT, expected TEXT, led TEXT, bit TEXT, "value" TEXT, only_this TEXT, verdict TEXT NOT NULL, reason TEXT,
  "time" TEXT NOT NULL, "by" TEXT NOT NULL, witness TEXT, meter TEXT, revision TEXT, id TEXT NOT NULL UNIQUE);
CREATE TRIGGER result_not_changed BEFORE UPDATE ON result
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER result_not_deleted BEFORE DELETE ON result
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER result_not_replaced BEFORE INSERT ON result
  WHEN EXISTS (SELECT 1 FROM result WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;

CREATE TABLE job (number INTEGER PRIMARY KEY, id TEXT NOT NULL);
INSERT INTO job (number, id) VALUES (1, lower(hex(randomblob(8))));
CREATE TRIGGER job_not_changed BEFORE UPDATE ON job
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER job_not_deleted BEFORE DELETE ON job
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER job_not_replaced BEFORE INSERT ON job
  WHEN EXISTS (SELECT 1 FROM job)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
)",
    // 4: a result may withdraw an earlier one.
    R"(
ALTER TABLE result ADD COLUMN supersedes TEXT REFERENCES result (id);
CREATE INDEX result_supersedes ON result (supersedes);
)",
    // 5: what was decided about findings.
    R"(
CREATE TABLE decision (number INTEGER PRIMARY KEY, finding TEXT NOT NULL, readings TEXT, points TEXT,
  decision TEXT NOT NULL, "text" TEXT, "time" TEXT NOT NULL, "by" TEXT NOT NULL, revision TEXT,
  id TEXT NOT NULL UNIQUE);
CREATE TRIGGER decision_not_changed BEFORE UPDATE ON decision
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER decision_not_deleted BEFORE DELETE ON decision
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER decision_not_replaced BEFORE INSERT ON decision
  WHEN EXISTS (SELECT 1 FROM decision WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
)",
    // 6: which revision of the netlist was the newest when a row was added; unknown of older rows. Whether a
    // revision only writes down the panel as it was found.
    R"(
ALTER TABLE netlist ADD COLUMN as_built INTEGER NOT NULL DEFAULT 0;
ALTER TABLE reading ADD COLUMN netlist INTEGER REFERENCES netlist (number);
ALTER TABLE event ADD COLUMN netlist INTEGER REFERENCES netlist (number);
ALTER TABLE result ADD COLUMN netlist INTEGER REFERENCES netlist (number);
)",
    // 7: who signed, and what the job held then.
    R"(
CREATE TABLE signature (number INTEGER PRIMARY KEY, role TEXT NOT NULL, "by" TEXT NOT NULL, "text" TEXT,
  "time" TEXT NOT NULL, revision TEXT NOT NULL, netlist_sha256 TEXT NOT NULL, rows_sha256 TEXT NOT NULL,
  ready TEXT NOT NULL, readings TEXT NOT NULL, events TEXT NOT NULL, meters TEXT NOT NULL,
  results TEXT NOT NULL, decisions TEXT NOT NULL, id TEXT NOT NULL UNIQUE);
CREATE TRIGGER signature_not_changed BEFORE UPDATE ON signature
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never changed'); END;
CREATE TRIGGER signature_not_deleted BEFORE DELETE ON signature
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never deleted'); END;
CREATE TRIGGER signature_not_replaced BEFORE INSERT ON signature
  WHEN EXISTS (SELECT 1 FROM signature WHERE number = NEW.number OR id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'rows of a job are never replaced'); END;
)"};

/// Within a transaction, so that of two processes that open an old job at once the second finds it done.
Result<void> bring_to_newest(Database& database) {
  auto version = database.number("PRAGMA user_version");
  if (!version) return tl::unexpected(std::move(version.error()));
  for (std::int64_t done = *version; done < newest_schema(); ++done)
    if (auto step = database.run(std::string(k_steps[done])); !step) return step;
  return database.run("PRAGMA user_version = " + std::to_string(newest_schema()));
}

Error make_error(const Database& database, ErrorCode code, std::string message, std::string found,
                 std::string expected) {
  return {code, std::move(message), {database.name(), 0, "", ""}, std::move(found), std::move(expected), {}};
}

}  // namespace

std::int64_t newest_schema() { return std::size(k_steps); }

Result<void> make_schema(Database& database) {
  return database.run("PRAGMA application_id = " + std::to_string(k_application_id)).and_then([&] {
    return bring_to_newest(database);
  });
}

Result<std::int64_t> job_version(Database& database) {
  const auto id = database.number("PRAGMA application_id");
  if (!id) return tl::unexpected(id.error());
  if (*id != k_application_id)
    return fail(make_error(database, ErrorCode::not_a_job, "this is no job", "",
                           "a file that ringtrue job new made"));
  const auto version = database.number("PRAGMA user_version");
  if (!version) return tl::unexpected(version.error());
  if (*version > newest_schema())
    return fail(make_error(database, ErrorCode::newer_job, "a newer ringtrue made this job",
                           "version " + std::to_string(*version),
                           "at most version " + std::to_string(newest_schema()) + "; use the newer program"));
  return *version;
}

Result<void> check_schema(Database& database) {
  const auto version = job_version(database);
  if (!version) return tl::unexpected(version.error());
  constexpr const char* k_whole = "a whole one; a copy from before may be";
  if (*version < 1)
    return fail(make_error(database, ErrorCode::damaged_job, "the job is damaged",
                           "version " + std::to_string(*version), k_whole));
  const auto integrity = database.cell("PRAGMA integrity_check(1)");
  if (!integrity) return tl::unexpected(integrity.error());
  const std::size_t after_headline = integrity->rfind('\n') + 1;
  if (*integrity != "ok")
    return fail(make_error(database, ErrorCode::damaged_job, "the job is damaged",
                           integrity->substr(after_headline), k_whole));
  if (*version == newest_schema()) return {};
  auto brought = in_transaction(database, k_to_write, [&] { return bring_to_newest(database); });
  if (!brought && brought.error().front().code == ErrorCode::read_only_job)
    brought.error().front().message =
        "an older job is brought to today's form before it is read, and this one may "
        "not be written to";
  return brought;
}

}  // namespace ringtrue::job
