#pragma once
#include <string>
#include <vector>

namespace ringtrue::serve {

/// The addresses by which others reach a server that listens at `host`: itself, or, for 0.0.0.0 and ::, those
/// of this machine's networks, and its own loopback address where it has none.
[[nodiscard]] std::vector<std::string> reached_by(const std::string& host);

}  // namespace ringtrue::serve
