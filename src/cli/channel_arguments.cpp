#include "channel_arguments.hpp"

#include <algorithm>

#include "ringtrue/graph/trace.hpp"

namespace ringtrue::cli {

Result<std::vector<std::size_t>> chosen_channels(const Netlist& netlist,
                                                 const std::vector<std::string>& typed) {
  std::vector<std::size_t> chosen;
  Errors errors;
  for (const std::string& name : typed) {
    const auto found = find_channels(netlist, name);
    if (!found) {
      errors.insert(errors.end(), found.error().begin(), found.error().end());
      continue;
    }
    for (const std::size_t channel : *found)
      if (std::find(chosen.begin(), chosen.end(), channel) == chosen.end()) chosen.push_back(channel);
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return chosen;
}

}  // namespace ringtrue::cli
