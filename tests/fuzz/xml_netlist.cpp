#include "fuzz/netlists.hpp"

using namespace ringtrue;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(fuzz::as_text(data, size));
  fuzz::must_come_back(load_netlist("in.xml", {}, StoredFiles({{"in.xml", text}})), text);
  return 0;
}
