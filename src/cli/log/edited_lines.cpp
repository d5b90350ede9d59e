#include <histedit.h>
#include <langinfo.h>
#include <algorithm>
#include <clocale>
#include <cstdio>
#include <utility>

#include "lines.hpp"

namespace ringtrue::cli::log {

namespace {

constexpr int k_history = 1000;
constexpr std::size_t k_most_choices = 60;
constexpr std::size_t k_columns = 98;

/// libedit counts characters, names are bytes.
int characters_of(std::string_view text) {
  return static_cast<int>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

void print_choices(const std::vector<std::string>& choices) {
  const std::size_t shown = std::min(choices.size(), k_most_choices);
  std::size_t width = 1;
  for (std::size_t i = 0; i < shown; ++i) width = std::max(width, choices[i].size() + 2);
  const std::size_t in_line = std::max<std::size_t>(1, k_columns / width);
  std::string text;
  for (std::size_t i = 0; i < shown; ++i) {
    text += (i % in_line == 0 ? "\n" : "") + choices[i];
    if (i % in_line != in_line - 1) text.append(width - choices[i].size(), ' ');
  }
  if (shown < choices.size()) text += "\nand " + std::to_string(choices.size() - shown) + " more";
  std::puts(text.c_str());
}

class EditedLines : public Lines {
 public:
  explicit EditedLines(std::function<Completion(std::string_view)> complete)
      : complete_(std::move(complete)),
        editor_(el_init("ringtrue", stdin, stdout, stderr), el_end),
        history_(history_init(), history_end) {
    HistEvent event;
    history(history_.get(), &event, H_SETSIZE, k_history);
    history(history_.get(), &event, H_SETUNIQUE, 1);
    EditLine* editor = editor_.get();
    el_set(editor, EL_CLIENTDATA, this);
    el_set(editor, EL_PROMPT, prompt_of);
    el_set(editor, EL_EDITOR, "emacs");
    el_set(editor, EL_SIGNAL, 1);
    el_set(editor, EL_HIST, history, history_.get());
    // By el_wset: el_set copies the two texts and never frees them.
    el_wset(editor, EL_ADDFN, L"complete-name", L"Completes a point, wire, tag, address or command", on_tab);
    el_set(editor, EL_BIND, "^I", "complete-name", nullptr);
    el_source(editor, nullptr);
  }

  std::optional<std::string> next(const std::string& prompt) override {
    prompt_ = prompt;
    int count = 0;
    const char* read = el_gets(editor_.get(), &count);
    if (read == nullptr || count <= 0) {
      std::puts("");
      return std::nullopt;
    }
    std::string line(read, static_cast<std::size_t>(count));
    if (line.find_first_not_of(" \t\r\n") != std::string::npos) {
      HistEvent event;
      history(history_.get(), &event, H_ENTER, line.c_str());
    }
    while (!line.empty() && (line.back() == '\n' || line.back() == '\r')) line.pop_back();
    return line;
  }

 private:
  static EditedLines& of(EditLine* editor) {
    void* self = nullptr;
    el_get(editor, EL_CLIENTDATA, &self);
    return *static_cast<EditedLines*>(self);
  }
  static char* prompt_of(EditLine* editor) { return of(editor).prompt_.data(); }

  static unsigned char on_tab(EditLine* editor, int) {
    const LineInfo* line = el_line(editor);
    const std::string typed(line->buffer, line->cursor);
    const Completion made = of(editor).complete_(typed);
    if (made.choices.empty()) return CC_ERROR;
    const std::string word = typed.substr(made.begin);
    if (made.text != word) {
      el_deletestr(editor, characters_of(word));
      if (el_insertstr(editor, made.text.c_str()) == -1) return CC_ERROR;
    }
    if (made.choices.size() == 1 || made.text.size() > word.size()) return CC_REFRESH;
    print_choices(made.choices);
    return CC_REDISPLAY;
  }

  std::function<Completion(std::string_view)> complete_;
  std::unique_ptr<EditLine, decltype(&el_end)> editor_;
  std::unique_ptr<History, decltype(&history_end)> history_;
  std::string prompt_;
};

/// Names and units may hold letters beyond ASCII, wherever the terminal knows UTF-8.
void read_utf8() {
  std::setlocale(LC_CTYPE, "");
  if (std::string_view(nl_langinfo(CODESET)) != "UTF-8") std::setlocale(LC_CTYPE, "C.UTF-8");
}

}  // namespace

std::unique_ptr<Lines> edited_lines(std::function<Completion(std::string_view)> complete) {
  read_utf8();
  return std::make_unique<EditedLines>(std::move(complete));
}

}  // namespace ringtrue::cli::log
