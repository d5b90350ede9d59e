#include "job/netlists.hpp"

#include <algorithm>

#include "job/sha256.hpp"

namespace ringtrue::job {

namespace {

namespace fs = std::filesystem;

struct NamedFile {
  const StoredFile* file;
  std::string name, sha256;
};

/// The files by their names below the netlist's folder, in the order of the names.
Result<std::vector<NamedFile>> named(const fs::path& netlist, const std::vector<StoredFile>& files) {
  const fs::path folder = files_on_disk().is_folder(netlist) ? netlist : netlist.parent_path();
  std::vector<NamedFile> all;
  for (const StoredFile& file : files) {
    const fs::path name = file.path.lexically_normal().lexically_relative(folder.lexically_normal());
    if (name.empty() || *name.begin() == "..")
      return fail({ErrorCode::bad_mapping,
                   "a file lies outside the folder of the mapping file, so that a job cannot hold it",
                   {netlist.string(), 0, "", ""},
                   file.path.string(),
                   "files beside or below the mapping file",
                   {}});
    all.push_back({&file, name.string(), sha256(file.bytes)});
  }
  std::sort(all.begin(), all.end(), [](const NamedFile& a, const NamedFile& b) { return a.name < b.name; });
  return all;
}

std::string sha256_of_all(const std::vector<NamedFile>& files) {
  std::string lines;
  for (const NamedFile& file : files) lines += file.sha256 + "  " + file.name + "\n";
  return sha256(lines);
}

Result<void> insert_files(Database& database, std::int64_t netlist, const std::vector<NamedFile>& files) {
  auto insert = database.prepare(
      "INSERT INTO netlist_file (netlist, path, name, sha256, bytes) VALUES (?, ?, ?, ?, ?)");
  if (!insert) return tl::unexpected(std::move(insert.error()));
  for (const NamedFile& file : files) {
    insert->bind(1, netlist);
    insert->bind(2, file.file->path.string());
    insert->bind(3, file.name);
    insert->bind(4, file.sha256);
    insert->bind_bytes(5, file.file->bytes);
    if (auto done = insert->step(); !done) return tl::unexpected(std::move(done.error()));
  }
  return {};
}

}  // namespace

bool is_below_folder(const fs::path& name) {
  return !name.empty() && name.is_relative() && std::find(name.begin(), name.end(), "..") == name.end();
}

Error changed_bytes(const Database& database, std::string_view file) {
  return {ErrorCode::damaged_job,
          "the job is damaged: a stored file isn't what was loaded",
          {database.name(), 0, "", ""},
          std::string(file),
          "bytes that have its SHA-256; a copy from before may",
          {}};
}

bool KeptFiles::is_there(const fs::path& path) const { return files_on_disk().is_there(path); }
bool KeptFiles::is_folder(const fs::path& path) const { return files_on_disk().is_folder(path); }
std::vector<std::string> KeptFiles::names_in(const fs::path& folder) const {
  return files_on_disk().names_in(folder);
}

Result<FileBytes> KeptFiles::read(const fs::path& path, std::uintmax_t max_bytes) const {
  auto read = files_on_disk().read(path, max_bytes);
  const auto is_it = [&](const StoredFile& file) { return file.path == path; };
  if (read && std::none_of(kept_.begin(), kept_.end(), is_it))
    kept_.push_back({path, std::string(read->view())});
  return read;
}

Result<Appended> store_netlist(Database& database, const fs::path& path, const KeptFiles& files,
                               Rewired how) {
  const auto all = named(path, files.kept());
  if (!all) return tl::unexpected(all.error());
  const std::string sha = sha256_of_all(*all);
  const auto newest = database.cell("SELECT sha256 FROM netlist ORDER BY number DESC LIMIT 1");
  if (!newest) return tl::unexpected(newest.error());
  if (*newest == sha) return Appended::already_there;
  auto insert = database.prepare("INSERT INTO netlist (path, sha256, as_built) VALUES (?, ?, ?)");
  if (!insert) return tl::unexpected(std::move(insert.error()));
  insert->bind(1, path.string());
  insert->bind(2, sha);
  insert->bind(3, std::int64_t{how == Rewired::as_built});
  if (auto done = insert->step(); !done) return tl::unexpected(std::move(done.error()));
  return database.number("SELECT max(number) FROM netlist")
      .and_then([&](std::int64_t number) { return insert_files(database, number, *all); })
      .map([] { return Appended::added; });
}

Result<Netlist> load_stored_netlist(Database& database, std::int64_t number) {
  const std::string its_number = std::to_string(number);
  const auto path = database.cell("SELECT path FROM netlist WHERE number = " + its_number);
  if (!path) return tl::unexpected(path.error());
  auto rows = database.prepare("SELECT path, sha256, bytes FROM netlist_file WHERE netlist = " + its_number +
                               " ORDER BY name");
  if (!rows) return tl::unexpected(std::move(rows.error()));
  std::vector<StoredFile> files;
  for (auto there = rows->step(); !there || *there; there = rows->step()) {
    if (!there) return tl::unexpected(std::move(there.error()));
    StoredFile file{std::string(rows->bytes(0)), std::string(rows->bytes(2))};
    if (sha256(file.bytes) != rows->bytes(1)) return fail(changed_bytes(database, rows->bytes(0)));
    files.push_back(std::move(file));
  }
  return load_netlist(*path, {}, StoredFiles(std::move(files)));
}

Result<EarlierNetlist> load_earlier_netlist(Database& database, std::int64_t number) {
  const auto as_built =
      database.number("SELECT as_built FROM netlist WHERE number = " + std::to_string(number + 1));
  if (!as_built) return tl::unexpected(as_built.error());
  return load_stored_netlist(database, number).map([&](Netlist netlist) {
    return EarlierNetlist{static_cast<std::uint32_t>(number), std::move(netlist), *as_built != 0};
  });
}

Result<std::vector<NetlistMark>> netlist_marks(Database& database) {
  auto rows = database.prepare("SELECT number, sha256 FROM netlist ORDER BY number");
  if (!rows) return tl::unexpected(std::move(rows.error()));
  std::vector<NetlistMark> all;
  for (auto there = rows->step(); !there || *there; there = rows->step()) {
    if (!there) return tl::unexpected(std::move(there.error()));
    all.push_back({static_cast<std::uint32_t>(rows->number(0)), std::string(rows->bytes(1))});
  }
  return all;
}

Result<std::vector<JobNetlist>> stored_netlists(Database& database) {
  auto rows = database.prepare(
      "SELECT netlist.number, netlist.path, netlist.sha256, as_built, name FROM netlist JOIN netlist_file ON "
      "netlist = netlist.number ORDER BY netlist.number, name");
  if (!rows) return tl::unexpected(std::move(rows.error()));
  std::vector<JobNetlist> all;
  std::int64_t last = 0;
  for (auto there = rows->step(); !there || *there; there = rows->step()) {
    if (!there) return tl::unexpected(std::move(there.error()));
    if (rows->number(0) != last)
      all.push_back({std::string(rows->bytes(1)), std::string(rows->bytes(2)), {}, rows->number(3) != 0, 0});
    last = rows->number(0);
    all.back().files.emplace_back(rows->bytes(4));
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto readings =
        database.number("SELECT count(*) FROM reading WHERE ifnull(netlist, 1) = " + std::to_string(i + 1) +
                        " AND " + k_is_current);
    if (!readings) return tl::unexpected(readings.error());
    all[i].readings = static_cast<std::size_t>(*readings);
  }
  return all;
}

}  // namespace ringtrue::job
