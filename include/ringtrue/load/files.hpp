#pragma once
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"

namespace ringtrue {

/// The bytes of a file as they lie on the disk, in a buffer that belongs to whoever read them; one spare byte
/// follows.
struct FileBytes {
  std::shared_ptr<char[]> bytes;
  std::size_t size = 0;

  [[nodiscard]] std::string_view view() const { return {bytes.get(), size}; }
};

/// Where the loaders find files by their paths. They ask nothing else about a file.
class Files {
 public:
  virtual ~Files() = default;
  [[nodiscard]] virtual bool is_there(const std::filesystem::path& path) const = 0;
  [[nodiscard]] virtual bool is_folder(const std::filesystem::path& path) const = 0;
  /// Names of what lies in a folder, sorted; empty if it cannot be listed.
  [[nodiscard]] virtual std::vector<std::string> names_in(const std::filesystem::path& folder) const = 0;
  /// @errors file_unreadable, file_too_large.
  [[nodiscard]] virtual Result<FileBytes> read(const std::filesystem::path& path,
                                               std::uintmax_t max_bytes) const = 0;
};

/// The file system.
[[nodiscard]] const Files& files_on_disk();

/// A file by its path, and what it holds.
struct StoredFile {
  std::filesystem::path path;
  std::string bytes;
};

/// Files whose bytes are at hand. A folder is there if a file lies in it.
class StoredFiles final : public Files {
 public:
  explicit StoredFiles(std::vector<StoredFile> files);
  [[nodiscard]] bool is_there(const std::filesystem::path& path) const override;
  [[nodiscard]] bool is_folder(const std::filesystem::path& path) const override;
  [[nodiscard]] std::vector<std::string> names_in(const std::filesystem::path& folder) const override;
  [[nodiscard]] Result<FileBytes> read(const std::filesystem::path& path,
                                       std::uintmax_t max_bytes) const override;

 private:
  std::vector<StoredFile> files_;
};

}  // namespace ringtrue
