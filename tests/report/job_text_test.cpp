#include <gtest/gtest.h>

#include "ringtrue/report/job_report.hpp"

namespace ringtrue {
namespace {

TEST(JobText, RevisionsAreListedWithTheReadingsUnderEach) {
  JobContents contents;
  contents.netlists = {{"GD1-B", "b1", {"conductors.csv"}, false, 4},
                       {"GD1-C", "c2", {"conductors.csv"}, true, 0},
                       {"GD1-D", "d3", {"conductors.csv", "parts.csv"}, false, 12}};
  contents.panel.netlist.panel.name = "GD1";
  const std::string text = job_text(contents, "gd1.rtj");
  EXPECT_EQ(text.substr(0, text.find("  last reading")),
            "Panel GD1: gd1.rtj\n"
            "  netlist              GD1-D, 0 conductors, 0 channels; the newest of 3 revisions\n"
            "  SHA-256              d3\n"
            "  of the files         conductors.csv, parts.csv\n"
            "  readings             0 current, 0 superseded, 0 withdrawn\n"
            "  readings under\n"
            "    revision 1: 4, GD1-B\n"
            "    revision 2: 0, GD1-C, as built\n"
            "    revision 3: 12, GD1-D\n");
  contents.netlists.resize(1);
  EXPECT_EQ(job_text(contents, "gd1.rtj").find("revision"), std::string::npos);
}

}  // namespace
}  // namespace ringtrue
