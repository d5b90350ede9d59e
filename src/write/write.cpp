#include "ringtrue/write/write.hpp"

#include "ringtrue/write/whole_file.hpp"
#include "write/csv.hpp"
#include "write/xml.hpp"

namespace ringtrue {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view k_free_name = "a name that is not taken yet, or --force to replace it";

/// The same rule by which a netlist is read.
bool is_xml(const fs::path& path) {
  std::string extension = path.extension().string();
  for (char& c : extension)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return extension == ".xml";
}

}  // namespace

Result<void> write_netlist(const Netlist& netlist, const fs::path& out, Existing existing) {
  if (is_xml(out))
    return write::write_whole(out, {false, {}, k_free_name}, existing,
                              [&](const fs::path& file) { return write::write_xml_file(netlist, file); });
  return write::write_whole(out, {true, write::csv_files(), k_free_name}, existing,
                            [&](const fs::path& folder) { return write::write_csv_files(netlist, folder); });
}

}  // namespace ringtrue
