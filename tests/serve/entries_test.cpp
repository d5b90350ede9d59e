// What is sent to a job without any socket; rows are read through a connection of the test's own.
#include "serve/entries.hpp"

#include <nlohmann/json.hpp>

#include "job/job_support.hpp"
#include "ringtrue/live/entry.hpp"

namespace ringtrue::serve {
namespace {

using namespace testing_support;
using nlohmann::json;

class EntriesTest : public JobTest {
 protected:
  void SetUp() override {
    must(create_job(at("a.rtj"), {fs::path(RINGTRUE_NETLISTS) / "quickstart"}));
    watch_ =
        std::make_unique<Watch>(must(LiveJob::open(must(open_job(at("a.rtj"))))), must(open_job(at("a.rtj"))),
                                [](const Watch::Source& source) { return std::to_string(source.version); });
    entries_ = std::make_unique<Entries>(must(open_job(at("a.rtj"))), *watch_, MeterSettings{});
  }

  /// Wire 14, drawn a beep, with changes.
  static std::string sent(const std::string& id, const json& changes = json::object()) {
    json body = {{"id", id},
                 {"from", "K1:14"},
                 {"to", "X1:5.int"},
                 {"value", "beep"},
                 {"time", "2026-03-02T09:00:00Z"}};
    body.update(changes);
    return body.dump();
  }
  static std::string with(const std::string& id, const json& fields) {
    json body = {{"id", id}, {"by", "AK"}, {"time", "2026-03-02T10:00:00Z"}};
    body.update(fields);
    return body.dump();
  }

  /// Ids of the rows, oldest first.
  std::string stored() {
    std::string all;
    for (const JournalReading& row : must(must(open_job(at("a.rtj"))).journal(1000)))
      all = row.id + (all.empty() ? "" : " ") + all;
    return all;
  }
  Panel panel() { return must(must(open_job(at("a.rtj"))).panel()); }

  /// The key of the one finding there is.
  std::string finding() {
    return must(watch_->with_live([](const LiveJob& live) -> Result<std::string> {
      return diagnosis_key(live.state().findings().clusters.at(0).diagnoses.at(0));
    }));
  }

  std::unique_ptr<Watch> watch_;
  std::unique_ptr<Entries> entries_;
};

TEST_F(EntriesTest, AReadingIsTakenOnce) {
  const Answer first = entries_->reading(sent("R1"));
  EXPECT_EQ(first.status, 201);
  EXPECT_EQ(json::parse(first.body),
            json({{"id", "R1"}, {"standing", "agrees"}, {"words", "read beep, drawn a beep"}}));
  EXPECT_EQ(entries_->reading(sent("R1")).status, 200);
  EXPECT_EQ(entries_->reading(sent("R1", {{"from", "k1:14"}})).status, 200);
  EXPECT_EQ(entries_->reading(sent("R1", {{"value", "open"}})).status, 409);
  EXPECT_EQ(json::parse(entries_->reading(sent("R2", {{"value", "open"}})).body)["standing"], "disagrees");
  EXPECT_EQ(stored(), "R1 R2");
}

TEST_F(EntriesTest, RefusesWhatCannotBeAReading) {
  const json changes[] = {{{"from", "ZZ:1"}},
                          {{"value", "perhaps"}},
                          {{"time", "noon"}},
                          {{"time", nullptr}},
                          {{"conditions", "S9=operated"}},
                          {{"supersedes", "R9"}},
                          {{"colour", "blue"}},
                          {{"value", {"beep", "open"}}},
                          {{"id", ""}},
                          {{"conditions", "S1=odd"}},
                          {{"note", std::string(1001, 'x')}}};
  for (const json& change : changes) {
    const Answer answer = entries_->reading(sent("R1", change));
    EXPECT_EQ(answer.status, 422) << change;
    const json error = json::parse(answer.body)["error"];
    EXPECT_FALSE(error["text"].get<std::string>().empty()) << change;
    EXPECT_EQ(error["text"].get<std::string>().find(folder_.path().string()), std::string::npos) << error;
  }
  EXPECT_EQ(stored(), "");
}

TEST_F(EntriesTest, ReadingsAreCorrectedAndWithdrawn) {
  EXPECT_EQ(entries_->reading(sent("R1", {{"value", "open"}})).status, 201);
  EXPECT_EQ(entries_->reading(sent("R2", {{"supersedes", "R1"}})).status, 201);
  EXPECT_EQ(panel().readings.rows.size(), 1);
  EXPECT_EQ(entries_->withdrawal(with("R3", {{"supersedes", "R2"}})).status, 201);
  EXPECT_EQ(entries_->withdrawal(with("R3", {{"supersedes", "R2"}})).status, 200);
  EXPECT_EQ(entries_->withdrawal(with("R3", {{"supersedes", "R1"}})).status, 409);
  const Answer nothing = entries_->withdrawal(with("R4", {{"supersedes", "R9"}}));
  EXPECT_EQ(nothing.status, 422);
  EXPECT_EQ(json::parse(nothing.body)["error"]["found"], "R9");
  EXPECT_EQ(panel().readings.rows.size(), 0);
  EXPECT_EQ(stored(), "R1 R2 R3");
}

TEST_F(EntriesTest, ARepairIsOfAFindingThatStands) {
  EXPECT_EQ(entries_->repair(with("E1", {{"finding", "a1b2c3d4"}})).status, 409);
  EXPECT_EQ(entries_->reading(sent("R1", {{"value", "open"}})).status, 201);
  const std::string body = with("E1", {{"finding", finding()}});
  const Answer first = entries_->repair(body);
  EXPECT_EQ(first.status, 201);
  EXPECT_EQ(json::parse(first.body), json({{"id", "E1"}, {"points", "K1:14; X1:5.int"}, {"again", 1}}));
  EXPECT_EQ(entries_->repair(body).status, 200);
  json other = json::parse(body);
  other["by"] = "BK";
  EXPECT_EQ(entries_->repair(other.dump()).status, 409);
  other = json::parse(body);
  other["id"] = "E2";
  EXPECT_EQ(entries_->repair(other.dump()).status, 409);
  const auto events = panel().events;
  ASSERT_EQ(events.rows.size(), 1);
  EXPECT_EQ(events.rows[0].kind, EventKind::repair);
  EXPECT_EQ(events.rows[0].points, (std::vector<std::string>{"K1:14", "X1:5.int"}));
}

TEST_F(EntriesTest, TemporaryChangesAreMadeAndUndone) {
  const json change = {{"kind", "temporary-made"}, {"points", {"x1:5", "K1:14"}}, {"text", "jumper"}};
  const Answer made = entries_->change(with("E1", change));
  EXPECT_EQ(made.status, 201);
  EXPECT_EQ(json::parse(made.body)["points"], "X1:5; K1:14");
  EXPECT_EQ(entries_->change(with("E1", change)).status, 200);
  EXPECT_EQ(entries_->repair(with("E1", {{"finding", "a1b2c3d4"}})).status, 409);
  json undone = change;
  undone["kind"] = "temporary-undone";
  EXPECT_EQ(entries_->change(with("E1", undone)).status, 409);
  EXPECT_EQ(open_temporary_changes(panel().events).size(), 1);
  undone["time"] = "2026-03-02T11:00:00Z";
  EXPECT_EQ(entries_->change(with("E2", undone)).status, 201);
  EXPECT_EQ(open_temporary_changes(panel().events).size(), 0);
  for (const json& wrong : {json({{"kind", "repair"}}), json({{"points", json::array()}}),
                            json({{"points", {"ZZ:1"}}}), json({{"time", "noon"}})}) {
    json body = change;
    body.update(wrong);
    EXPECT_EQ(entries_->change(with("E3", body)).status, 422) << wrong;
  }
  EXPECT_EQ(panel().events.rows.size(), 2);
}

TEST_F(EntriesTest, WhatIsTakenIsPublished) {
  const auto before = watch_->published();
  EXPECT_EQ(entries_->reading(sent("R1")).status, 201);
  const auto after = watch_->newer_than(before->version, std::chrono::seconds(60));
  EXPECT_GT(after->version, before->version);
}

TEST_F(EntriesTest, ABusyJobIsToldAndNothingIsTaken) {
  Entries impatient(must(open_job(at("a.rtj"), std::chrono::milliseconds(1))), *watch_, {});
  sqlite3* keeper = nullptr;
  ASSERT_EQ(sqlite3_open(at("a.rtj").c_str(), &keeper), SQLITE_OK);
  ASSERT_EQ(sqlite3_exec(keeper, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr), SQLITE_OK);
  EXPECT_EQ(impatient.reading(sent("R1")).status, 503);
  ASSERT_EQ(sqlite3_exec(keeper, "ROLLBACK", nullptr, nullptr, nullptr), SQLITE_OK);
  sqlite3_close(keeper);
  EXPECT_EQ(stored(), "");
  EXPECT_EQ(impatient.reading(sent("R1")).status, 201);
}

}  // namespace
}  // namespace ringtrue::serve
