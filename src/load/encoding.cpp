#include "load/encoding.hpp"

#include <iconv.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <string_view>

#include "load/text.hpp"
#include "ringtrue/base/utf8.hpp"

namespace ringtrue::load {

namespace {

Error bad_text(const std::string& file, std::string message, std::uint32_t line) {
  Error error;
  error.code = ErrorCode::bad_text;
  error.message = std::move(message);
  error.place.file = file;
  error.place.line = line;
  return error;
}

std::uint32_t line_of(std::string_view text, std::size_t at) {
  return count_line_ends(text.substr(0, at)) + 1;
}

std::string hex(char byte) {
  constexpr std::string_view k_digits = "0123456789ABCDEF";
  const auto value = static_cast<unsigned char>(byte);
  return {k_digits[value >> 4], k_digits[value & 15]};
}

bool is_control(char c) {
  return static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f' &&
         c != '\x1A';
}

/// Where the first control character stands that no text file holds.
std::size_t first_control(std::string_view text) {
  const auto at = std::find_if(text.begin(), text.end(), is_control);
  return at == text.end() ? text.npos : static_cast<std::size_t>(at - text.begin());
}

struct Encoding {
  const char* name;        ///< as iconv knows it
  std::size_t mark;        ///< bytes of the byte order mark
  std::string_view guess;  ///< what to tell if nothing in the file says so
};

/// Nothing for UTF-8 and for what is no text. `bad`: where the text is no UTF-8.
const Encoding* encoding_of(std::string_view text, std::optional<std::size_t> bad) {
  static constexpr Encoding k_little{"UTF-16LE", 2, ""}, k_big{"UTF-16BE", 2, ""},
      k_little_guessed{"UTF-16LE", 0, "UTF-16"}, k_big_guessed{"UTF-16BE", 0, "UTF-16"},
      k_western{"WINDOWS-1252", 0, "Windows-1252"};
  if (text.substr(0, 2) == "\xFF\xFE") return &k_little;
  if (text.substr(0, 2) == "\xFE\xFF") return &k_big;
  if (text.size() >= 2 && (text[0] == '\0') != (text[1] == '\0'))
    return text[0] == '\0' ? &k_big_guessed : &k_little_guessed;
  if (text.substr(0, 3) == "\xEF\xBB\xBF") return nullptr;
  return bad && first_control(text) == text.npos ? &k_western : nullptr;
}

class Converter {
 public:
  explicit Converter(const char* from) : handle_(iconv_open("UTF-8", from)) {}
  ~Converter() {
    if (is_open()) iconv_close(handle_);
  }
  Converter(const Converter&) = delete;
  Converter& operator=(const Converter&) = delete;
  [[nodiscard]] bool is_open() const { return handle_ != reinterpret_cast<iconv_t>(-1); }

  /// Appends what `text` means; returns how many bytes of it were understood.
  std::size_t convert(std::string_view text, std::string& out) {
    char* in = const_cast<char*>(text.data());  // iconv does not write to its input
    std::size_t left = text.size();
    std::array<char, 65536> room;
    while (left > 0) {
      char* to = room.data();
      std::size_t free = room.size();
      const std::size_t result = iconv(handle_, &in, &left, &to, &free);
      out.append(room.data(), static_cast<std::size_t>(to - room.data()));
      if (result == static_cast<std::size_t>(-1) && errno != E2BIG) break;
    }
    return text.size() - left;
  }

 private:
  iconv_t handle_;
};

Result<FileText> converted(const FileText& raw, const Encoding& encoding) {
  const std::string_view text = raw.view().substr(encoding.mark);
  Converter converter(encoding.name);
  std::string out;
  std::size_t understood = 0;
  if (converter.is_open()) {
    out.reserve(text.size() + text.size() / 8);
    understood = converter.convert(text, out);
  }
  if (understood < text.size()) {
    Error error = bad_text(raw.name, std::string("the text is neither UTF-8 nor ") + encoding.name,
                           count_line_ends(out) + 1);
    error.found = "byte " + hex(text[understood]);
    error.expected = "UTF-8 text; save or export the file again as UTF-8";
    return tl::unexpected(Errors{std::move(error)});
  }
  FileText made;
  made.name = raw.name;
  made.size = out.size();
  made.bytes = std::make_shared_for_overwrite<char[]>(out.size() + 1);
  std::memcpy(made.bytes.get(), out.c_str(), out.size() + 1);
  made.begin = made.bytes.get();
  made.encoding = encoding.name;
  if (!encoding.guess.empty())
    made.note = Note{"the file does not say how its text is encoded; read as " + std::string(encoding.guess),
                     {made.name, 0, "", ""}};
  return made;
}

/// What is left may be no text, or claim to be UTF-8 and not be. A stray control character in text that is
/// UTF-8 otherwise is left to whoever reads its meaning.
std::optional<Error> text_error(const FileText& file, std::optional<std::size_t> bad) {
  const std::string_view text = file.view();
  const std::size_t control = bad ? first_control(text) : text.find('\0');
  if (control != text.npos) {
    Error error = bad_text(file.name, "the file holds control characters, so it is no text file",
                           line_of(text, control));
    error.found = "byte " + hex(text[control]);
    error.expected =
        "a wire list or netlist exported as text (CSV or XML); not a PDF, a picture or a workbook";
    return error;
  }
  if (!bad) return std::nullopt;
  Error error =
      bad_text(file.name, "the text begins with the mark of UTF-8 and is not UTF-8", line_of(text, *bad));
  error.found = "byte " + hex(text[*bad]);
  error.expected = "UTF-8 text; save or export the file again as UTF-8";
  return error;
}

}  // namespace

Result<FileText> as_utf8(FileText raw) {
  constexpr std::string_view k_mark = "\xEF\xBB\xBF";
  const std::string_view text = raw.view();
  std::optional<std::size_t> bad = first_bad_utf8(text);
  if (const Encoding* other = encoding_of(text, bad)) {
    Result<FileText> made = converted(raw, *other);
    if (!made) return made;
    raw = std::move(*made);
    bad.reset();
  } else if (text.starts_with(k_mark)) {
    raw.begin += k_mark.size();
    raw.size -= k_mark.size();
    if (bad) *bad -= k_mark.size();
  }
  if (auto error = text_error(raw, bad)) return tl::unexpected(Errors{std::move(*error)});
  return raw;
}

}  // namespace ringtrue::load
