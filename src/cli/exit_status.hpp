#pragma once

namespace ringtrue::cli {

enum class ExitStatus : int {
  good = 0,
  findings = 1,   ///< the panel or the drawing has findings
  bad_input = 2,  ///< the input or the call is wrong
  fault = 3,      ///< a fault of the tool itself
};

}  // namespace ringtrue::cli
