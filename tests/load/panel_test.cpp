#include <gtest/gtest.h>

#include <string>

#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

constexpr std::string_view k_conductors = "wire,from,to\n1,K1:A1,A1:1.0\n";
constexpr std::string_view k_readings = "from,to,value\nK1:A1,A1:1.0,beep\n";
constexpr std::string_view k_events =
    "time,by,kind,points\n2026-03-02T09:00:00+01:00,wireman A,repair,K1:A1\n";

class LoadPanel : public ::testing::Test {
 protected:
  Result<Panel> load_with_readings() {
    return load_panel({folder_.path() / "GD1", folder_.path() / "log" / "readings.csv"});
  }

  ScopedTempFolder folder_;
};

TEST_F(LoadPanel, NetlistAloneHasNoReadings) {
  folder_.write("GD1/conductors.csv", k_conductors);
  const auto panel = load_panel({folder_.path() / "GD1", std::nullopt});
  ASSERT_TRUE(panel) << errors_of(panel, folder_);
  EXPECT_EQ(panel->netlist.conductors.size(), 1u);
  EXPECT_TRUE(panel->readings.rows.empty());
  EXPECT_TRUE(panel->events.rows.empty());
}

TEST_F(LoadPanel, EventsBesideTheReadingsAreTakenAlong) {
  folder_.write("GD1/conductors.csv", k_conductors);
  folder_.write("log/readings.csv", k_readings);
  folder_.write("log/events.csv", k_events);
  const auto panel = load_with_readings();
  ASSERT_TRUE(panel) << errors_of(panel, folder_);
  EXPECT_EQ(panel->readings.rows.size(), 1u);
  EXPECT_EQ(panel->events.rows.size(), 1u);
}

TEST_F(LoadPanel, EventsBesideTheNetlistAreNot) {
  folder_.write("GD1/conductors.csv", k_conductors);
  folder_.write("GD1/events.csv", k_events);
  folder_.write("log/readings.csv", k_readings);
  const auto panel = load_with_readings();
  ASSERT_TRUE(panel) << errors_of(panel, folder_);
  EXPECT_TRUE(panel->events.rows.empty());
}

TEST_F(LoadPanel, MistakesOfAllFilesAreTold) {
  folder_.write("GD1/conductors.csv", "");
  folder_.write("log/readings.csv", "");
  folder_.write("log/events.csv", "");
  const auto panel = load_with_readings();
  ASSERT_FALSE(panel);
  ASSERT_EQ(panel.error().size(), 3u) << errors_of(panel, folder_);
  EXPECT_EQ(folder_.without_folder(panel.error()[0].place.file), "GD1/conductors.csv");
  EXPECT_EQ(folder_.without_folder(panel.error()[1].place.file), "log/readings.csv");
  EXPECT_EQ(folder_.without_folder(panel.error()[2].place.file), "log/events.csv");
}

TEST_F(LoadPanel, MistakesOfAllFilesTogetherStopAtTheLimit) {
  std::string text = "from,to,value\n";
  for (int i = 0; i < 80; ++i) text += "K1:A1,A1:1.0,maybe\n";
  folder_.write("GD1/conductors.csv", "");
  folder_.write("log/readings.csv", text);
  const auto panel = load_with_readings();
  ASSERT_FALSE(panel);
  EXPECT_EQ(panel.error().size(), k_max_errors);
}

TEST_F(LoadPanel, MissingReadingsAreTold) {
  folder_.write("GD1/conductors.csv", k_conductors);
  EXPECT_EQ(errors_of(load_with_readings(), folder_), "log/readings.csv: there is no such file");
}

}  // namespace
}  // namespace ringtrue
