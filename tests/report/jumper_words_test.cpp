#include <gtest/gtest.h>

#include "ringtrue/report/jumper_report.hpp"
#include "tests/report/report_support.hpp"

namespace ringtrue {
namespace {

using testing_support::SmallPanel;

TEST(JumperWords, EachReasonSaysWhatTheJumperWouldDo) {
  SmallPanel panel;
  panel.wire("1", "A1:0", "X1:1.int").part("S1", "contact-no", "13", "14");
  const auto text = [&](JumperReason reason, std::vector<std::string> names,
                        std::vector<ElementId> elements = {}) {
    return jumper_reason_text({reason, std::move(names), std::move(elements)}, panel.graph(), {},
                              Detail::short_lists);
  };
  EXPECT_EQ(text(JumperReason::joins_potentials, {"+24V", "0V"}),
            "It would join +24V and 0V without a load.");
  EXPECT_EQ(text(JumperReason::on_driven_net, {"A2:0"}),
            "It would be on the net of A2:0, an output or a loop that may be fed.");
  EXPECT_EQ(text(JumperReason::potential_not_dc, {"L1"}), "It would be on L1, which is AC or PE.");
  EXPECT_EQ(text(JumperReason::terminals_joined, {}),
            "As drawn, copper joins the two terminals already: check the channel list.");
  EXPECT_EQ(text(JumperReason::no_channel, {}), "No channel has these two terminals.");
  EXPECT_EQ(text(JumperReason::path_does_not_conduct, {"the return path"}),
            "As drawn, a path stops: the return path. ringtrue trace shows where.");
  EXPECT_EQ(text(JumperReason::path_does_not_conduct, {}, {panel.element("S1:13-14")}),
            "As drawn, open at rest or stopping: contact S1:13-14. ringtrue trace shows where.");
}

}  // namespace
}  // namespace ringtrue
