#pragma once
#include <filesystem>
#include <string>

#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// What was written, for people: the panel, where to, and how many of each record.
[[nodiscard]] std::string convert_text(const Netlist& netlist, const std::filesystem::path& out);

}  // namespace ringtrue
