// A mapping file beside the exports that the seeds tell how to read.
#include "fuzz/netlists.hpp"

using namespace ringtrue;

namespace {

std::vector<StoredFile> exports() {
  std::vector<StoredFile> files;
  for (const char* folder : {RINGTRUE_EXPORTS "/bridges_as_chains", RINGTRUE_EXPORTS "/foreign_xml"})
    for (const std::string& name : files_on_disk().names_in(folder)) {
      if (name.ends_with(".toml")) continue;
      const auto file = files_on_disk().read(std::filesystem::path(folder) / name, 1'000'000);
      files.push_back({"in/" + name, std::string(file.value().view())});
    }
  return files;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const std::vector<StoredFile> tables = exports();
  std::vector<StoredFile> files = tables;
  std::string all(fuzz::as_text(data, size));
  files.push_back({"in/drawing.toml", all});
  for (const StoredFile& table : tables) all += table.bytes;
  fuzz::must_come_back(load_netlist("in/drawing.toml", {}, StoredFiles(std::move(files))), all);
  return 0;
}
