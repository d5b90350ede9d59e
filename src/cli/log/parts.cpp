#include "parts.hpp"

#include <algorithm>

#include "ringtrue/model/readings.hpp"

namespace ringtrue::cli::log {

namespace {

constexpr std::string_view k_blanks = " \t\r";

/// Behind the closing quotation mark of the word that begins at `at`; `at` if it isn't in such marks.
std::size_t end_of_quoted(std::string_view text, std::size_t at) {
  if (text[at] != '"') return at;
  const std::size_t close = text.find('"', at + 1);
  if (close == std::string_view::npos || close == at + 1) return at;
  const bool ends_here = close + 1 == text.size() || k_blanks.find(text[close + 1]) != std::string_view::npos;
  return ends_here ? close + 1 : at;
}

/// The value as a file of readings has it; nothing if it is none.
std::optional<std::string> value_of(std::string_view text) {
  const std::string low = lower(text);
  if (low == "b") return "beep";
  if (low == "o") return "open";
  if (!parse_value(text)) return std::nullopt;
  return std::string(text);
}

}  // namespace

Words words_of(std::string_view text) {
  Words words;
  for (std::size_t at = text.find_first_not_of(k_blanks); at < text.size();) {
    std::size_t end = end_of_quoted(text, at);
    if (end != at) {
      words.push_back(text.substr(at + 1, end - at - 2));
    } else {
      end = std::min(text.find_first_of(k_blanks, at), text.size());
      words.push_back(text.substr(at, end - at));
    }
    at = text.find_first_not_of(k_blanks, end);
  }
  return words;
}

std::string_view text_from(std::string_view text, const Words& words, std::size_t word) {
  if (word + 1 == words.size()) return words[word];
  auto at = static_cast<std::size_t>(words[word].data() - text.data());
  if (at > 0 && text[at - 1] == '"') --at;
  return text.substr(at);
}

std::string lower(std::string_view text) {
  std::string low(text);
  for (char& c : low)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return low;
}

std::optional<std::string> cut_value(Words& words) {
  // Two words first: `no beep` is not a `beep`.
  if (words.size() > 1)
    if (auto value = value_of(std::string(words[words.size() - 2]) + " " + std::string(words.back()))) {
      words.resize(words.size() - 2);
      return value;
    }
  auto value = value_of(words.back());
  if (value) words.pop_back();
  return value;
}

tl::unexpected<Errors> wrong(ErrorCode code, std::string message, std::string_view found,
                             std::string expected) {
  return fail({code, std::move(message), {}, std::string(found), std::move(expected), {}});
}

tl::unexpected<Errors> no_value(std::string_view found) {
  return wrong(ErrorCode::bad_reading, "not a value", found,
               "b, o, OL, ohms such as 0.4 or 1.5k, 23.9V, lit or dark");
}

}  // namespace ringtrue::cli::log
