// Tables of a netlist: the bytes stand for each of them in turn, the others beside a sound wire list.
#include "fuzz/netlists.hpp"

using namespace ringtrue;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(fuzz::as_text(data, size));
  for (const char* table : {"conductors.csv", "parts.csv", "channels.csv", "potentials.csv", "panel.csv"}) {
    std::vector<StoredFile> files{{std::string("in/") + table, text}};
    if (files.front().path.filename() != "conductors.csv")
      files.push_back({"in/conductors.csv", "wire,from,to\n1,K1:A1,X1:5.int\n2,X1:5.ext,K2:13\n"});
    fuzz::must_come_back(load_netlist("in", {}, StoredFiles(std::move(files))), text + "\n\n");
  }
  return 0;
}
