// What a job holds, and that it gives back what was put in.
#include <set>
#include <sstream>

#include "job_support.hpp"
#include "ringtrue/job/salvage.hpp"
#include "support/netlist_lines.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

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
    // But for the mark of its netlist, which files have and a job of one netlist needs not.
    for (int field = 0; field < static_cast<int>(ReadingText::netlist); ++field)
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
  for (const IoResult& result : panel.io_results.rows) {
    out << "\nresult " << result.line;
    for (const auto text : {word(result.stimulus), word(result.led), word(result.bit), word(result.only_this),
                            word(result.verdict)})
      put(text);
    for (const std::string* text :
         {&result.channel, &result.at, &result.given, &result.expected, &result.value, &result.reason,
          &result.time, &result.by, &result.witness, &result.meter, &result.revision, &result.id})
      put(*text);
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

class JobPanel : public JobTest {
 protected:
  void expect_same_as_files(const PanelSource& source, const std::string& name) {
    const Panel files = must(load_panel(source));
    const Panel job = must(must(create_job(at(name), source)).panel());
    EXPECT_EQ(log_lines(job), log_lines(files));
    EXPECT_EQ(netlist_text(job.netlist), netlist_text(files.netlist));
  }
};

TEST_F(JobPanel, APanelComesBackAsItsFilesGiveIt) {
  const fs::path demos(RINGTRUE_NETLISTS);
  for (const std::string demo : {"quickstart", "grain-dryer"})
    expect_same_as_files({demos / demo, demos / demo / "readings.csv", demos / demo / "meters.csv"},
                         demo + ".rtj");
  expect_same_as_files({demos / "grain-dryer" / "netlist.xml", {}, {}}, "xml.rtj");
}

TEST_F(JobPanel, AwkwardFilesComeBackAsTheyAre) {
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
  folder_.write(
      "results.csv",
      "channel,stimulus,at,given,expected,led,bit,value,only_this,verdict,reason,time,by,witness,"
      "meter,revision,id\nDI0,jumper,X1:5.ext,24V,lit,lit,1,,not looked,pass,,2026-03-02T09:00:00Z,A,"
      "B,M1,A,T1\nAI0,simulator,X1:6.ext,\"12,0 mA\",50 %,,,49.7 %,,fail,\"two\nlines\","
      "2026-03-02T09:01:00Z,A,,,,T2\n");
  folder_.write("mapped/wires.csv", "\xEF\xBB\xBFnr;von;nach\n1;K1:A1;X1:5\n");
  const fs::path mapping = folder_.write("mapped/export.toml",
                                         "[[conductors]]\nfile = \"wires.csv\"\n[conductors.columns]\n"
                                         "wire = \"nr\"\nfrom = \"von\"\nto = \"nach\"\n");
  const PanelSource source{mapping, at("log/readings.csv"), at("meters.csv"), at("results.csv")};
  Panel files = must(load_panel(source));
  const Panel job = must(must(create_job(at("a.rtj"), source)).panel());
  ASSERT_EQ(job.io_results.rows.size(), 2u);
  EXPECT_EQ(files.readings.rows[1].line, 4u);
  files.readings.rows[1].line = 3;
  EXPECT_EQ(log_lines(job), log_lines(files));
  EXPECT_EQ(netlist_text(job.netlist), netlist_text(files.netlist));
}

TEST_F(JobPanel, TheNetlistIsThatOfTheDayWhenItWasLoaded) {
  const Job job = small_job();
  fs::remove_all(at("GD1"));
  EXPECT_EQ(must(job.panel()).netlist.conductors.size(), 1u);
}

TEST_F(JobPanel, TheNewestRevisionCounts) {
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

TEST_F(JobTest, ExportedWithdrawalsAreNoReadings) {
  Job job = small_job();
  for (const std::string_view id : {"R1", "R2", "R3"}) must(job.append(reading(id)));
  must(job.append(reading("W1", ""), "R2"));
  must(job.append(reading("R4", "open"), "R3"));
  ASSERT_TRUE(job.export_to(at("out")));
  EXPECT_NE(bytes_of(at("out/readings.csv")).find("K1:A1,X1:5.int,,,,,,,,,W1,R2,,1 476ebe8a4adf\r\n"),
            std::string::npos);
  const Panel files = must(load_panel({at("out/netlist"), at("out/readings.csv"), at("out/meters.csv")}));
  EXPECT_EQ(log_lines(files), log_lines(must(job.panel())));
  EXPECT_EQ(files.readings.rows.size(), 2u);
  EXPECT_EQ(notes_of(files.readings.notes, folder_),
            "out/readings.csv:5: an earlier reading is withdrawn by 1 row, passed over\n"
            "out/readings.csv:3: a later reading supersedes 2 rows, passed over");
}

TEST_F(JobTest, AResultSentTwiceIsThereOnce) {
  Job job = small_job();
  IoResultRow row;
  row.channel = "DI0", row.stimulus = "jumper", row.verdict = "pass", row.by = "A", row.id = "T1";
  row.time = "2026-03-02T09:00:00Z";
  EXPECT_EQ(must(job.append(row)), Appended::added);
  EXPECT_EQ(must(job.append(row)), Appended::already_there);
  row.verdict = "fail";
  EXPECT_EQ(
      errors_of(job.append(row), folder_),
      "a.rtj: id: the job holds another result under this name (its verdict is \"pass\"): found \"T1\", "
      "expected the same row, or a name of its own");
  row.id = "";
  EXPECT_EQ(first_code(job.append(row)), ErrorCode::missing_field);
  row.id = "T2", row.stimulus = "";
  EXPECT_EQ(first_code(job.append(row)), ErrorCode::missing_field);
  EXPECT_EQ(must(job.panel()).io_results.rows.size(), 1u);
}

TEST_F(JobTest, AWithdrawnResultStaysAndIsNotCurrent) {
  Job job = small_job();
  IoResultRow row;
  row.channel = "DI0", row.stimulus = "jumper", row.verdict = "fail", row.by = "A";
  row.time = "2026-03-02T09:00:00Z";
  for (const char* id : {"I1", "I2"}) {
    row.id = id;
    must(job.append(row));
  }
  row.id = "I3", row.verdict = "withdrawn";
  EXPECT_EQ(errors_of(job.append(row), folder_),
            "a.rtj: supersedes: the field is empty: expected the id of the result that is withdrawn");
  row.supersedes = "I9";
  EXPECT_EQ(first_code(job.append(row)), ErrorCode::unknown_reading);
  row.supersedes = "I1";
  EXPECT_EQ(must(job.append(row)), Appended::added);
  EXPECT_EQ(must(job.append(row)), Appended::already_there);

  const auto current = must(job.panel()).io_results.rows;
  ASSERT_EQ(current.size(), 1u);
  EXPECT_EQ(current.front().id, "I2");
  EXPECT_EQ(must(job.find_io_result("I1"))->verdict, IoVerdict::fail);
  EXPECT_EQ(must(job.find_io_result("I3"))->supersedes, "I1");
  EXPECT_FALSE(must(job.find_io_result("I4")));

  ASSERT_TRUE(job.export_to(at("out")));
  const IoResults exported = must(load_io_results(at("out/results.csv")));
  ASSERT_EQ(exported.rows.size(), 1u);
  EXPECT_EQ(exported.rows.front().id, "I2");
  EXPECT_EQ(exported.notes.back().text, "2 rows are withdrawn results or withdrawals, passed over");
  ASSERT_TRUE(salvage_job(at("a.rtj"), at("salvaged")));
  EXPECT_EQ(bytes_of(at("salvaged/results.csv")), bytes_of(at("out/results.csv")));
}

TEST_F(JobTest, AnExportedEventComesBackAsTheSame) {
  Job job = small_job();
  must(job.append(event("E1", "repair", "K1:A1;X1:5.int", "2026-03-02T09:00:00Z")));
  EXPECT_EQ(sql(at("a.rtj"), "SELECT points FROM event"), "K1:A1; X1:5.int ");
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
  const auto load = [&](std::string_view text) {
    return JobRows{must(load_readings(folder_.write("r.csv", text))), {}, {}, {}, {}, {}};
  };
  const JobRows first = load("from,to,value,id\nK1:A1,X1:5.int,beep,R1\nK1:A1,X1:5.int,open,R2\n");
  EXPECT_EQ(must(job.append(first)).readings, 2u);
  EXPECT_EQ(must(job.append(first)).readings, 0u);
  const JobRows other = load("from,to,value,id\nK1:A1,X1:5.int,beep,R3\nK1:A1,X1:5.int,beep,R2\n");
  EXPECT_EQ(
      errors_of(job.append(other), folder_),
      "r.csv:3: id: the job holds another reading under this name (its value is \"open\"): found \"R2\", "
      "expected the same row, or a name of its own");
  EXPECT_EQ(ids(job), "R1 R2");
}

TEST_F(JobTest, FilesOfAllKindsAreAddedTogetherOrNotAtAll) {
  Job job = small_job();
  const auto load = [&](std::string_view threshold) {
    return JobRows{
        must(load_readings(folder_.write("r.csv", "from,to,value\nK1:A1,X1:5.int,beep\n"))),
        must(load_events(
            folder_.write("e.csv", "time,by,kind,points\n2026-03-02T09:00:00Z,A,repair,K1:A1\n"))),
        must(load_meters(folder_.write("m.csv", "meter,threshold\nM1," + std::string(threshold) + "\n"))),
        must(load_io_results(folder_.write(
            "t.csv", "channel,stimulus,verdict,time,by\nD,jumper,pass,2026-03-02T09:00:00Z,A\n"))),
        {},
        {}};
  };
  must(job.append(JobRows{{}, {}, load("20").meters, {}, {}, {}}));
  EXPECT_EQ(errors_of(job.append(load("30")), folder_),
            "m.csv:2: meter: the job holds another meter under this name (its threshold is \"20\"): found "
            "\"M1\", expected the same row, or a name of its own");
  EXPECT_EQ(must(job.panel()).readings.rows.size(), 0u);
  const JobRowCounts added = must(job.append(load("20")));
  EXPECT_EQ(added.readings, 1u);
  EXPECT_EQ(added.events, 1u);
  EXPECT_EQ(added.meters, 0u);
  EXPECT_EQ(added.io_results, 1u);
  const JobRowCounts again = must(job.append(load("20")));
  EXPECT_EQ(again.readings + again.events + again.meters + again.io_results, 0u);
}

TEST_F(JobTest, ReadingsWithoutIdsAreToldApartByTheirText) {
  Job job = small_job();
  const auto load = [&](std::string_view text) {
    return JobRows{must(load_readings(folder_.write("r.csv", text))), {}, {}, {}, {}, {}};
  };
  EXPECT_EQ(must(job.append(load("from,to,value\nK1:A1,X1:5.int,beep\nK1:A1,X1:5.int,beep\n"))).readings, 2u);
  EXPECT_EQ(must(job.append(load("from,to,value\nK1:A1,X1:5.int,beep\nK1:A1,X1:5.int,beep\nK1:A1,X1:5.int,"
                                 "open\nK1:A1,X1:5.int,beep\n")))
                .readings,
            2u);
  EXPECT_EQ(must(job.panel()).readings.rows.size(), 4u);
}

TEST_F(JobTest, ExportedReadingsGiveWhatIsCurrent) {
  Job job = small_job();
  must(job.append(reading("R1")));
  must(job.append(reading("R2", "open"), "R1"));
  ASSERT_TRUE(job.export_to(at("out")));
  EXPECT_EQ(bytes_of(at("out/readings.csv")),
            "from,to,value,time,by,conditions,meter,method,witness,note,id,supersedes,superseded_by,netlist"
            "\r\n"
            "K1:A1,X1:5.int,beep,,,,,,,,R1,,R2,1 476ebe8a4adf\r\n"
            "K1:A1,X1:5.int,open,,,,,,,,R2,R1,,1 476ebe8a4adf\r\n");
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
