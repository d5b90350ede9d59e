#pragma once
#include <string>

namespace CLI {
class App;
}

// Completion on the TAB key, one script for each shell, made of the verbs and options that --help lists.

namespace ringtrue::cli {

[[nodiscard]] std::string bash_completion(const CLI::App& app);
[[nodiscard]] std::string zsh_completion(const CLI::App& app);
[[nodiscard]] std::string fish_completion(const CLI::App& app);

}  // namespace ringtrue::cli
