#pragma once
#include <unistd.h>
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>
#include <string_view>

#include "ringtrue/base/error.hpp"
#include "ringtrue/base/utf8.hpp"

/// What libFuzzer calls with each input, and `replay.cpp` with each file.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace ringtrue::fuzz {

inline std::string_view as_text(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

/// Calls `take` with each of the first lines: so a seed holds many short inputs, and none takes long.
template <class Take>
void each_line(std::string_view text, Take take) {
  constexpr int k_most_lines = 16;
  std::size_t end = 0;
  for (int line = 0; line < k_most_lines && end != text.npos; ++line) {
    take(text.substr(0, end = text.find('\n')));
    text.remove_prefix(end == text.npos ? 0 : end + 1);
  }
}

/// Ends the process where something doesn't hold, so that the input is kept.
inline void must(bool holds, std::string_view truth, std::string_view about = "") {
  if (holds) return;
  std::cerr << "this doesn't hold: " << truth << "\n" << about << std::endl;
  std::abort();
}

/// Each mistake says what is wrong.
inline void must_be_told(const Errors& errors) {
  must(!errors.empty() && errors.size() <= k_max_errors, "there are one to 50 mistakes");
  for (const Error& error : errors) must(!error.message.empty(), "a mistake has a message", to_text(error));
}

/// The same of what was typed: it stands in messages as it is, so that they are UTF-8 where it is.
inline void must_be_told_of(const Errors& errors, std::string_view typed) {
  must_be_told(errors);
  for (const Error& error : errors)
    must(first_bad_utf8(typed) || !first_bad_utf8(to_text(error)), "a message is UTF-8", to_text(error));
}

/// The same of a file's text: messages are UTF-8 whatever the file is, and each has its place.
inline void must_be_told(const Errors& errors, std::string_view text) {
  must_be_told_of(errors, "");
  const auto ends = std::count_if(text.begin(), text.end(), [](char c) { return c == '\n' || c == '\r'; });
  for (const Error& error : errors) {
    must(!error.place.file.empty(), "a mistake in a file names it", to_text(error));
    must(error.place.line <= ends + 1, "the line of a mistake is one of the file", to_text(error));
  }
}

inline std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// A folder of the process, in TMPDIR.
class Scratch {
 public:
  Scratch() {
    std::string name = (std::filesystem::temp_directory_path() / "ringtrue-fuzz-XXXXXX").string();
    must(::mkdtemp(name.data()) != nullptr, "a folder can be made", name);
    path_ = name;
  }
  ~Scratch() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  [[nodiscard]] std::filesystem::path at(std::string_view name) const { return path_ / name; }
  [[nodiscard]] std::filesystem::path write(std::string_view name, std::string_view bytes) const {
    std::ofstream file(at(name), std::ios::binary);
    file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    return at(name);
  }

 private:
  std::filesystem::path path_;
};

inline const Scratch& scratch() {
  static const Scratch folder;
  return folder;
}

}  // namespace ringtrue::fuzz
