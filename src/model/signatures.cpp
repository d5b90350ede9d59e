#include "ringtrue/model/signatures.hpp"

#include <string>
#include <tuple>

#include "model/wrong_field.hpp"
#include "ringtrue/model/number.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

namespace {

bool is_sha256(std::string_view text) {
  constexpr std::size_t k_digits = 64;
  return text.size() == k_digits && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

}  // namespace

Result<Signature> signature_from_row(const SignatureRow& row, std::uint32_t line, std::string_view file) {
  const WrongField wrong(file, line);
  const auto role = from_word<SigningRole>(row.role);
  if (!role)
    return wrong(ErrorCode::unknown_kind, "unknown word", "role", row.role, listed_words<SigningRole>());
  if (trimmed(row.by).empty())
    return wrong(ErrorCode::missing_field, "the field is empty", "by", "", "who signs");
  if (!seconds_of_time(row.time))
    return wrong(ErrorCode::bad_time, "not a time", "time", row.time,
                 "RFC 3339, such as 2026-03-02T07:15:00Z");
  if (row.ready != "yes" && row.ready != "no")
    return wrong(ErrorCode::unknown_kind, "unknown word", "ready", row.ready, "yes or no");
  Signature signature;
  for (const auto& [field, text, sum] :
       {std::tuple("netlist_sha256", row.netlist_sha256, &Signature::netlist_sha256),
        std::tuple("rows_sha256", row.rows_sha256, &Signature::rows_sha256)}) {
    if (!is_sha256(text))
      return wrong(ErrorCode::bad_number, "not a SHA-256", field, text, "64 hexadecimal digits");
    signature.*sum = text;
  }
  const std::tuple<std::string_view, std::string_view, std::int64_t JobMark::*> counts[] = {
      {"revision", row.revision, &JobMark::netlists}, {"readings", row.readings, &JobMark::readings},
      {"events", row.events, &JobMark::events},       {"meters", row.meters, &JobMark::meters},
      {"results", row.results, &JobMark::io_results}, {"decisions", row.decisions, &JobMark::decisions}};
  for (const auto& [field, text, count] : counts) {
    const std::int64_t least = count == &JobMark::netlists ? 1 : 0;
    const auto number = parse_whole_number(text, least);
    if (!number)
      return wrong(ErrorCode::bad_number, "not a count of rows", field, text,
                   "a whole number from " + std::to_string(least));
    signature.rows.*count = *number;
  }
  signature.role = *role, signature.is_ready = row.ready == "yes";
  signature.by = row.by, signature.text = row.text, signature.time = row.time, signature.id = row.id;
  signature.line = line;
  return signature;
}

std::array<std::optional<std::size_t>, k_signing_roles> last_signatures(const Signatures& signatures) {
  std::array<std::optional<std::size_t>, k_signing_roles> last;
  for (std::size_t i = 0; i < signatures.rows.size(); ++i)
    last[static_cast<std::size_t>(signatures.rows[i].role)] = i;
  return last;
}

}  // namespace ringtrue
