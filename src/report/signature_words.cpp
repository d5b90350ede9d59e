#include "ringtrue/report/signature_words.hpp"

#include <utility>

#include "report/text_layout.hpp"

namespace ringtrue {

namespace {

using Count = std::int64_t JobMark::*;

constexpr std::pair<Count, std::string_view> k_kinds[] = {
    {&JobMark::netlists, "later netlist"},      {&JobMark::readings, "later reading"},
    {&JobMark::events, "later event"},          {&JobMark::meters, "later meter"},
    {&JobMark::io_results, "later I/O result"}, {&JobMark::decisions, "later decision"}};

/// The job never held what was signed: the signature came from another.
bool is_of_other_rows(const Signature& signature, const JobContents& contents) {
  for (const auto& [count, noun] : k_kinds)
    if (contents.rows.*count < signature.rows.*count) return true;
  const auto netlist = static_cast<std::size_t>(signature.rows.netlists) - 1;
  if (contents.netlists.at(netlist).sha256 != signature.netlist_sha256) return true;
  return contents.rows == signature.rows && contents.rows_sha256 != signature.rows_sha256;
}

std::string later_rows(const JobMark& then, const JobMark& now) {
  std::vector<std::string> kinds;
  for (const auto& [count, noun] : k_kinds)
    if (now.*count != then.*count)
      kinds.push_back(report::counted(static_cast<std::size_t>(now.*count - then.*count), noun));
  if (kinds.empty()) return {};
  const std::string last = kinds.back();
  kinds.pop_back();
  return kinds.empty() ? last : report::joined(kinds) + " and " + last;
}

}  // namespace

std::string signature_words(const Signature& signature) {
  return std::string(word(signature.role)) + " by " + signature.by + ", " + signature.time;
}

std::vector<std::string> signature_reservations(const Signature& signature, const JobContents& contents) {
  std::vector<std::string> all;
  if (!signature.is_ready) all.emplace_back("signed with open items");
  if (is_of_other_rows(signature, contents))
    all.emplace_back("signed for other rows than the job holds: not for this state");
  else if (const std::string later = later_rows(signature.rows, contents.rows); !later.empty())
    all.push_back("signed before " + later + ": not for this state");
  return all;
}

}  // namespace ringtrue
