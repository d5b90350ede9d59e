#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "serve/answer.hpp"

namespace ringtrue::serve {

/// What a request says of where it goes and where it ends.
struct Framing {
  std::string_view method;
  std::vector<std::string> hosts, lengths;  ///< values of Host and Content-Length, one for each line
  bool is_transfer_coded = false;           ///< has Transfer-Encoding
  bool is_content_coded = false;            ///< has Content-Encoding
  std::string odd_field = {};               ///< name of one that is no field name, as `Content-Length `
};

/// The refusal of a request whose end isn't certain, or whose body isn't taken, before that body is read;
/// nothing for any other. The connection must end with it: what follows may be that body, and a page of
/// another origin may have written a request into it.
/// Source: RFC 9112, 3.2, 5.1 and 6.3; RFC 9110, 15.5 and 15.6.2.
[[nodiscard]] std::optional<Answer> refused_framing(const Framing& framing, std::size_t most_bytes);

}  // namespace ringtrue::serve
