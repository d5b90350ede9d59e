#include <array>

#include "record/sheets.hpp"
#include "ringtrue/report/signature_words.hpp"

namespace ringtrue::record {

std::vector<RecordSignature> signatures_of(const JobContents& contents) {
  constexpr std::array<std::string_view, k_signing_roles> k_who = {"Wired by", "Checked by", "Witnessed by",
                                                                   "Accepted by"};
  const auto last = last_signatures(contents.signatures);
  std::vector<RecordSignature> all;
  for (std::size_t role = 0; role < k_signing_roles; ++role) {
    RecordSignature& one = all.emplace_back(RecordSignature{k_who[role], {}, {}, {}, {}});
    if (!last[role]) continue;
    const Signature& signature = contents.signatures.rows[*last[role]];
    one.by = signature.by, one.time = signature.time, one.text = signature.text;
    one.reservations = signature_reservations(signature, contents);
  }
  return all;
}

}  // namespace ringtrue::record
