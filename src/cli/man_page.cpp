#include "man_page.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cctype>
#include <set>
#include <sstream>
#include <string_view>
#include <utility>

#include "command_line.hpp"
#include "version.hpp"

// The page uses the macros of man(7), which every reader of man pages knows.

namespace ringtrue::cli {

namespace {

/// With what troff would take for something else escaped: hyphens, quotes, escapes, requests.
std::string plain(std::string_view text) {
  std::string escaped = !text.empty() && text[0] == '.' ? "\\&" : "";
  for (const char c : text) switch (c) {
      case '\\':
        escaped += "\\e";
        break;
      case '-':
        escaped += "\\-";
        break;
      case '\'':
        escaped += "\\(aq";
        break;
      case '`':
        escaped += "\\(ga";
        break;
      case '^':
        escaped += "\\(ha";
        break;
      case '~':
        escaped += "\\(ti";
        break;
      default:
        escaped += c;
    }
  return escaped;
}

bool is_of_a_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_'; }

/// `Example:` and what follows it is a section of its own.
std::pair<std::string, std::string> parted_footer(const CLI::App& command) {
  const std::string mark = "Example:\n", footer = command.get_footer();
  const std::size_t at = footer.find(mark);
  if (at == footer.npos) return {footer, ""};
  return {footer.substr(0, at), footer.substr(at + mark.size())};
}

class Page {
 public:
  explicit Page(const CLI::App& command)
      : call_(command.get_parent() == nullptr ? "ringtrue" : "ringtrue " + command.get_name()) {
    remember_placeholders(command);
    for (const CLI::App* word : command.get_subcommands({})) remember_placeholders(*word);
    std::string title = plain(page_name());
    for (char& c : title) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    line(".TH " + title + " 1 \"\" \"ringtrue " + std::string(version_number()) + "\" \"Control panels\"");
  }

  [[nodiscard]] const std::string& call() const { return call_; }
  [[nodiscard]] std::string take() { return std::move(page_); }

  void section(std::string_view name) { heading(".SH ", name); }
  void subsection(std::string_view name) { heading(".SS ", plain(name)); }
  void raw(std::string_view text) { line(text); }

  /// The summary as whatis(1) and apropos(1) have it: no capital and no full stop.
  void name_line(std::string summary) {
    section("NAME");
    if (!summary.empty() && summary.back() == '.') summary.pop_back();
    if (!summary.empty())
      summary[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(summary[0])));
    line(plain(page_name()) + " \\- " + plain(summary));
  }

  /// What the help has behind `Usage:`.
  void synopsis(const CLI::App& of, const std::string& call) {
    const auto& formatter = dynamic_cast<const CLI::Formatter&>(*of.get_formatter());
    std::string usage = formatter.make_usage(&of, call);
    usage.erase(0, usage.find(call) + call.size());
    line("\\fB" + plain(call) + "\\fR" + marked(CLI::detail::rtrim(usage)));
  }

  void options(const CLI::App& of) {
    const auto& formatter = dynamic_cast<const CLI::Formatter&>(*of.get_formatter());
    for (const bool positional : {true, false})
      for (const CLI::Option* option : of.get_options()) {
        if (option->get_positional() != positional || option->get_group().empty()) continue;
        const std::string name =
            CLI::detail::find_and_replace(formatter.make_option_name(option, positional), ",", ", ");
        entry(marked(name + formatter.make_option_opts(option)),
              CLI::detail::find_and_replace(formatter.make_option_desc(option), "\n", " "));
      }
  }

  void entry(std::string_view marked_name, const std::string& description) {
    line(".TP\n" + std::string(marked_name) + "\n" + marked(description));
  }

  /// Of a text laid out for the terminal: what is indented stays as it is, the rest is filled.
  void set(const std::string& text) {
    std::istringstream lines(text);
    bool literal = false, parted = true;
    for (std::string next; std::getline(lines, next); parted = next.empty()) {
      if (next.empty()) continue;
      const bool indented = next[0] == ' ';
      if (literal && !indented) line(".fi");
      if (literal && indented && parted) line("\\&");
      if (literal != indented || (parted && !indented)) paragraph();
      if (!literal && indented) line(".nf");
      literal = indented;
      line(literal ? plain(next.substr(next.rfind("  ", 0) == 0 ? 2 : 1)) : marked(next));
    }
    if (literal) line(".fi");
  }

 private:
  void line(std::string_view text) {
    page_.append(text, 0, text.find_last_not_of(' ') + 1).push_back('\n');
    after_heading_ = false;
  }
  void heading(std::string_view macro, std::string_view name) {
    line(std::string(macro) + std::string(name));
    after_heading_ = true;
  }
  void paragraph() {
    if (!after_heading_) line(".PP");
  }

  [[nodiscard]] std::string page_name() const { return CLI::detail::find_and_replace(call_, " ", "-"); }

  void remember_placeholders(const CLI::App& command) {
    for (const CLI::Option* option : command.get_options()) {
      if (option->get_positional()) placeholders_.insert(option->get_name(true));
      const std::string text = option->get_option_text();
      if (!text.empty() && text[0] != '(') placeholders_.insert(text.substr(0, text.find_first_of(" .=")));
    }
  }

  /// Options bold, what stands for something in italics.
  [[nodiscard]] std::string marked(std::string_view text) const {
    std::string marked = !text.empty() && text[0] == '.' ? "\\&" : "";
    while (!text.empty()) {
      std::size_t length = 0;
      while (length < text.size() && is_of_a_word(text[length])) ++length;
      const std::string word(text.substr(0, std::max<std::size_t>(1, length)));
      text.remove_prefix(word.size());
      const char* font = word.size() > 1 && word[0] == '-' ? "\\fB"
                         : placeholders_.count(word) > 0   ? "\\fI"
                                                           : nullptr;
      if (font != nullptr)
        marked += font + plain(word) + "\\fR";
      else
        marked += word == "." ? word : plain(word);
    }
    return marked;
  }

  std::string call_;
  std::set<std::string> placeholders_;
  std::string page_;
  bool after_heading_ = false;
};

void tell_words(Page& page, const CLI::App& command) {
  page.section("WORDS");
  for (const CLI::App* word : command.get_subcommands({})) {
    const std::string call = page.call() + " " + word->get_name();
    page.subsection(call);
    page.synopsis(*word, call);
    page.set("\n" + word->get_description() + ".");
    page.options(*word);
    const auto [text, example] = parted_footer(*word);
    page.set("\n" + text);
    if (example != parted_footer(command).second) page.set("\nExample:\n" + example);  // one of its own
  }
}

void tell_verbs(Page& page, const CLI::App& app) {
  page.section("VERBS");
  for (const CLI::App* verb : app.get_subcommands({}))
    page.entry("\\fBringtrue\\-" + plain(verb->get_name()) + "\\fR(1)", verb->get_description());
}

}  // namespace

std::string man_page(const CLI::App& command) {
  const bool is_verb = command.get_parent() != nullptr;
  const auto [text, example] = parted_footer(command);
  Page page(command);
  page.name_line(command.get_description());
  page.section("SYNOPSIS");
  page.synopsis(command, page.call());
  page.section("DESCRIPTION");
  page.set(command.get_description());
  if (is_verb) page.set(text);  // the other one points to the help and has the next sections in short
  page.section("OPTIONS");
  page.options(command);
  if (!is_verb) tell_verbs(page, command);
  if (is_verb && !command.get_subcommands({}).empty()) tell_words(page, command);
  page.section("EXIT STATUS");
  page.set(std::string(k_exit_status));
  if (!example.empty()) {
    page.section("EXAMPLE");
    page.set(example);
  }
  page.section("FILES");
  page.entry("\\fIshare/ringtrue/netlists\\fR",
             "Below the folder that ringtrue is installed in, such as /usr: the panels of the examples, "
             "which expect a copy of it in the current folder.");
  page.section("CAUTIONS");
  page.set(std::string(k_cautions));
  if (is_verb) {
    page.section("SEE ALSO");
    page.raw(".BR ringtrue (1)");
  }
  return page.take();
}

}  // namespace ringtrue::cli
