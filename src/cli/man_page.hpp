#pragma once
#include <string>

namespace CLI {
class App;
}

namespace ringtrue::cli {

/// The man page of `ringtrue`, or of one of its verbs, in troff: made of what --help is made of.
[[nodiscard]] std::string man_page(const CLI::App& command);

}  // namespace ringtrue::cli
