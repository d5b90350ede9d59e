#include "job_argument.hpp"

#include <CLI/CLI.hpp>
#include <filesystem>

#include "messages.hpp"
#include "ringtrue/job/job.hpp"

namespace ringtrue::cli {

Result<void> JobArgument::make_where_missing() const {
  if (netlist.empty()) return {};
  if (std::filesystem::exists(job)) {
    say("note: " + job + " is there already, so --new " + netlist + " is not looked at");
    return {};
  }
  return create_job(job, PanelSource{netlist}).map([](const Job&) {});
}

Errors JobArgument::not_opened(Errors errors) const {
  if (!std::filesystem::exists(job)) errors.front().expected = "a job; --new NETLIST makes it";
  return errors;
}

void add_job_argument(CLI::App& command, JobArgument& argument) {
  command.add_option("JOB", argument.job, "File that ends in .rtj")->required()->type_name("");
  command.add_option("--new", argument.netlist, "Make the job of this netlist, if it isn't there yet")
      ->option_text("NETLIST");
}

}  // namespace ringtrue::cli
