#include <array>

#include "ringtrue/record/record.hpp"
#include "ringtrue/write/whole_file.hpp"

namespace ringtrue {

namespace {

constexpr write::Shape k_shape{.is_folder = true};

}  // namespace

Result<void> check_record_folder(const std::filesystem::path& folder) {
  return write::check_writable(folder, k_shape, Existing::refuse);
}

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
  return write::write_whole(folder, k_shape, Existing::refuse, write_all);
}

}  // namespace ringtrue
