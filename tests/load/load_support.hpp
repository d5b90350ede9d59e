#pragma once
#include <cstring>
#include <string>
#include <string_view>

#include "load/csv.hpp"
#include "load/file.hpp"
#include "ringtrue/load/load.hpp"
#include "support/temp_folder.hpp"

namespace ringtrue::testing_support {

/// A text as `read_text_file` would give it, without a file.
inline load::FileText file_text(std::string_view text) {
  load::FileText file;
  file.name = "in";
  file.bytes = std::make_shared<char[]>(text.size() + 1);
  std::memcpy(file.bytes.get(), text.data(), text.size());
  file.begin = file.bytes.get();
  file.size = text.size();
  return file;
}

/// Every mistake on a line of its own; empty if there was none.
template <class T>
std::string errors_of(const Result<T>& result, const ScopedTempFolder& folder) {
  std::string text;
  if (result) return text;
  for (const Error& error : result.error()) text += (text.empty() ? "" : "\n") + to_text(error);
  return folder.without_folder(text);
}

template <class T>
ErrorCode first_code(const Result<T>& result) {
  return result ? ErrorCode::bad_call : result.error().front().code;
}

/// Every note on a line of its own, as `file:line: text`.
inline std::string notes_of(const std::vector<Note>& notes, const ScopedTempFolder& folder) {
  std::string text;
  for (const Note& note : notes)
    if (!note.is_detail)
      text += (text.empty() ? "" : "\n") + note.place.file + ":" + std::to_string(note.place.line) + ": " +
              note.text;
  return folder.without_folder(text);
}

}  // namespace ringtrue::testing_support
