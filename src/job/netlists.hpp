#pragma once
#include <filesystem>
#include <vector>

#include "job/database.hpp"
#include "ringtrue/job/job.hpp"

namespace ringtrue::job {

/// The disk; keeps the bytes of each file that is read, so that what is stored is what was loaded.
class KeptFiles final : public Files {
 public:
  [[nodiscard]] bool is_there(const std::filesystem::path& path) const override;
  [[nodiscard]] bool is_folder(const std::filesystem::path& path) const override;
  [[nodiscard]] std::vector<std::string> names_in(const std::filesystem::path& folder) const override;
  [[nodiscard]] Result<FileBytes> read(const std::filesystem::path& path,
                                       std::uintmax_t max_bytes) const override;
  /// Each file once.
  [[nodiscard]] const std::vector<StoredFile>& kept() const { return kept_; }

 private:
  mutable std::vector<StoredFile> kept_;
};

/// Whether a stored name stays below the folder that it is written to.
[[nodiscard]] bool is_below_folder(const std::filesystem::path& name);
/// Stored bytes that aren't those that were loaded.
[[nodiscard]] Error changed_bytes(const Database& database, std::string_view file);

/// Adds a revision within a transaction of the caller. `path`: as the user named the netlist.
/// @errors bad_mapping (a file lies outside the netlist's folder); those of Database.
[[nodiscard]] Result<Appended> store_netlist(Database& database, const std::filesystem::path& path,
                                             const KeptFiles& files, Rewired how = Rewired::yes);

/// A revision by its number, loaded from the stored bytes.
/// @errors damaged_job (bytes that don't have their SHA-256); as `load_netlist`.
[[nodiscard]] Result<Netlist> load_stored_netlist(Database& database, std::int64_t number);
/// The same of one before the newest.
[[nodiscard]] Result<EarlierNetlist> load_earlier_netlist(Database& database, std::int64_t number);

/// What rows are marked with, by number, with the whole SHA-256.
[[nodiscard]] Result<std::vector<NetlistMark>> netlist_marks(Database& database);

/// Of readings: those that count.
inline constexpr const char* k_is_current =
    "reading.value IS NOT NULL AND "
    "NOT EXISTS (SELECT 1 FROM reading AS later WHERE later.supersedes = reading.id)";

/// All revisions, oldest first.
[[nodiscard]] Result<std::vector<JobNetlist>> stored_netlists(Database& database);

}  // namespace ringtrue::job
