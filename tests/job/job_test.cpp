#include "ringtrue/job/job.hpp"

#include <gtest/gtest.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include <fstream>
#include <iterator>
#include <set>
#include <sstream>

#include "load/load_support.hpp"
#include "support/netlist_lines.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
namespace fs = std::filesystem;

constexpr std::string_view k_conductors = "wire,from,to\n1,K1:A1,X1:5.int\n";

/// Everything of the log of a panel, each text in quotes and each number in full, but the names of the files.
std::string log_lines(const Panel& panel) {
  std::ostringstream out;
  out.precision(17);
  const auto put = [&](std::string_view text) { out << " \"" << text << '"'; };
  for (std::size_t i = 0; i < panel.readings.rows.size(); ++i) {
    const Reading& reading = panel.readings.rows[i];
    out << reading.line << " kind " << static_cast<int>(reading.value.kind) << ' ' << reading.value.number;
    put(reading.from), put(reading.to), put(word(reading.method));
    put(panel.readings.conditions[reading.condition]);
    for (int field = 0; field < static_cast<int>(ReadingText::count_); ++field)
      put(panel.readings.text.get(static_cast<ReadingText>(field), i));
    out << '\n';
  }
  for (std::size_t i = 0; i < panel.readings.conditions.size(); ++i) {
    out << "condition " << panel.readings.condition_lines[i];
    put(panel.readings.conditions[i]);
  }
  for (const Event& event : panel.events.rows) {
    out << "\nevent " << event.line;
    put(event.time), put(event.by), put(word(event.kind)), put(event.text), put(event.id);
    for (const std::string& point : event.points) put(point);
  }
  for (const Meter& meter : panel.meters.rows) {
    out << "\nmeter " << meter.line;
    put(meter.name), put(meter.kind), put(meter.serial), put(meter.calibrated_until);
    out << ' ' << meter.settings.threshold.value << ' ' << meter.settings.range.value << ' '
        << meter.settings.lead_ohms.value_or(Ohms{-1}).value << ' ' << meter.settings.accuracy;
  }
  return out.str();
}

std::string netlist_text(const Netlist& netlist) {
  std::string text = testing::netlist_lines(netlist);
  for (const std::string& file : netlist.files) text += "file " + file + "\n";
  for (const Conductor& conductor : netlist.conductors)
    text += std::to_string(conductor.source.file) + ":" + std::to_string(conductor.source.line) + "\n";
  for (const Note& note : netlist.notes)
    text += note.place.file + ":" + std::to_string(note.place.line) + " " + note.text + "\n";
  return text;
}

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

class JobTest : public ::testing::Test {
 protected:
  [[nodiscard]] fs::path at(const std::string& name) const { return folder_.path() / name; }

  template <class T>
  T must(Result<T> result) {
    if (!result) throw std::runtime_error(errors_of(result, folder_));
    return std::move(*result);
  }

  /// A job of one wire.
  Job small_job() {
    folder_.write("GD1/conductors.csv", k_conductors);
    return must(create_job(at("a.rtj"), {at("GD1")}));
  }

  static ReadingRow reading(std::string_view id, std::string_view value = "beep") {
    ReadingRow row;
    row.from = "K1:A1", row.to = "X1:5.int", row.value = value, row.id = id;
    return row;
  }

  static EventRow event(std::string_view id, std::string_view kind, std::string_view points,
                        std::string_view time) {
    EventRow row;
    row.time = time, row.by = "A", row.kind = kind, row.points = points, row.id = id;
    return row;
  }

  std::string ids(const Job& job) {
    const Panel panel = must(job.panel());
    std::string text;
    for (std::size_t i = 0; i < panel.readings.rows.size(); ++i)
      text += (text.empty() ? "" : " ") + panel.readings.name(ReadingId{static_cast<std::uint32_t>(i)});
    return text;
  }

  /// SQL by a connection of its own; what SQLite says, or the rows' first cells.
  std::string sql(const fs::path& path, const std::string& statements) {
    sqlite3* connection = nullptr;
    sqlite3_open(path.c_str(), &connection);
    std::string answer;
    const auto take = [](void* to, int, char** cells, char**) {
      *static_cast<std::string*>(to) += (cells[0] == nullptr ? "NULL" : cells[0]) + std::string(" ");
      return 0;
    };
    char* message = nullptr;
    if (sqlite3_exec(connection, statements.c_str(), take, &answer, &message) != SQLITE_OK) answer = message;
    sqlite3_free(message);
    sqlite3_close(connection);
    return answer;
  }

  void expect_same_as_files(const PanelSource& source, const std::string& name) {
    const Panel files = must(load_panel(source));
    const Panel job = must(must(create_job(at(name), source)).panel());
    EXPECT_EQ(log_lines(job), log_lines(files));
    EXPECT_EQ(netlist_text(job.netlist), netlist_text(files.netlist));
  }

  ScopedTempFolder folder_;
};

TEST_F(JobTest, APanelComesBackAsItsFilesGiveIt) {
  const fs::path demos(RINGTRUE_NETLISTS);
  for (const std::string demo : {"quickstart", "grain-dryer"})
    expect_same_as_files({demos / demo, demos / demo / "readings.csv", demos / demo / "meters.csv"},
                         demo + ".rtj");
  expect_same_as_files({demos / "grain-dryer" / "netlist.xml", {}, {}}, "xml.rtj");
}

TEST_F(JobTest, AwkwardFilesComeBackAsTheyAre) {
  folder_.write("log/events.csv",
                "time,by,kind,points,text,id\n2026-03-02T09:00:00+01:00,wireman A,temporary-made,K1:A1; "
                "X1:5.int,\"pulled, \"\"F1\"\"\",E1\n");
  folder_.write(
      "log/readings.csv",
      "from;to;value;method;conditions;note;witness;id\nK1:A1;X1:5.int;1,5k;ohms;K1=operated;\"two\n"
      "lines\";B;R1\n"
      "K1:A1;X1:5.int;OL;;;;;R2\n");
  // Two lines of one cell put the second row into the fourth line; a job numbers rows.
  folder_.write("meters.csv",
                "meter,threshold,range,lead_ohms,accuracy\nM1,1.5k,60M,\"0,1\",0.7%\nM2,,,0,\nM3,0.3,,,\n");
  folder_.write("mapped/wires.csv", "\xEF\xBB\xBFnr;von;nach\n1;K1:A1;X1:5\n");
  const fs::path mapping = folder_.write("mapped/export.toml",
                                         "[[conductors]]\nfile = \"wires.csv\"\n[conductors.columns]\n"
                                         "wire = \"nr\"\nfrom = \"von\"\nto = \"nach\"\n");
  const PanelSource source{mapping, at("log/readings.csv"), at("meters.csv")};
  Panel files = must(load_panel(source));
  const Panel job = must(must(create_job(at("a.rtj"), source)).panel());
  EXPECT_EQ(files.readings.rows[1].line, 4u);
  files.readings.rows[1].line = 3;
  EXPECT_EQ(log_lines(job), log_lines(files));
  EXPECT_EQ(netlist_text(job.netlist), netlist_text(files.netlist));
}

TEST_F(JobTest, TheNetlistIsThatOfTheDayWhenItWasLoaded) {
  const Job job = small_job();
  fs::remove_all(at("GD1"));
  EXPECT_EQ(must(job.panel()).netlist.conductors.size(), 1u);
}

TEST_F(JobTest, TheNewestRevisionCounts) {
  Job job = small_job();
  EXPECT_EQ(must(job.append_netlist(at("GD1"))), Appended::already_there);
  folder_.write("GD1/conductors.csv", "wire,from,to\n1,K1:A1,X1:5.int\n2,K1:A2,X1:6.int\n");
  EXPECT_EQ(must(job.append_netlist(at("GD1"))), Appended::added);
  EXPECT_EQ(must(job.panel()).netlist.conductors.size(), 2u);
  EXPECT_EQ(must(job.contents()).netlists.size(), 2u);
  ASSERT_TRUE(job.export_to(at("out")));
  EXPECT_EQ(bytes_of(at("out/netlist-1/conductors.csv")), k_conductors);
  EXPECT_EQ(bytes_of(at("out/netlist/conductors.csv")), bytes_of(at("GD1/conductors.csv")));
}

TEST_F(JobTest, FilesOutsideTheMappingsFolderAreRefused) {
  folder_.write("wires.csv", k_conductors);
  folder_.write("mapped/export.toml", "[[conductors]]\nfile = \"../wires.csv\"\n");
  EXPECT_EQ(
      errors_of(create_job(at("a.rtj"), {at("mapped/export.toml")}), folder_),
      "mapped/export.toml: a file lies outside the folder of the mapping file, so that a job cannot hold "
      "it: found \"mapped/../wires.csv\", expected files beside or below the mapping file");
  EXPECT_FALSE(fs::exists(at("a.rtj")));
}

TEST_F(JobTest, AReadingSentTwiceIsThereOnce) {
  Job job = small_job();
  EXPECT_EQ(must(job.append(reading("R1"))), Appended::added);
  EXPECT_EQ(must(job.append(reading("R1"))), Appended::already_there);
  EXPECT_EQ(ids(job), "R1");
  const EventRow repair = event("E1", "repair", "K1:A1", "2026-03-02T09:00:00Z");
  EXPECT_EQ(must(job.append(repair)), Appended::added);
  EXPECT_EQ(must(job.append(repair)), Appended::already_there);
  EXPECT_EQ(must(job.panel()).events.rows.size(), 1u);
}

TEST_F(JobTest, AnotherReadingUnderTheSameIdIsRefused) {
  Job job = small_job();
  must(job.append(reading("R1")));
  EXPECT_EQ(errors_of(job.append(reading("R1", "open")), folder_),
            "a.rtj: id: the job holds another reading under this name (its value is \"beep\"): found \"R1\", "
            "expected the same row, or a name of its own");
  EXPECT_EQ(log_lines(must(job.panel())).find("open"), std::string::npos);
}

TEST_F(JobTest, ARowThatIsWrongIsNotAdded) {
  Job job = small_job();
  EXPECT_EQ(first_code(job.append(reading("R1", "maybe"))), ErrorCode::bad_reading);
  EXPECT_EQ(errors_of(job.append(reading("")), folder_),
            "a.rtj: id: a row of a job needs an id: expected an id that no other row has");
  EXPECT_EQ(first_code(job.append(event("E1", "repair", "K1:A1", "now"))), ErrorCode::bad_time);
  EXPECT_EQ(ids(job), "");
}

TEST_F(JobTest, ASupersededReadingStaysAndIsNotCurrent) {
  Job job = small_job();
  must(job.append(reading("R1")));
  must(job.append(reading("R2")));
  EXPECT_EQ(must(job.append(reading("R3", "open"), "R1")), Appended::added);
  EXPECT_EQ(must(job.append(reading("R3", "open"), "R1")), Appended::already_there);
  EXPECT_EQ(ids(job), "R2 R3");
  must(job.append(reading("R4"), "R3"));
  EXPECT_EQ(ids(job), "R2 R4");
  EXPECT_EQ(must(job.contents()).superseded_readings, 2u);
  EXPECT_EQ(sql(at("a.rtj"), "SELECT id FROM reading ORDER BY number"), "R1 R2 R3 R4 ");
}

TEST_F(JobTest, OnlyAReadingInTheJobIsSuperseded) {
  Job job = small_job();
  EXPECT_EQ(errors_of(job.append(reading("R2"), "R1"), folder_),
            "a.rtj: supersedes: no reading of this id is in the job, so there is nothing to supersede: found "
            "\"R1\", expected the id of a reading in the job");
  EXPECT_EQ(first_code(job.append(reading("R2"), "R2")), ErrorCode::unknown_reading);
}

TEST_F(JobTest, AFileOfReadingsIsAddedOnceAndWhole) {
  Job job = small_job();
  const auto load = [&](std::string_view text) { return must(load_readings(folder_.write("r.csv", text))); };
  const Readings first = load("from,to,value,id\nK1:A1,X1:5.int,beep,R1\nK1:A1,X1:5.int,open,R2\n");
  EXPECT_EQ(must(job.append(first)), 2u);
  EXPECT_EQ(must(job.append(first)), 0u);
  const Readings other = load("from,to,value,id\nK1:A1,X1:5.int,beep,R3\nK1:A1,X1:5.int,beep,R2\n");
  EXPECT_EQ(
      errors_of(job.append(other), folder_),
      "r.csv:3: id: the job holds another reading under this name (its value is \"open\"): found \"R2\", "
      "expected the same row, or a name of its own");
  EXPECT_EQ(ids(job), "R1 R2");
}

TEST_F(JobTest, ReadingsWithoutIdsAreToldApartByTheirText) {
  Job job = small_job();
  const auto load = [&](std::string_view text) { return must(load_readings(folder_.write("r.csv", text))); };
  EXPECT_EQ(must(job.append(load("from,to,value\nK1:A1,X1:5.int,beep\nK1:A1,X1:5.int,beep\n"))), 2u);
  EXPECT_EQ(must(job.append(load("from,to,value\nK1:A1,X1:5.int,beep\nK1:A1,X1:5.int,beep\nK1:A1,X1:5.int,"
                                 "open\nK1:A1,X1:5.int,beep\n"))),
            2u);
  EXPECT_EQ(must(job.panel()).readings.rows.size(), 4u);
}

TEST_F(JobTest, RowsAreNeitherChangedNorTakenAway) {
  folder_.write("log/events.csv", "time,by,kind,points\n2026-03-02T09:00:00Z,A,repair,K1:A1\n");
  folder_.write("GD1/conductors.csv", k_conductors);
  folder_.write("log/readings.csv", "from,to,value\nK1:A1,X1:5.int,beep\n");
  folder_.write("meters.csv", "meter\nM1\n");
  must(create_job(at("a.rtj"), {at("GD1"), at("log/readings.csv"), at("meters.csv")}));
  const std::string tables[] = {"netlist", "netlist_file", "reading", "event", "meter"};
  for (const std::string& table : tables) {
    EXPECT_EQ(sql(at("a.rtj"), "UPDATE " + table + " SET number = 7"), "rows of a job are never changed");
    EXPECT_EQ(sql(at("a.rtj"), "DELETE FROM " + table), "rows of a job are never deleted");
    EXPECT_EQ(sql(at("a.rtj"), "INSERT OR REPLACE INTO " + table + " SELECT * FROM " + table),
              "rows of a job are never replaced");
    EXPECT_EQ(sql(at("a.rtj"), "SELECT count(*) FROM " + table), "1 ");
  }
}

TEST_F(JobTest, TheFileIsWalAndSaysWhatItIs) {
  small_job();
  EXPECT_EQ(sql(at("a.rtj"), "PRAGMA journal_mode; PRAGMA application_id; PRAGMA user_version"),
            "wal 1381255729 2 ");
}

TEST_F(JobTest, TwoProcessesAppendAtOnce) {
  small_job();
  constexpr int k_rows = 500;
  const auto append_all = [&](const std::string& prefix) {
    auto job = open_job(at("a.rtj"));
    if (!job) return 1;
    for (int i = 0; i < k_rows; ++i)
      if (!job->append(reading(prefix + std::to_string(i)))) return 1;
    return 0;
  };
  const pid_t child = ::fork();
  if (child == 0) ::_exit(append_all("A"));
  EXPECT_EQ(append_all("B"), 0);
  int status = -1;
  ::waitpid(child, &status, 0);
  EXPECT_EQ(status, 0);
  std::istringstream all(ids(must(open_job(at("a.rtj")))));
  std::set<std::string> found{std::istream_iterator<std::string>(all), {}};
  EXPECT_EQ(found.size(), 2u * k_rows);
  EXPECT_EQ(sql(at("a.rtj"), "PRAGMA integrity_check; SELECT count(*) FROM reading"), "ok 1000 ");
}

TEST_F(JobTest, AJobOfVersion1IsBroughtToTodays) {
  // As version 1 made it; netlists and readings as a job of one wire has them.
  EXPECT_EQ(sql(at("old.rtj"), bytes_of(fs::path(RINGTRUE_JOBS) / "version_1.sql")), "wal ");
  Job job = must(open_job(at("old.rtj")));
  EXPECT_EQ(ids(job), "R1 R2");
  EXPECT_EQ(must(job.panel()).netlist.conductors.size(), 1u);
  must(job.append(reading("R3"), "R2"));
  EXPECT_EQ(ids(job), "R1 R3");
  EXPECT_EQ(sql(at("old.rtj"), "PRAGMA user_version"), "2 ");
  // The same form as that of a new job.
  small_job();
  const char* schema = "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name";
  const auto plain = [](std::string text) {
    std::erase_if(text, [](char c) { return c == ' ' || c == '\n'; });
    return text;
  };
  EXPECT_EQ(plain(sql(at("old.rtj"), schema)), plain(sql(at("a.rtj"), schema)));
}

TEST_F(JobTest, ANewerJobIsRefusedAndLeftAlone) {
  small_job();
  sql(at("a.rtj"), "PRAGMA user_version = 3");
  EXPECT_EQ(errors_of(open_job(at("a.rtj")), folder_),
            "a.rtj: a newer ringtrue made this job: found \"version 3\", expected at most version 2; use the "
            "newer program");
  EXPECT_EQ(sql(at("a.rtj"), "PRAGMA user_version"), "3 ");
}

TEST_F(JobTest, WhatIsNoJobIsRefusedAndLeftAlone) {
  constexpr std::string_view k_no_job = ": this is no job: expected a file that ringtrue job new made";
  folder_.write("empty.rtj", "");
  folder_.write("text.rtj", std::string(5000, 'x'));
  sql(at("other.rtj"), "CREATE TABLE reading (id)");
  const std::string before = bytes_of(at("other.rtj"));
  for (const std::string name : {"empty.rtj", "text.rtj", "other.rtj"})
    EXPECT_EQ(errors_of(open_job(at(name)), folder_), name + std::string(k_no_job));
  EXPECT_EQ(bytes_of(at("empty.rtj")), "");
  EXPECT_EQ(bytes_of(at("other.rtj")), before);
  fs::create_directory(at("folder.rtj"));
  EXPECT_EQ(first_code(open_job(at("folder.rtj"))), ErrorCode::not_a_job);
  EXPECT_EQ(errors_of(open_job(at("text.rt")), folder_).substr(0, 41),
            "text.rt: there is no such file; nearest: ");
}

TEST_F(JobTest, ACutJobIsRefusedAtEveryPage) {
  { small_job(); }
  const std::string whole = bytes_of(at("a.rtj"));
  ASSERT_GT(whole.size(), 4u * 4096);
  for (std::size_t size = 4096; size < whole.size(); size += 4096) {
    folder_.write("cut.rtj", whole.substr(0, size));
    EXPECT_EQ(first_code(open_job(at("cut.rtj"))), ErrorCode::damaged_job) << size;
  }
}

TEST_F(JobTest, StoredBytesThatAreNotThoseLoadedAreDamage) {
  { small_job(); }
  std::string bytes = bytes_of(at("a.rtj"));
  const std::size_t found = bytes.find(k_conductors);
  ASSERT_NE(found, std::string::npos);
  bytes[found + k_conductors.size() - 2] = 'x';
  folder_.write("a.rtj", bytes);
  EXPECT_EQ(errors_of(must(open_job(at("a.rtj"))).panel(), folder_),
            "a.rtj: the job is damaged: a stored file isn't what was loaded: found \"GD1/conductors.csv\", "
            "expected bytes that have its SHA-256; a copy from before may");
}

/// Runs the test in a child without root's rights; for root nothing is read-only.
template <class Work>
int as_nobody(Work work) {
  const pid_t child = ::fork();
  if (child == 0) {
    if (::geteuid() == 0 && ::setuid(65534) != 0) ::_exit(9);
    ::_exit(work());
  }
  int status = -1;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST_F(JobTest, AReadOnlyFileIsReadAndNotAppendedTo) {
  { small_job(); }
  ::chmod(folder_.path().c_str(), 0777);
  ::chmod(at("a.rtj").c_str(), 0444);
  EXPECT_EQ(as_nobody([&] {
              auto job = open_job(at("a.rtj"));
              if (!job || !job->panel()) return 1;
              const auto appended = job->append(reading("R1"));
              return first_code(appended) == ErrorCode::read_only_job ? 0 : 2;
            }),
            0);
}

TEST_F(JobTest, AReadOnlyFolderIsTold) {
  { small_job(); }
  ::chmod(at("a.rtj").c_str(), 0666);
  ::chmod(folder_.path().c_str(), 0555);
  EXPECT_EQ(
      as_nobody([&] {
        const std::string said = errors_of(open_job(at("a.rtj")), folder_);
        return said == "a.rtj: the job may not be written to: expected a file and a folder with permission "
                       "to write"
                   ? 0
                   : 1;
      }),
      0);
  EXPECT_EQ(as_nobody([&] {
              return first_code(create_job(at("b.rtj"), {RINGTRUE_NETLISTS "/quickstart"})) ==
                             ErrorCode::file_unwritable
                         ? 0
                         : 1;
            }),
            0);
  ::chmod(folder_.path().c_str(), 0755);
}

TEST_F(JobTest, NothingTakesThePlaceOfWhatIsThere) {
  { small_job(); }
  const std::string before = bytes_of(at("a.rtj"));
  EXPECT_EQ(errors_of(create_job(at("a.rtj"), {at("GD1")}), folder_),
            "a.rtj: it exists already: expected a name that is not taken yet");
  EXPECT_EQ(bytes_of(at("a.rtj")), before);
  const Job job = must(open_job(at("a.rtj")));
  fs::create_directory(at("out"));
  EXPECT_EQ(first_code(job.export_to(at("out"))), ErrorCode::file_exists);
  EXPECT_TRUE(fs::is_empty(at("out")));
}

TEST_F(JobTest, TheLogOfAnEarlierJobIsNotTakenForThatOfANewOne) {
  folder_.write("GD1/conductors.csv", k_conductors);
  folder_.write("a.rtj-wal", "left behind");
  EXPECT_EQ(
      errors_of(create_job(at("a.rtj"), {at("GD1")}), folder_),
      "a.rtj-wal: the log of an earlier job of this name stands here: expected another name, or that job "
      "beside it");
  EXPECT_FALSE(fs::exists(at("a.rtj")));
}

TEST_F(JobTest, TheNameEndsInRtj) {
  EXPECT_EQ(errors_of(create_job(at("a.db"), {at("GD1")}), folder_),
            "a.db: the name of a job ends in .rtj: expected a.rtj");
}

TEST_F(JobTest, AFileThatIsWrongMakesNoJob) {
  folder_.write("GD1/conductors.csv", k_conductors);
  folder_.write("r.csv", "from,to,value\nK1:A1,X1:5,maybe\n");
  EXPECT_EQ(first_code(create_job(at("a.rtj"), {at("GD1"), at("r.csv")})), ErrorCode::bad_reading);
  EXPECT_FALSE(fs::exists(at("a.rtj")));
}

TEST_F(JobTest, ExportedReadingsGiveWhatIsCurrent) {
  Job job = small_job();
  must(job.append(reading("R1")));
  must(job.append(reading("R2", "open"), "R1"));
  ASSERT_TRUE(job.export_to(at("out")));
  EXPECT_EQ(bytes_of(at("out/readings.csv")),
            "from,to,value,time,by,conditions,meter,method,witness,note,id,supersedes,superseded_by\r\n"
            "K1:A1,X1:5.int,beep,,,,,,,,R1,,R2\r\n"
            "K1:A1,X1:5.int,open,,,,,,,,R2,R1,\r\n");
  const Panel files = must(load_panel({at("out/netlist"), at("out/readings.csv"), at("out/meters.csv")}));
  EXPECT_EQ(log_lines(files), log_lines(must(job.panel())));
  EXPECT_EQ(notes_of(files.readings.notes, folder_),
            "out/readings.csv:2: a later reading supersedes 1 row, passed over");
}

TEST_F(JobTest, ChangesAreOpenUntilTheSamePointsAreUndone) {
  Job job = small_job();
  const auto add = [&](std::string_view id, std::string_view kind, std::string_view points,
                       std::string_view time) { must(job.append(event(id, kind, points, time))); };
  add("E1", "temporary-made", "K1:A1; X1:5.int", "2026-03-02T09:00:00Z");
  add("E2", "temporary-made", "K1:A1", "2026-03-02T09:01:00Z");
  add("E3", "temporary-undone", "K1:A1;X1:5.int", "2026-03-02T09:02:00Z");
  add("E4", "temporary-undone", "K1:A1", "2026-03-02T08:00:00Z");
  add("E5", "repair", "K1:A1", "2026-03-02T10:00:00Z");
  const Panel panel = must(job.panel());
  const std::vector<const Event*> open = open_temporary_changes(panel.events);
  ASSERT_EQ(open.size(), 1u);
  EXPECT_EQ(open[0]->id, "E2");
}

}  // namespace
}  // namespace ringtrue
