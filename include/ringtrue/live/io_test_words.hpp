#pragma once
#include <string>
#include <vector>

#include "ringtrue/live/io_test.hpp"

namespace ringtrue {

/// A terminal where something is put.
struct IoPlace {
  std::string use;    ///< `from`, `to`, `plus`, `minus`, `between`, `and`
  std::string point;  ///< `X13:1.ext`
  std::string place;  ///< what to look for there: `core W101/1, sheets 10.3, 10.1`
};

/// A test as whoever stands at the panel is told it. Empty members have nothing to say.
struct IoTestWords {
  std::string kind;      ///< `operate`, `jumper`, `sensor`, `namur`, `analog`, `output`, `none`
  std::string stimulus;  ///< as a record has it; empty where there is no test
  std::string what;      ///< `field contact B1, not connected`
  std::string act;       ///< what to do, whole sentences
  std::string answer;    ///< of what is fitted: `refused`, `hold`, `offered`; of a simulator `refused`
  std::vector<std::string> reasons;  ///< of that answer, sentences
  std::vector<IoPlace> places;       ///< none where nothing may be put
  std::string led;                   ///< `0.0 on A1`
  std::string expect, stands_for;
  std::string acted, back;     ///< of an input, its two steps: `jumper fitted`, `removed`
  bool lit_when_acted = true;  ///< of an input
  std::string responds;        ///< of an output
};
/// What is on hold is told as if it were offered: `answer` says that it isn't.
[[nodiscard]] IoTestWords io_test_words(const IoTest& test, const ConductionGraph& graph);

}  // namespace ringtrue
