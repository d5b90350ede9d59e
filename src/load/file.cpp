#include "load/file.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <limits>
#include <system_error>

#include "load/encoding.hpp"
#include "load/text.hpp"
#include "ringtrue/base/nearest_names.hpp"

namespace ringtrue {

namespace load {

namespace {

namespace fs = std::filesystem;

struct Closer {
  void operator()(std::FILE* file) const { std::fclose(file); }
};
using OpenFile = std::unique_ptr<std::FILE, Closer>;

Error error_in(const std::string& file, ErrorCode code, std::string message) {
  Error error;
  error.code = code;
  error.message = std::move(message);
  error.place.file = file;
  return error;
}

Error unreadable(const std::string& file, const std::error_code& reason) {
  return error_in(file, ErrorCode::file_unreadable, "the file cannot be read (" + reason.message() + ")");
}

std::error_code last_error() { return {errno, std::generic_category()}; }

/// Paths beside the missing one whose name looks like it.
std::vector<std::string> nearest_paths(const fs::path& path) {
  NearestNames nearest(path.filename().string());
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  std::error_code problem;
  for (fs::directory_iterator entry(folder, problem), end; !problem && entry != end; entry.increment(problem))
    nearest.offer(entry->path().filename().string());
  std::vector<std::string> names = nearest.take();
  for (std::string& name : names) name = (path.parent_path() / name).string();
  return names;
}

Error missing(const fs::path& path) {
  Error error = error_in(path.string(), ErrorCode::file_unreadable, "there is no such file");
  error.nearest = nearest_paths(path);
  return error;
}

Error too_large(const std::string& file, std::uintmax_t max_bytes) {
  Error error = error_in(file, ErrorCode::file_too_large, "the file is too large");
  error.expected = "at most " + std::to_string(max_bytes) + " bytes";
  return error;
}

std::uintmax_t capped(std::uintmax_t max_bytes) {
  return std::min<std::uintmax_t>(max_bytes, std::numeric_limits<std::uint32_t>::max());
}

/// Fills a buffer until the end of the file, an error, or one byte more than `capacity` holds.
struct Filling {
  std::shared_ptr<char[]> bytes;
  std::size_t capacity = 0;
  std::size_t size = 0;

  explicit Filling(std::size_t wanted) : capacity(wanted) {
    bytes = std::make_shared_for_overwrite<char[]>(capacity + 1);
  }
  void read(std::FILE& file) { size += std::fread(bytes.get() + size, 1, capacity - size, &file); }
  [[nodiscard]] bool is_full() const { return size == capacity; }
  void grow() {
    Filling larger(capacity * 2);
    std::memcpy(larger.bytes.get(), bytes.get(), size);
    larger.size = size;
    *this = std::move(larger);
  }
};

}  // namespace

Result<FileBytes> read_open_file(std::FILE& file, const std::string& name,
                                 std::optional<std::size_t> size_before, std::uintmax_t max_bytes) {
  constexpr std::size_t k_pipe_start = 65536;
  max_bytes = capped(max_bytes);
  if (size_before.value_or(0) > max_bytes) return fail(too_large(name, max_bytes));
  // One byte of room more than the file should need: only so is it seen that it grew.
  Filling filling(size_before ? *size_before + 1 : k_pipe_start);
  filling.read(file);
  while (!size_before && filling.is_full() && filling.size <= max_bytes) {
    filling.grow();
    filling.read(file);
  }
  if (std::ferror(&file) != 0) return fail(unreadable(name, last_error()));
  if (filling.size > max_bytes) return fail(too_large(name, max_bytes));
  if (size_before && filling.size != *size_before) {
    Error error = error_in(name, ErrorCode::file_unreadable, "the file changed while it was being read");
    error.expected = "a file that nobody writes to; try again";
    return fail(std::move(error));
  }
  return FileBytes{filling.bytes, filling.size};
}

Result<FileText> read_text_file(const fs::path& path, std::uintmax_t max_bytes, const Files& files) {
  auto read = files.read(path, capped(max_bytes));
  if (!read) return tl::unexpected(std::move(read.error()));
  read->bytes.get()[read->size] = '\0';
  FileText text{path.string(), read->bytes, read->bytes.get(), read->size};
  return as_utf8(std::move(text));
}

std::size_t estimated_lines(const FileText& file) {
  const std::string_view sample = file.view().substr(0, 65536);
  if (sample.empty()) return 0;
  return static_cast<std::size_t>(count_line_ends(sample) + 1) * file.size / sample.size();
}

}  // namespace load

namespace {

namespace fs = std::filesystem;

class FilesOnDisk final : public Files {
 public:
  [[nodiscard]] bool is_there(const fs::path& path) const override {
    std::error_code ignored;
    return fs::exists(path, ignored);
  }

  [[nodiscard]] bool is_folder(const fs::path& path) const override {
    std::error_code ignored;
    return fs::is_directory(path, ignored);
  }

  [[nodiscard]] std::vector<std::string> names_in(const fs::path& folder) const override {
    std::vector<std::string> names;
    std::error_code problem;
    for (fs::directory_iterator entry(folder, problem), end; !problem && entry != end;
         entry.increment(problem))
      names.push_back(entry->path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
  }

  [[nodiscard]] Result<FileBytes> read(const fs::path& path, std::uintmax_t max_bytes) const override {
    using namespace load;
    std::error_code problem;
    const fs::file_status status = fs::status(path, problem);
    if (status.type() == fs::file_type::not_found) return fail(missing(path));
    if (fs::is_directory(status))
      return fail(
          error_in(path.string(), ErrorCode::file_unreadable, "this is a folder where a file is needed"));
    const OpenFile file(std::fopen(path.c_str(), "rb"));
    if (!file) return fail(unreadable(path.string(), last_error()));
    std::optional<std::size_t> size;
    if (fs::is_regular_file(status)) size = fs::file_size(path, problem);
    if (size && problem) return fail(unreadable(path.string(), problem));
    return read_open_file(*file, path.string(), size, max_bytes);
  }
};

}  // namespace

const Files& files_on_disk() {
  static const FilesOnDisk disk;
  return disk;
}

}  // namespace ringtrue
