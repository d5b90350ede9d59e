#pragma once
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "ringtrue/base/error.hpp"
#include "ringtrue/write/write.hpp"

namespace ringtrue::write {

/// A new file, written through a buffer. What goes wrong is kept until `finish`.
class OutputFile {
 public:
  explicit OutputFile(const std::filesystem::path& path);
  void put(std::string_view text) {
    if (reason_ != 0 || text.empty()) return;
    if (std::fwrite(text.data(), 1, text.size(), file_.get()) != text.size()) reason_ = errno;
  }
  void put(char c) { put({&c, 1}); }
  /// Brings everything to the disk.
  /// @errors file_unwritable, with the system's reason and no place: that is for those who know the final
  /// name.
  [[nodiscard]] Result<void> finish();

 private:
  struct Closer {
    void operator()(std::FILE* file) const { std::fclose(file); }
  };
  std::unique_ptr<std::FILE, Closer> file_;
  int reason_ = 0;  ///< `errno` of the first thing that went wrong
};

/// Brings a file that another library wrote to the disk.
/// @errors file_unwritable, with the system's reason and no place.
[[nodiscard]] Result<void> sync_file(const std::filesystem::path& path);

/// What is made: one file, or a folder.
struct Shape {
  bool is_folder = false;
  std::span<const std::string_view> files = {};  ///< that a folder may hold whose place is taken
  std::string_view free_name = "a name that is not taken yet";  ///< what to ask for where one is
};

/// Lets `make` write the file or folder under a temporary name on the same disk, and gives it its final name
/// once all of it is on the disk. Whatever fails, nothing of it stays.
/// @errors file_exists, file_unwritable, and those of `make`.
[[nodiscard]] Result<void> write_whole(const std::filesystem::path& out, const Shape& shape,
                                       Existing existing,
                                       const std::function<Result<void>(const std::filesystem::path&)>& make);

/// Whether `write_whole` could begin: to be asked before making what takes long to make.
/// @errors file_exists, file_unwritable.
[[nodiscard]] Result<void> check_writable(const std::filesystem::path& out, const Shape& shape,
                                          Existing existing);

}  // namespace ringtrue::write
