#include "group_tests_text.hpp"

#include <algorithm>

#include "next_words.hpp"
#include "plan_words.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

namespace {

constexpr std::size_t k_few_bundles = 12;
constexpr std::size_t k_few_points = 6;

class GroupTestsText {
 public:
  GroupTestsText(std::string& out, const PlanReport& report, const GroupTests& tests, Detail detail)
      : out_(out), report_(report), tests_(tests), detail_(detail) {}

  void append() {
    heading();
    bundles();
    for (std::uint32_t test = 0; test < tests_.tests; ++test) one_test(test);
    alternatives();
  }

 private:
  [[nodiscard]] const PlanCondition& condition() const { return report_.plan.conditions[tests_.condition]; }
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const {
    return detail_ == Detail::everything || all <= few + 1 ? all : few;
  }

  void heading() {
    const std::string to_do = to_be_done(condition().text, Detail::everything);
    out_ += "\nGroup tests" + std::string(to_do.empty() ? " at rest" : "") + ": " +
            counted(tests_.bundles.size(), "bundle") + " of nets, " + counted(tests_.tests, "test") + '\n';
    if (!to_do.empty()) append_wrapped(out_, "First " + to_do + "; put it back afterwards.", 2, 4);
    append_wrapped(
        out_,
        "For each test join the bundles of clip A by test leads, and those of clip B; one point of "
        "each net that a bundle names will do. Then read from clip A to clip B: no beep. Nets that "
        "loads join are one bundle, and these tests say nothing of them among each other.",
        2, 2);
  }

  void bundles() {
    const std::size_t shown = at_most(k_few_bundles, tests_.bundles.size());
    const std::size_t number_width = std::to_string(tests_.bundles.size()).size() + 7;
    for (std::size_t i = 0; i < shown; ++i)
      append_entry(out_, 4,
                   padded("bundle " + std::to_string(i + 1), number_width) + "  " +
                       clips_of(tests_.codes[i], tests_.tests) + " ",
                   number_width + 3 + tests_.tests, points_of(tests_.bundles[i]));
    if (shown < tests_.bundles.size())
      out_ += "    and " + std::to_string(tests_.bundles.size() - shown) + " more (--all shows them)\n";
  }

  [[nodiscard]] std::string points_of(const std::vector<PointId>& bundle) const {
    const std::size_t shown = at_most(k_few_points, bundle.size());
    std::vector<std::string> names;
    for (std::size_t i = 0; i < shown; ++i)
      names.push_back(point_name(bundle[i], condition().made, report_.graph));
    const std::size_t more = bundle.size() - shown;
    return joined(names) + (more == 0 ? "" : " and " + counted(more, "more net"));
  }

  void one_test(std::uint32_t test) {
    std::vector<std::size_t> on_a, on_b;
    for (std::size_t i = 0; i < tests_.codes.size(); ++i)
      ((tests_.codes[i] >> test & 1u) != 0 ? on_b : on_a).push_back(i + 1);
    append_wrapped(out_,
                   "Test " + std::to_string(test + 1) + ": clip A bundles " + number_ranges(on_a) +
                       "; clip B bundles " + number_ranges(on_b),
                   2, 4);
  }

  void alternatives() {
    if (tests_.tests == 0) return;
    append_wrapped(
        out_,
        "Or, for more: " + counted(tests_.tests_stuck, "test") +
            " without a bundle that is always on the same clip also show one that is joined to the "
            "clip's own lead; " +
            counted(tests_.tests_locating, "test") +
            ", each once more with the clips exchanged, locate a joint better.",
        2, 4);
  }

  std::string& out_;
  const PlanReport& report_;
  const GroupTests& tests_;
  Detail detail_;
};

}  // namespace

void append_group_tests(std::string& out, const PlanReport& report, Detail detail) {
  for (const GroupTests& tests : report.plan.group_tests) GroupTestsText(out, report, tests, detail).append();
}

}  // namespace ringtrue::report
