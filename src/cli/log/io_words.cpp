#include "io_words.hpp"

#include <algorithm>
#include <array>

#include "ringtrue/model/kinds.hpp"
#include "ringtrue/model/number.hpp"

namespace ringtrue::cli::log {

namespace {

struct Field {
  std::string_view key;
  std::string LogIo::*text;
  bool is_text = false;  ///< goes on to the next key
};
constexpr std::array<Field, 15> k_fields = {{{"led", &LogIo::led},
                                             {"back", &LogIo::back},
                                             {"bit", &LogIo::bit},
                                             {"only", &LogIo::only_this},
                                             {"only_this", &LogIo::only_this},
                                             {"value", &LogIo::value},
                                             {"on", &LogIo::on},
                                             {"off", &LogIo::off},
                                             {"responded", &LogIo::responded},
                                             {"tolerance", &LogIo::tolerance},
                                             {"unproven", &LogIo::unproven},
                                             {"at", &LogIo::at, true},
                                             {"given", &LogIo::given, true},
                                             {"expected", &LogIo::expected, true},
                                             {"reason", &LogIo::reason, true}}};

constexpr std::array<std::string_view, 25> k_seen_words = {
    "lit",       "dark",    "bit=0",     "bit=1",      "only=yes", "only=no", "0=",
    "25=",       "50=",     "75=",       "100=",       "raw",      "on=",     "off=",
    "responded", "nothing", "unproven=", "tolerance=", "reason=",  "jumper",  "operated",
    "simulator", "logic",   "forced",    "substitute"};

struct KeyAndText {
  std::string_view key, text;
};
/// `KEY=TEXT`; without a key where there is no `=`.
KeyAndText parts_of(std::string_view word) {
  const std::size_t equals = word.find('=');
  return equals == std::string_view::npos ? KeyAndText{"", word}
                                          : KeyAndText{word.substr(0, equals), word.substr(equals + 1)};
}

const Field* field_of(std::string_view key) {
  const auto found = std::find_if(k_fields.begin(), k_fields.end(),
                                  [name = lower(key)](const Field& field) { return field.key == name; });
  return found == k_fields.end() ? nullptr : &*found;
}

/// The number of `50` or `50%`; empty where it is none.
std::string_view percent_of(std::string_view key) {
  if (key.ends_with('%')) key.remove_suffix(1);
  return parse_number(key) ? key : std::string_view{};
}

bool is_led(const std::string& word) { return word == "lit" || word == "dark"; }

bool is_volts(const std::string& word) {
  return word.ends_with('v') && parse_number(std::string_view(word).substr(0, word.size() - 1));
}

/// What a word that stands for itself says; null if it is none.
std::string LogIo::*meant_by(const LogIo& io, const std::string& word) {
  if (is_led(word)) return io.led.empty() ? &LogIo::led : &LogIo::back;
  if (word == "pass" || word == "fail") return &LogIo::verdict;
  if (word == "responded" || word == "nothing") return &LogIo::responded;
  if (word == "raw") return &LogIo::seen_as;
  if (is_volts(word)) return &LogIo::value;
  return from_word<Stimulus>(word) ? &LogIo::stimulus : nullptr;
}

std::string text_of(std::string LogIo::*field, const std::string& word) {
  if (field != &LogIo::responded) return word;
  return word == "responded" ? "yes" : "no";
}

std::string text_of(const Field& field, std::string_view text) {
  if (field.is_text || field.text == &LogIo::unproven) return std::string(text);
  std::string low = lower(text);
  if (field.text != &LogIo::only_this && field.text != &LogIo::responded) return low;
  return low == "y" ? "yes" : low == "n" ? "no" : low;
}

tl::unexpected<Errors> said_twice(std::string_view word) {
  return wrong(ErrorCode::bad_call, "this says again what was said before it", word, "each once");
}

}  // namespace

bool is_seen_line(std::string_view line) {
  const Words words = words_of(line);
  for (std::size_t i = 1; i < words.size(); ++i) {
    const auto [key, text] = parts_of(words[i]);
    if (!key.empty() && (field_of(key) != nullptr || !percent_of(key).empty())) return true;
    if (i > 1 && is_led(lower(words[i - 1])) && is_led(lower(words[i]))) return true;
  }
  return false;
}

Result<Command> io_command(const Rest& rest) {
  const Words words = words_of(rest.text);
  if (words.size() < 2)
    return wrong(ErrorCode::missing_field, "io lacks a channel, or what was seen", rest.text,
                 "CHANNEL lit dark bit=1 only=yes, CHANNEL 50=12.1, or CHANNEL on=23.9 off=0.1");
  LogIo made;
  made.channel = words[0];
  const Field* text = nullptr;
  for (const std::string_view word : std::span(words).subspan(1)) {
    const auto [key, value] = parts_of(word);
    if (const Field* field = key.empty() ? nullptr : field_of(key)) {
      if (!(made.*field->text).empty()) return said_twice(word);
      made.*field->text = text_of(*field, value);
      text = field->is_text ? field : nullptr;
    } else if (text != nullptr) {
      (made.*text->text).append(" ").append(word);
    } else if (const std::string_view percent = percent_of(key); !percent.empty()) {
      made.points.emplace_back(percent, value);
    } else if (const auto meant = meant_by(made, lower(word))) {
      if (!(made.*meant).empty()) return said_twice(word);
      made.*meant = text_of(meant, lower(word));
    } else {
      return wrong(ErrorCode::bad_call, "nothing that a test shows", word,
                   "lit, dark, bit=, only=, 50=, on=, off=, responded, nothing, unproven= or reason=");
    }
  }
  return made;
}

std::span<const std::string_view> seen_words() { return k_seen_words; }

}  // namespace ringtrue::cli::log
