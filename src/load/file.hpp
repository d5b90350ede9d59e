#pragma once
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "ringtrue/base/error.hpp"
#include "ringtrue/load/files.hpp"

namespace ringtrue::load {

/// The text of a file in one buffer of its own.
///
/// It is read and not mapped: a file that somebody cuts short under a memory map kills the process, and the
/// readers unescape in place. Whoever keeps views into the text keeps `bytes`.
struct FileText {
  std::string name;  ///< as the user gave it, for messages
  std::shared_ptr<char[]> bytes;
  char* begin = nullptr;  ///< after the byte order mark, if there was one
  std::size_t size = 0;   ///< from `begin`; a NUL follows the last byte, so readers may look one ahead
  std::string_view encoding = "UTF-8";  ///< of the bytes in the file
  std::optional<Note> note = {};        ///< how the text is encoded, where that had to be guessed

  [[nodiscard]] char* end() const { return begin + size; }
  [[nodiscard]] std::string_view view() const { return {begin, size}; }
};

/// Reads a text file whole, as UTF-8 whatever it was.
///
/// @param max_bytes  larger files are refused; values above 4 GiB count as 4 GiB, since places in files are
/// 32-bit.
/// @errors file_unreadable (missing, with the nearest names in its folder; a folder; no permission; changed
/// while it
///         was read, so that half a file never counts as a whole one), file_too_large, bad_text as `as_utf8`
///         says.
[[nodiscard]] Result<FileText> read_text_file(const std::filesystem::path& path, std::uintmax_t max_bytes,
                                              const Files& files = files_on_disk());

/// Reads an open file to its end. `size_before` is what the file system said on opening; nothing for a pipe.
/// `name` stands in messages.
[[nodiscard]] Result<FileBytes> read_open_file(std::FILE& file, const std::string& name,
                                               std::optional<std::size_t> size_before,
                                               std::uintmax_t max_bytes);

/// Rough number of lines, from the first 64 KiB: enough to reserve by, without a walk through the whole text.
[[nodiscard]] std::size_t estimated_lines(const FileText& file);

}  // namespace ringtrue::load
