#pragma once
#include <functional>
#include <span>
#include <string_view>

#include "exit_status.hpp"

namespace CLI {
class App;
}

namespace ringtrue::cli {

/// What a verb does once its arguments are read.
using Run = std::function<ExitStatus()>;

/// One verb of the command. Help and messages come from this table alone.
struct Verb {
  std::string_view name;
  std::string_view line;              ///< what it does, for the list of verbs
  std::string_view example;           ///< runs from the top of the source tree on the shipped demo
  Run (*declare)(CLI::App& command);  ///< adds the verb's options to its command
};

/// In the order in which the help lists them.
[[nodiscard]] std::span<const Verb> verbs();

// One file per verb.
[[nodiscard]] Run declare_check(CLI::App& command);
[[nodiscard]] Run declare_trace(CLI::App& command);
[[nodiscard]] Run declare_expect(CLI::App& command);
[[nodiscard]] Run declare_plan(CLI::App& command);
[[nodiscard]] Run declare_compare(CLI::App& command);
[[nodiscard]] Run declare_next(CLI::App& command);
[[nodiscard]] Run declare_log(CLI::App& command);
[[nodiscard]] Run declare_serve(CLI::App& command);
[[nodiscard]] Run declare_energise(CLI::App& command);
[[nodiscard]] Run declare_jumper(CLI::App& command);
[[nodiscard]] Run declare_analog(CLI::App& command);
[[nodiscard]] Run declare_drive(CLI::App& command);
[[nodiscard]] Run declare_locate(CLI::App& command);
[[nodiscard]] Run declare_record(CLI::App& command);
[[nodiscard]] Run declare_convert(CLI::App& command);
[[nodiscard]] Run declare_retest(CLI::App& command);
[[nodiscard]] Run declare_job(CLI::App& command);

}  // namespace ringtrue::cli
