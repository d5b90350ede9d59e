#pragma once
#include <cstdint>
#include <string>

#include "ringtrue/live/live_job.hpp"

namespace ringtrue::serve {

/// How each channel is tried and what is shown of it: JSON on one line. Kept until something comes into the
/// job, since many pages ask for it at once.
class TestsText {
 public:
  [[nodiscard]] const std::string& text(const LiveJob& live);

 private:
  std::uint64_t of_ = 0;  ///< generation of the live job
  std::string text_;
};

}  // namespace ringtrue::serve
