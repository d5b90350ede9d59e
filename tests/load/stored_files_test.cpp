#include <gtest/gtest.h>

#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

TEST(LoadStoredFiles, AFolderIsThereIfAFileLiesInIt) {
  const StoredFiles files({{"GD1/conductors.csv", "wire,from,to\n1,K1:A1,X1:5.int\n"},
                           {"GD1/panel.csv", "key,value\npanel,GD1\n"}});
  const auto netlist = load_netlist("./GD1/", {}, files);
  ASSERT_TRUE(netlist) << to_text(netlist.error().front());
  EXPECT_EQ(netlist->panel.name, "GD1");
  EXPECT_EQ(netlist->conductors.size(), 1u);
}

TEST(LoadStoredFiles, MistakesNameTheFile) {
  const StoredFiles files(std::vector<StoredFile>{{"GD1/conductors.csv", "wire,from,to\n1,K1:A1,\n"}});
  const auto netlist = load_netlist("GD1", {}, files);
  ASSERT_FALSE(netlist);
  EXPECT_EQ(netlist.error().front().place.file, "GD1/conductors.csv");
  EXPECT_EQ(netlist.error().front().place.line, 2u);
}

TEST(LoadStoredFiles, NothingElseIsLookedForOnTheDisk) {
  const StoredFiles files(std::vector<StoredFile>{});
  const auto netlist = load_netlist(RINGTRUE_NETLISTS "/quickstart/conductors.csv", {}, files);
  ASSERT_FALSE(netlist);
  EXPECT_EQ(netlist.error().front().message, "there is no such file");
}

TEST(LoadStoredFiles, TooLargeIsRefused) {
  const StoredFiles files(std::vector<StoredFile>{{"a.csv", "wire,from,to\n"}});
  const auto netlist = load_netlist("a.csv", {5}, files);
  ASSERT_FALSE(netlist);
  EXPECT_EQ(netlist.error().front().code, ErrorCode::file_too_large);
}

}  // namespace
}  // namespace ringtrue
