#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/job_mark.hpp"
#include "ringtrue/model/kinds.hpp"

namespace ringtrue {

/// As what somebody signs.
enum class SigningRole : std::uint8_t { wired, checked, witnessed, accepted };
/// How many there are.
inline constexpr std::size_t k_signing_roles = 4;

/// Somebody signed a job. A name that was typed is no handwritten signature.
struct Signature {
  SigningRole role = SigningRole::checked;
  std::string by, text, time;
  JobMark rows;  ///< what the job held then: with rows only ever added, it tells the state that was signed
  std::string netlist_sha256,
      rows_sha256;        ///< of the newest netlist, and of all rows but signatures, likewise
  bool is_ready = false;  ///< the record was ready to sign then
  std::string id;
  std::uint32_t line = 0;
};

/// Every signature, oldest first. None is ever withdrawn; the last of a role counts.
struct Signatures {
  std::string file;
  std::vector<Signature> rows;
  std::vector<Note> notes;
};

/// `revision`: the number of the newest netlist, so how many there were; `ready`: `yes` or `no`; the counts
/// are whole numbers.
struct SignatureRow {
  std::string_view role, by, text, time, revision, netlist_sha256, rows_sha256, ready, readings, events,
      meters, results, decisions, id;
};

/// Turns a row into a signature.
/// @errors missing_field, unknown_kind, bad_time, bad_number (also of what is no SHA-256).
[[nodiscard]] Result<Signature> signature_from_row(const SignatureRow& row, std::uint32_t line,
                                                   std::string_view file);

/// The last one of each role, as an index into the rows.
[[nodiscard]] std::array<std::optional<std::size_t>, k_signing_roles> last_signatures(
    const Signatures& signatures);

}  // namespace ringtrue
