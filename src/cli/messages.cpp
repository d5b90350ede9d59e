#include "messages.hpp"

#include <spdlog/logger.h>
#include <spdlog/pattern_formatter.h>
#include <spdlog/sinks/stdout_sinks.h>
#include <algorithm>
#include <memory>
#include <string>

#include "ringtrue/base/utf8.hpp"

namespace ringtrue::cli {

namespace {

constexpr std::size_t k_few_notes = 5;
constexpr std::size_t k_few_warnings = 20;

spdlog::logger& logger() {
  static spdlog::logger instance = [] {
    spdlog::logger made("ringtrue", std::make_shared<spdlog::sinks::stderr_sink_st>());
    // The message and nothing else: a line that begins with FILE:LINE lets an editor jump there.
    made.set_formatter(std::make_unique<spdlog::pattern_formatter>("%v"));
    return made;
  }();
  return instance;
}

std::string text_of(const Note& note) {
  Error as_error;
  as_error.message = note.text;
  as_error.place = note.place;
  return to_text(as_error);
}

}  // namespace

void say(std::string_view message) {
  const std::string shown = with_controls_shown(message);
  logger().log(spdlog::level::info, spdlog::string_view_t(shown.data(), shown.size()));
}

ExitStatus refuse(const Errors& errors) {
  for (const Error& error : errors) say(to_text(error));
  if (errors.size() >= k_max_errors)
    say("there may be more mistakes; reading stopped after " + std::to_string(errors.size()));
  return ExitStatus::bad_input;
}

void say_warnings(const Errors& errors, Detail detail) {
  const std::size_t shown =
      detail == Detail::everything ? errors.size() : std::min(k_few_warnings, errors.size());
  for (std::size_t i = 0; i < shown; ++i) say(to_text(errors[i]));
  if (shown < errors.size()) say("and " + std::to_string(errors.size() - shown) + " more (--all shows them)");
}

void say_notes(const std::vector<Note>& notes, Detail detail, std::string_view option) {
  const bool is_everything = detail == Detail::everything;
  // --all is about findings; how the input was read has an option of its own.
  const bool with_details = is_everything && option != "--all";
  const auto is_told = [with_details](const Note& note) { return with_details || !note.is_detail; };
  const auto told = static_cast<std::size_t>(std::count_if(notes.begin(), notes.end(), is_told));
  const std::size_t shown = is_everything ? told : std::min(k_few_notes, told);
  std::size_t said = 0;
  for (const Note& note : notes)
    if (is_told(note) && said++ < shown) say("note: " + text_of(note));
  if (shown < told)
    say("note: and " + std::to_string(told - shown) + " more notes (" + std::string(option) + " shows them)");
}

tl::unexpected<Errors> wrong_call(std::string message, std::string option, std::string found,
                                  std::string expected) {
  return fail({ErrorCode::bad_call,
               std::move(message),
               {"", 0, "", std::move(option)},
               std::move(found),
               std::move(expected),
               {}});
}

}  // namespace ringtrue::cli
