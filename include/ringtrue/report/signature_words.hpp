#pragma once
#include <string>
#include <vector>

#include "ringtrue/job/job.hpp"

namespace ringtrue {

/// As what, by whom and when.
[[nodiscard]] std::string signature_words(const Signature& signature);

/// What has to be said beside a signature: that it was given with open items, and what came into the job
/// since, so that it is not for this state. None: it is for the job as it is.
[[nodiscard]] std::vector<std::string> signature_reservations(const Signature& signature,
                                                              const JobContents& contents);

}  // namespace ringtrue
