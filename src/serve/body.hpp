#pragma once
#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"

namespace ringtrue::serve {

/// The body of a POST: a JSON object whose values are texts, those of `lists` also lists of texts.
class Body {
 public:
  /// @errors bad_text for what is no such object, names a field that isn't among `known`, or holds a text
  /// above
  ///         `k_most_bytes`; missing_field for a required one that is missing or empty.
  [[nodiscard]] static Result<Body> read(std::string_view json,
                                         std::initializer_list<std::string_view> required,
                                         std::initializer_list<std::string_view> known,
                                         std::initializer_list<std::string_view> lists = {});
  static constexpr std::size_t k_most_bytes = 1000;

  [[nodiscard]] std::string_view text(std::string_view field) const;
  [[nodiscard]] std::string list(std::string_view field) const;  ///< `; ` between its texts

 private:
  std::map<std::string, std::vector<std::string>, std::less<>> fields_;
};

}  // namespace ringtrue::serve
