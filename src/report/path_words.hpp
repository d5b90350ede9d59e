#pragma once
#include <string>

#include "potentials.hpp"
#include "ringtrue/report/path_words.hpp"

namespace ringtrue::report {

/// `path_words` for whoever says many paths: the names of the potentials are gathered once.
[[nodiscard]] std::string path_words(PathRole role, const TracedPath& path, const ConductionGraph& graph,
                                     const PotentialNames& potentials);

}  // namespace ringtrue::report
