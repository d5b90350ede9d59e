// Gives each file of the folders named to a target, once, without libFuzzer: so the targets can't rot.
#include "fuzz/fuzz.hpp"

int main(int count, char** folders) {
  std::size_t files = 0;
  for (int i = 1; i < count; ++i)
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folders[i])) {
      if (!entry.is_regular_file()) continue;
      const std::string bytes = ringtrue::fuzz::bytes_of(entry.path());
      LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
      ++files;
    }
  std::cout << files << " files\n";
  return files == 0 ? 1 : 0;
}
