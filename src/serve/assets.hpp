#pragma once
#include <span>
#include <string_view>

namespace ringtrue::serve {

/// A file of `page`, compiled in.
struct Asset {
  std::string_view name;  ///< `bench.css`
  std::string_view type;  ///< `text/css; charset=utf-8`
  std::string_view bytes;
};
/// Made by the build from all files of that folder.
[[nodiscard]] std::span<const Asset> assets();

}  // namespace ringtrue::serve
