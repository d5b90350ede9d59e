#pragma once
#include <string>
#include <string_view>

namespace ringtrue::check {

/// The IEC 60757 code of a colour as written, in capitals and in the order of its table: `BU` for `light
/// blue`, `BUWH` for `white/blue`, `GNYE` for `green-yellow`. Empty for what is no colour known here. Light
/// and dark make no difference, as the code has none for them. Source: IEC 60757 (a national adoption of the
/// 1983 edition seen in whole; combinations: an extract of 2021).
[[nodiscard]] std::string colour_code(std::string_view written);

}  // namespace ringtrue::check
