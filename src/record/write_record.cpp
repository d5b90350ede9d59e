#include <array>

#include "ringtrue/record/record.hpp"
#include "ringtrue/write/whole_file.hpp"

namespace ringtrue {

Result<void> write_record(const Record& record, const std::filesystem::path& folder) {
  struct File {
    std::string_view name;
    std::string (*text)(const Record&);
  };
  static constexpr std::array<File, 3> k_files = {
      {{"record.json", record_json}, {"punch.csv", record_punch_csv}, {"record.html", record_html}}};
  const auto write_all = [&](const std::filesystem::path& made) -> Result<void> {
    for (const File& one : k_files) {
      write::OutputFile file(made / one.name);
      file.put(one.text(record));
      if (auto done = file.finish(); !done) return done;
    }
    return write_record_xlsx(record, made / "record.xlsx");
  };
  return write::write_whole(folder, {.is_folder = true}, Existing::refuse, write_all);
}

}  // namespace ringtrue
