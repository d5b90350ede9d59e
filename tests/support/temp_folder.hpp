#pragma once
#include <gtest/gtest.h>

#include <unistd.h>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <system_error>

namespace ringtrue::testing_support {

/// A folder of its own for one test, removed with everything in it at the end.
class ScopedTempFolder {
 public:
  ScopedTempFolder() {
    // Never one that a killed test has left: numbers of processes come again.
    std::string name = (std::filesystem::temp_directory_path() / "ringtrue-test-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr)
      throw std::system_error(errno, std::generic_category(), "cannot make " + name);
    path_ = name;
  }
  ~ScopedTempFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  ScopedTempFolder(const ScopedTempFolder&) = delete;
  ScopedTempFolder& operator=(const ScopedTempFolder&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  /// Writes the bytes as they are and gives the path. Folders in `name` are made.
  std::filesystem::path write(const std::string& name, std::string_view bytes) const {
    const std::filesystem::path file = path_ / name;
    std::filesystem::create_directories(file.parent_path());
    std::ofstream out(file, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    EXPECT_TRUE(out.good()) << "cannot write " << file;
    return file;
  }

  /// `text` with every mention of the folder taken out, so that messages can be compared whole.
  [[nodiscard]] std::string without_folder(std::string text) const {
    const std::string folder = path_.string() + "/";
    for (std::size_t at = text.find(folder); at != text.npos; at = text.find(folder, at))
      text.erase(at, folder.size());
    return text;
  }

 private:
  std::filesystem::path path_;
};

}  // namespace ringtrue::testing_support
