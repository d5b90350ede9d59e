// The output is made inside a folder of its own beside the final name, so that it lies on the same disk and
// no two writers meet; from there it is renamed. Where it takes the place of something, the two exchange
// their names in one step, and the old one goes with the temporary folder.
#include "ringtrue/write/whole_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>
#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <optional>
#include <system_error>

namespace ringtrue::write {

namespace {

namespace fs = std::filesystem;

Error unwritable(int reason) {
  Error error;
  error.code = ErrorCode::file_unwritable;
  error.message = "it could not be written (" + std::generic_category().message(reason) + ")";
  return error;
}

/// A temporary folder that goes with everything in it.
class TemporaryFolder {
 public:
  explicit TemporaryFolder(const fs::path& beside)
      : path_((beside.parent_path() / ".ringtrue-XXXXXX").string()) {
    if (::mkdtemp(path_.data()) == nullptr) path_.clear();
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    if (is_there()) fs::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  [[nodiscard]] bool is_there() const { return !path_.empty(); }
  [[nodiscard]] fs::path path() const { return path_; }

 private:
  std::string path_;
};

/// Brings the names in a folder to the disk. Some file systems cannot, and say so by EINVAL.
bool sync_folder(const fs::path& folder) {
  const int opened = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (opened < 0) return false;
  const bool is_synced = ::fsync(opened) == 0 || errno == EINVAL;
  const int reason = errno;
  ::close(opened);
  errno = reason;
  return is_synced;
}

/// The same for a folder and all below it.
bool sync_folders(const fs::path& folder) {
  std::error_code problem;
  for (fs::recursive_directory_iterator entry(folder, problem), end; !problem && entry != end;
       entry.increment(problem))
    if (entry->is_directory(problem) && !sync_folder(entry->path())) return false;
  if (problem) errno = problem.value();
  return !problem && sync_folder(folder);
}

Error exists(std::string message, std::string found, std::string expected) {
  Error error;
  error.code = ErrorCode::file_exists;
  error.message = std::move(message);
  error.found = std::move(found);
  error.expected = std::move(expected);
  return error;
}

/// What stands in a folder beside `files`, the first by name; empty if there is nothing.
std::string foreign_name(const fs::path& folder, std::span<const std::string_view> files,
                         std::error_code& problem) {
  std::string first;
  for (fs::directory_iterator entry(folder, problem), end; !problem && entry != end;
       entry.increment(problem)) {
    std::string name = entry->path().filename().string();
    const bool is_foreign = std::find(files.begin(), files.end(), name) == files.end();
    if (is_foreign && (first.empty() || name < first)) first = std::move(name);
  }
  return first;
}

std::optional<Error> obstacle(const fs::path& out, const Shape& shape, Existing existing) {
  std::error_code ignored;
  if (!fs::exists(fs::symlink_status(out, ignored))) return std::nullopt;
  if (existing == Existing::refuse) return exists("it exists already", "", std::string(shape.free_name));
  const fs::file_status status = fs::status(out, ignored);
  if (!shape.is_folder && !fs::is_regular_file(status))
    return exists("what stands there is no file, so no file takes its place", "", "the name of a file");
  if (!shape.is_folder) return std::nullopt;
  if (!fs::is_directory(status))
    return exists("what stands there is no folder, so no folder takes its place", "",
                  "the name of a folder, or one that ends in .xml");
  std::error_code problem;
  const std::string foreign = foreign_name(out, shape.files, problem);
  if (problem) return unwritable(problem.value());
  if (foreign.empty()) return std::nullopt;
  return exists("the folder holds more than a netlist, which would be lost", foreign, "a folder of its own");
}

/// In one step: either the old stands under the name, or the new.
bool take_place(const fs::path& made, const fs::path& out, Existing existing) {
  std::error_code ignored;
  const bool is_taken = fs::exists(fs::symlink_status(out, ignored));
  if (existing == Existing::replace && is_taken && fs::is_directory(made))
    return ::renameat2(AT_FDCWD, made.c_str(), AT_FDCWD, out.c_str(), RENAME_EXCHANGE) == 0;
  if (existing == Existing::replace) return std::rename(made.c_str(), out.c_str()) == 0;
  if (::renameat2(AT_FDCWD, made.c_str(), AT_FDCWD, out.c_str(), RENAME_NOREPLACE) == 0) return true;
  // A file system without that flag: the name was free a moment ago.
  return errno == EINVAL && std::rename(made.c_str(), out.c_str()) == 0;
}

Error no_room_beside(int reason) {
  Error error = unwritable(reason);
  error.expected = "a name in a folder that is there and may be written to";
  return error;
}

Result<void> make_whole(const fs::path& out, const Shape& shape, Existing existing,
                        const std::function<Result<void>(const fs::path&)>& make) {
  if (auto error = obstacle(out, shape, existing)) return fail(std::move(*error));
  const TemporaryFolder folder(out);
  if (!folder.is_there()) return fail(no_room_beside(errno));
  const fs::path made = folder.path() / out.filename();
  if (shape.is_folder && ::mkdir(made.c_str(), 0777) != 0) return fail(unwritable(errno));
  if (Result<void> done = make(made); !done) return done;
  if (shape.is_folder && !sync_folders(made)) return fail(unwritable(errno));
  if (!take_place(made, out, existing) || !sync_folder(out.parent_path())) return fail(unwritable(errno));
  return {};
}

/// Without the / at the end of a folder's.
fs::path plain_name(const fs::path& out) { return out.has_filename() ? out : out.parent_path(); }

Result<void> named(const fs::path& out, Result<void> done) {
  if (!done)
    for (Error& error : done.error())
      if (error.place.file.empty()) error.place.file = out.string();
  return done;
}

}  // namespace

OutputFile::OutputFile(const fs::path& path) {
  const int opened = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (opened >= 0) file_.reset(::fdopen(opened, "wb"));
  if (!file_) reason_ = errno;
}

Result<void> OutputFile::finish() {
  if (reason_ == 0 && (std::fflush(file_.get()) != 0 || ::fsync(::fileno(file_.get())) != 0)) reason_ = errno;
  if (reason_ == 0 && std::fclose(file_.release()) != 0) reason_ = errno;
  if (reason_ != 0) return fail(unwritable(reason_));
  return {};
}

Result<void> sync_file(const fs::path& path) {
  const int opened = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (opened < 0) return fail(unwritable(errno));
  const int reason = ::fsync(opened) == 0 ? 0 : errno;
  ::close(opened);
  if (reason != 0) return fail(unwritable(reason));
  return {};
}

Result<void> write_whole(const fs::path& out, const Shape& shape, Existing existing,
                         const std::function<Result<void>(const fs::path&)>& make) {
  return named(out, make_whole(plain_name(out), shape, existing, make));
}

Result<void> check_writable(const fs::path& out, const Shape& shape, Existing existing) {
  const fs::path name = plain_name(out);
  if (auto error = obstacle(name, shape, existing)) return named(out, fail(std::move(*error)));
  const TemporaryFolder folder(name);
  if (!folder.is_there()) return named(out, fail(no_room_beside(errno)));
  return {};
}

}  // namespace ringtrue::write
