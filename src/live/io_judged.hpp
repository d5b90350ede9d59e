#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "ringtrue/live/io_entry.hpp"
#include "ringtrue/report/io_record.hpp"

// What observations come to, beside what the test expects.

namespace ringtrue::live {

struct Judged {
  std::string against;  ///< what speaks against a pass
  std::string beside;   ///< what else is to stand in the record
  std::string lacking;  ///< what was not said, and has to be for a pass
  bool is_anything = false;
};
/// That the bit was read and no other channel looked at is left to `shown_by`.
[[nodiscard]] Judged judged_input(const InputRecord& record, const IoSeen& seen);
[[nodiscard]] Judged judged_output(const OutputRecord& record, std::string_view responded,
                                   std::optional<double> on, std::optional<double> off);

/// Puts `more` behind `text`.
void add(std::string& text, std::string_view more, std::string_view between = "; ");
/// `23.9`, without zeros at the end.
[[nodiscard]] std::string plain(double number);

}  // namespace ringtrue::live
