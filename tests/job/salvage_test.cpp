// What is written of jobs that aren't whole. Damage of every kind: tests/cli/damage_check.py.
#include "ringtrue/job/salvage.hpp"

#include "job_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

class JobSalvage : public JobTest {
 protected:
  static std::string counts(const Salvage& salvage) {
    std::string text;
    for (const SalvagedTable& table : salvage.tables)
      text += table.name + " " + std::to_string(table.read) + "-" + std::to_string(table.lost.size()) +
              (table.may_have_more ? "? " : " ");
    return text;
  }
};

TEST_F(JobSalvage, OfAWholeJobItIsTheExport) {
  Job job = small_job();
  for (const std::string_view id : {"R1", "R2", "R3"}) must(job.append(reading(id)));
  must(job.append(reading("R4", "open"), "R1"));
  must(job.append(reading("W1", ""), "R2"));
  must(job.append(event("E1", "repair", "K1:A1", "2026-03-02T09:00:00Z")));
  folder_.write("GD1-B/conductors.csv", "wire,from,to\n2,K1:A2,X1:6.int\n");
  must(job.append_netlist(at("GD1-B"), Rewired::as_built));
  ASSERT_TRUE(job.export_to(at("export")));
  const Salvage salvage = must(salvage_job(at("a.rtj"), at("salvage")));
  EXPECT_EQ(counts(salvage),
            "reading 5-0 event 1-0 meter 0-0 result 0-0 decision 0-0 signature 0-0 netlist file 2-0 ");
  EXPECT_TRUE(salvage.changed_files.empty());
  for (const std::string name : {"readings.csv", "events.csv", "meters.csv", "results.csv", "decisions.csv",
                                 "netlists.csv", "netlist/conductors.csv", "netlist-1/conductors.csv"})
    EXPECT_EQ(bytes_of(at("salvage/" + name)), bytes_of(at("export/" + name))) << name;
}

TEST_F(JobSalvage, AnOlderJobIsReadInItsOwnForm) {
  sql(at("a.rtj"), bytes_of(fs::path(RINGTRUE_JOBS) / "version_1.sql"));
  const std::string before = bytes_of(at("a.rtj"));
  EXPECT_EQ(counts(must(salvage_job(at("a.rtj"), at("out")))),
            "reading 2-0 event 0-0 meter 0-0 result 0-0 decision 0-0 signature 0-0 netlist file 1-0 ");
  EXPECT_EQ(must(load_readings(at("out/readings.csv"))).rows.size(), 2u);
  EXPECT_EQ(bytes_of(at("a.rtj")), before);
}

TEST_F(JobSalvage, NamesOutsideTheFolderAreNotWritten) {
  Job job = small_job();
  sql(at("a.rtj"),
      "INSERT INTO netlist_file (netlist, path, name, sha256, bytes) SELECT 1, path, '../../evil.csv', "
      "sha256, bytes FROM netlist_file");
  fs::create_directory(at("out"));
  EXPECT_EQ(first_code(job.export_to(at("out/a"))), ErrorCode::damaged_job);
  const Salvage salvage = must(salvage_job(at("a.rtj"), at("out/a")));
  EXPECT_EQ(counts(salvage),
            "reading 0-0 event 0-0 meter 0-0 result 0-0 decision 0-0 signature 0-0 netlist file 1-1 ");
  EXPECT_FALSE(fs::exists(at("out/evil.csv")));
  EXPECT_FALSE(fs::exists(at("evil.csv")));
}

TEST_F(JobSalvage, WhatIsNoJobIsRefused) {
  sql(at("a.rtj"), "CREATE TABLE reading (id)");
  EXPECT_EQ(first_code(salvage_job(at("a.rtj"), at("out"))), ErrorCode::not_a_job);
  EXPECT_FALSE(fs::exists(at("out")));
}

}  // namespace
}  // namespace ringtrue
