# The standard headers that most sources include take half of their compilation, so each target compiles them once.
# What else a target's sources mostly include comes in ARGN. A source still includes what it uses: scripts/tidy and
# the fuzz targets compile without.
function(ringtrue_precompile target)
  target_precompile_headers(${target} PRIVATE <algorithm> <array> <charconv> <cmath> <cstdint> <filesystem>
    <functional> <map> <memory> <optional> <set> <span> <string> <string_view> <tuple> <unordered_map>
    <unordered_set> <utility> <vector> <tl/expected.hpp> ${ARGN})
endfunction()
