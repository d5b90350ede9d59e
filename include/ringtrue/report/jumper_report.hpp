#pragma once
#include <span>
#include <string>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/io/input_test.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// `It would join +24V1 and 0V2 without a load.`: a whole sentence; of a hold, what to read or check first.
[[nodiscard]] std::string jumper_reason_text(const WhyJumper& why, const ConductionGraph& graph,
                                             const JumperOptions& options, Detail detail);

/// A test as it is said at the panel. Empty members have nothing to say.
struct InputTestWords {
  std::string what;                  ///< which test, in a clause: `field contact B1, not connected`
  std::string act;                   ///< what to do, whole sentences
  std::string expect;                ///< `dark; jumper fitted: lit; removed: dark`
  std::string stands_for;            ///< what fitted and removed stand for at the plant
  std::string led;                   ///< `0.0 on A1`
  std::string verdict;               ///< `hold`, `offered without proof, by NAME`...
  std::vector<std::string> reasons;  ///< sentences
};
[[nodiscard]] InputTestWords input_test_words(const InputTest& test, const ConductionGraph& graph,
                                              const JumperOptions& options, Detail detail);

/// What to keep to while testing inputs, a sentence each.
[[nodiscard]] std::span<const std::string_view> input_test_cautions();

/// The tests for whoever stands at the panel: per channel what to do at which two terminals, what must light,
/// and what a jumper there is judged to be. Lines of about 100 characters.
[[nodiscard]] std::string jumper_text(std::span<const InputTest> tests, const ConductionGraph& graph,
                                      const JumperOptions& options, Detail detail = Detail::short_lists);

/// The tests for programs, as netlists/schema/jumper.schema.json describes them.
[[nodiscard]] std::string jumper_json(std::span<const InputTest> tests, const ConductionGraph& graph,
                                      const JumperOptions& options);

/// The tests as a sheet to be filled in; the columns of I/O results have their names.
/// Source of the form: RFC 4180.
[[nodiscard]] std::string jumper_csv(std::span<const InputTest> tests, const ConductionGraph& graph,
                                     const JumperOptions& options);

}  // namespace ringtrue
