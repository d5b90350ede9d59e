#include <algorithm>
#include <cstring>

#include "ringtrue/load/files.hpp"

namespace ringtrue {

namespace {

namespace fs = std::filesystem;

/// One spelling per path: without `./`, and without the `/` at the end of a folder.
fs::path plain(const fs::path& path) {
  const fs::path normal = path.lexically_normal();
  return normal.has_filename() ? normal : normal.parent_path();
}

Error wrong(const fs::path& path, ErrorCode code, std::string message) {
  Error error;
  error.code = code;
  error.message = std::move(message);
  error.place.file = path.string();
  return error;
}

}  // namespace

StoredFiles::StoredFiles(std::vector<StoredFile> files) : files_(std::move(files)) {
  for (StoredFile& file : files_) file.path = plain(file.path);
}

bool StoredFiles::is_there(const fs::path& path) const {
  const auto is_it = [path = plain(path)](const StoredFile& file) { return file.path == path; };
  return std::any_of(files_.begin(), files_.end(), is_it) || is_folder(path);
}

bool StoredFiles::is_folder(const fs::path& path) const { return !names_in(path).empty(); }

std::vector<std::string> StoredFiles::names_in(const fs::path& folder) const {
  std::vector<std::string> names;
  for (const StoredFile& file : files_)
    if (file.path.parent_path() == plain(folder)) names.push_back(file.path.filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

Result<FileBytes> StoredFiles::read(const fs::path& path, std::uintmax_t max_bytes) const {
  const auto is_it = [path = plain(path)](const StoredFile& file) { return file.path == path; };
  const auto file = std::find_if(files_.begin(), files_.end(), is_it);
  if (file == files_.end()) return fail(wrong(path, ErrorCode::file_unreadable, "there is no such file"));
  const std::string& bytes = file->bytes;
  if (bytes.size() > max_bytes) return fail(wrong(path, ErrorCode::file_too_large, "the file is too large"));
  FileBytes read{std::make_shared_for_overwrite<char[]>(bytes.size() + 1), bytes.size()};
  std::memcpy(read.bytes.get(), bytes.data(), bytes.size());
  return read;
}

}  // namespace ringtrue
