#include "command_line.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <span>
#include <string>
#include <vector>

#include "completion.hpp"
#include "man_page.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/base/error.hpp"
#include "ringtrue/base/nearest_names.hpp"
#include "verbs.hpp"
#include "version.hpp"

namespace ringtrue::cli {

namespace {

/// Says what is wrong with the call, and `hint` behind it.
ExitStatus refuse(const Error& error, const std::string& hint) {
  say("ringtrue: " + to_text(error) + "; " + hint);
  return ExitStatus::bad_input;
}

const Verb* verb_named(std::string_view name) {
  for (const Verb& verb : verbs())
    if (verb.name == name) return &verb;
  return nullptr;
}

/// @param behind  the words that stand behind it
ExitStatus refuse_verb(std::string_view typed, std::span<const char* const> behind) {
  Error error;
  error.message = typed.empty() ? "a verb is missing" : "no such verb";
  error.found = typed;
  NearestNames nearest(typed);
  for (const Verb& verb : verbs()) {
    error.expected += (error.expected.empty() ? "" : " or ") + std::string(verb.name);
    nearest.offer(verb.name);
  }
  error.nearest = nearest.take();
  const auto verb_behind = std::find_if(behind.begin(), behind.end(),
                                        [](std::string_view word) { return verb_named(word) != nullptr; });
  if (!error.nearest.empty() || verb_behind == behind.end())
    return refuse(error, "ringtrue --help says what they do");
  error.message = "the verb comes first", error.expected = *verb_behind;
  return refuse(error, "ringtrue " + error.expected + " --help says what follows it");
}

/// CLI11's own sentences name its inner terms; these name the argument as the user wrote it.
std::string sentence_of(const CLI::ParseError& error) {
  std::string what = error.what();
  if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr)
    return what.substr(0, what.find(' ')) + " is missing";
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr)
    return what.substr(0, what.find(':')) + " needs a value, and only one";
  return what;
}

ExitStatus refuse_call(const CLI::ParseError& parse_error, std::string_view verb, const CLI::App& command) {
  const CLI::App* called = &command;  // the verb, or the word of it that was called
  std::string name(verb);
  while (!verb.empty() && !called->get_subcommands().empty()) {
    called = called->get_subcommands().front();
    name += " " + called->get_name();
  }
  Error error;
  error.message = name.empty() ? "" : name + ": ";
  if (dynamic_cast<const CLI::ExtrasError*>(&parse_error) != nullptr) {
    const CLI::App* app = command.get_parent() == nullptr ? &command : command.get_parent();
    const std::string word = app->remaining(true).front();
    error.message += "not expected: " + word;
    NearestNames nearest(word);
    for (const CLI::Option* option : called->get_options())
      for (const std::string& one : option->get_lnames()) nearest.offer("--" + one);
    for (const CLI::App* word_of_verb : called->get_subcommands({})) nearest.offer(word_of_verb->get_name());
    error.nearest = nearest.take();
  } else {
    error.message += sentence_of(parse_error);
  }
  return refuse(error, "see ringtrue " + (name.empty() ? "" : name + " ") + "--help");
}

/// What is printed for who installs the command, and that the help doesn't list: `ringtrue [VERB] --man` and
/// the completions.
std::string printed_for(std::string_view flag, const CLI::App& app, const Verb* verb) {
  if (flag == "--man") return man_page(verb == nullptr ? app : *app.get_subcommand(std::string(verb->name)));
  if (verb != nullptr) return "";
  if (flag == "--bash-completion") return bash_completion(app);
  if (flag == "--zsh-completion") return zsh_completion(app);
  if (flag == "--fish-completion") return fish_completion(app);
  return "";
}

void describe(CLI::App& app) {
  app.name("ringtrue");
  app.description("Proves that a control panel is wired as drawn.");
  app.set_help_flag("-h,--help", "Print this help");
  app.set_version_flag("--version", version_text(), "Print the version and how this binary was built");
  app.require_subcommand(0, 1);
  app.get_formatter()->label("SUBCOMMAND", "VERB");
  app.get_formatter()->label("Positionals", "Arguments");
  app.get_formatter()->label("OPTIONS", "OPTION...");
  app.get_formatter()->label("REQUIRED", "");
  app.get_formatter()->label("Excludes", "not with");
  app.get_formatter()->column_width(28);
  app.footer(
      "ringtrue VERB --help says more about a verb.\n"
      "Exit status: " +
      std::string(k_exit_status) + "\n" + std::string(k_cautions));
}

}  // namespace

ExitStatus run_command_line(int argc, const char* const* argv) {
  CLI::App app;
  describe(app);
  std::vector<Run> runs;
  for (const Verb& verb : verbs()) {
    CLI::App* command = app.add_subcommand(std::string(verb.name), std::string(verb.line));
    command->group("Verbs")->footer("Example:\n  " + std::string(verb.example));
    runs.push_back(verb.declare(*command));
  }

  // The first word that is no option is the verb, so that a misspelt one is said to be that.
  const auto first =
      std::find_if(argv + std::min(argc, 1), argv + argc, [](const char* word) { return word[0] != '-'; });
  const std::string_view typed = first == argv + argc ? "" : *first;
  const Verb* verb = verb_named(typed);
  if (!typed.empty() && verb == nullptr) return refuse_verb(typed, {first + 1, argv + argc});
  if (argc == (verb == nullptr ? 2 : 3)) {
    const std::string text = printed_for(argv[argc - 1], app, verb);
    if (!text.empty()) return write_result(text, ExitStatus::good);
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForVersion&) {
    return write_result(version_text() + "\n", ExitStatus::good);
  } catch (const CLI::CallForHelp&) {
    return write_result(app.help(), ExitStatus::good);
  } catch (const CLI::ParseError& error) {
    return refuse_call(error, typed, verb == nullptr ? app : *app.get_subcommand(std::string(typed)));
  }
  if (verb == nullptr) return refuse_verb("", {});
  return runs[static_cast<std::size_t>(verb - verbs().data())]();
}

}  // namespace ringtrue::cli
