#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

namespace ringtrue {

/// Every way in which input can be wrong. One line of meaning per code stands in `k_error_codes`.
enum class ErrorCode : std::uint8_t {
  file_unreadable,
  file_too_large,
  file_exists,
  file_unwritable,
  not_a_netlist,
  bad_text,
  bad_csv,
  bad_xml,
  bad_mapping,
  no_header,
  missing_column,
  repeated_column,
  unknown_column,
  missing_field,
  unknown_kind,
  bad_number,
  bad_point,
  conductor_without_end,
  ambiguous_side,
  side_on_single_point,
  bad_condition,
  unknown_object,
  state_does_not_fit,
  two_states,
  repeated_row,
  bad_reading,
  bad_time,
  unknown_channel,
  unknown_reading,
  not_a_job,
  newer_job,
  damaged_job,
  read_only_job,
  busy_job,
  disk_full,
  bad_logic,
  bad_call,
};

/// A row of the table of error codes.
struct ErrorCodeInfo {
  ErrorCode code;
  std::string_view name;     ///< stable word, as printed by `--json`
  std::string_view meaning;  ///< one line for the table in DEVELOPERS.md
};
/// All codes in the order of the enum.
[[nodiscard]] const std::vector<ErrorCodeInfo>& error_codes();
/// The stable word of a code: `bad-number`.
[[nodiscard]] std::string_view name_of(ErrorCode code);

/// Where in the input something is wrong. Empty members are unknown or do not apply.
struct Place {
  std::string file;
  std::uint32_t line = 0;  ///< 1-based; 0 = no line
  std::string element;     ///< XML element, e.g. `conductor`
  std::string field;       ///< column or attribute, e.g. `kind`
};

/// Something the loader took, ignored or merged, that the user should know but that is no mistake.
struct Note {
  std::string text;
  Place place;
  bool is_detail = false;  ///< told only to whoever asks how the input was read
};

/// One mistake in the input, told so that the person who wrote it can mend it.
struct Error {
  ErrorCode code = ErrorCode::bad_call;
  std::string message;               ///< what is wrong, without place, found and expected
  Place place;                       ///< where
  std::string found;                 ///< the text found; empty where nothing was found
  std::string expected;              ///< what would be right
  std::vector<std::string> nearest;  ///< names that look like the one found, nearest first
};

/// One sentence: place, message, what was found, what was expected, nearest names.
/// Example: `parts.csv:12: kind: unknown kind: found "contct-no", expected one of ...; nearest: contact-no`.
[[nodiscard]] std::string to_text(const Error& error);

/// Never empty where it stands in an unexpected result.
using Errors = std::vector<Error>;

/// A value, or everything that was wrong with the input (up to `k_max_errors`).
template <class T>
using Result = tl::expected<T, Errors>;

/// Loading goes on to report up to this many mistakes, then fails as a whole.
inline constexpr std::size_t k_max_errors = 50;

/// Shorthand for a failed result with one error.
[[nodiscard]] inline tl::unexpected<Errors> fail(Error error) {
  return tl::unexpected<Errors>(Errors{std::move(error)});
}

}  // namespace ringtrue
