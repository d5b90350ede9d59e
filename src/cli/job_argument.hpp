#pragma once
#include <string>

#include "ringtrue/base/error.hpp"

namespace CLI {
class App;
}

namespace ringtrue::cli {

/// JOB of a verb that adds to it.
struct JobArgument {
  std::string job, netlist;

  /// Makes the job of the netlist, if that is given and the job isn't there yet; else
  /// says that the netlist isn't looked at.
  /// @errors those of `create_job`.
  [[nodiscard]] Result<void> make_where_missing() const;
  /// What opening the job was refused for; of one that isn't there, how it is made.
  [[nodiscard]] Errors not_opened(Errors errors) const;
};

/// JOB and --new. `argument` must outlive the parsing.
void add_job_argument(CLI::App& command, JobArgument& argument);

}  // namespace ringtrue::cli
