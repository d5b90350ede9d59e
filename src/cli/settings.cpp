#include "settings.hpp"

#include <algorithm>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "ringtrue/base/nearest_names.hpp"
#include "toml_file.hpp"

namespace ringtrue::cli {

namespace {

constexpr std::string_view k_priors = "priors";

/// One key that a settings file may hold: where its value goes and what it may be.
struct Key {
  std::string_view table, name;
  double least, most;
  std::string_view expected;
  std::function<void(Settings&, double)> set;
};

/// A copy of the table of priors, and what else can be set.
std::vector<Key> all_keys() {
  std::vector<Key> all = {
      {"copper", "hottest_c", -50, 200, "degrees Celsius from -50 to 200",
       [](Settings& s, double v) { s.copper.hottest_c = v; }},
      {"copper", "length_tolerance", 0, 10, "a share from 0 to 10",
       [](Settings& s, double v) { s.copper.length_tolerance = v; }},
      {"diagnose", "max_faults", 1, 9, "a number from 1 to 9",
       [](Settings& s, double v) { s.diagnose.max_faults = static_cast<std::size_t>(v); }},
      {"diagnose", "least_share", 0, 1, "a share from 0 to 1",
       [](Settings& s, double v) { s.diagnose.least_share = v; }},
      {"diagnose", "least_single_share", 0, 1, "a share from 0 to 1",
       [](Settings& s, double v) { s.diagnose.least_single_share = v; }},
  };
  // Just inside 0 and 1: the cost is the logarithm of p / (1 - p).
  for (const PriorRow& row : prior_rows())
    all.push_back({k_priors, row.name, 1e-12, 0.5, "a probability above 0 and up to 0.5",
                   [member = row.value](Settings& s, double value) { s.diagnose.priors.*member = value; }});
  return all;
}

const std::vector<Key>& keys() {
  static const std::vector<Key> all = all_keys();
  return all;
}

class SettingsReader {
 public:
  /// `tables`: those that the file may have.
  SettingsReader(std::string file, const Settings& settings, std::vector<std::string> tables)
      : file_(std::move(file)), settings_(settings), tables_(std::move(tables)) {}

  [[nodiscard]] Result<Settings> read(const toml::table& root) {
    for (const auto& [name, node] : root) read_table(name.str(), node);
    return take();
  }
  /// The same for keys of the only table that stand at the top, without a heading.
  [[nodiscard]] Result<Settings> read_at_top(const toml::table& root) {
    for (const auto& [name, node] : root)
      if (node.is_table())
        read_table(name.str(), node);
      else
        read_key(tables_.front(), name.str(), std::string(name.str()), node);
    return take();
  }

 private:
  [[nodiscard]] Result<Settings> take() {
    if (!errors_.empty()) return tl::unexpected(std::move(errors_));
    return settings_;
  }

  void read_table(std::string_view name, const toml::node& node) {
    const toml::table* table = node.as_table();
    if (table == nullptr || std::find(tables_.begin(), tables_.end(), name) == tables_.end())
      return refuse_table(name, node);
    for (const auto& [key, value] : *table)
      read_key(name, key.str(), std::string(name) + "." + std::string(key.str()), value);
  }

  void refuse_table(std::string_view name, const toml::node& node) {
    NearestNames nearest(name);
    std::string expected;
    for (const std::string& table : tables_) {
      nearest.offer(table);
      if (!expected.empty()) expected += table == tables_.back() ? " or " : ", ";
      expected += "[" + table + "]";
    }
    add(ErrorCode::unknown_column, "not a table of the settings", node, std::string(name), std::string(name),
        expected, nearest.take());
  }

  void read_key(std::string_view table, std::string_view name, const std::string& field,
                const toml::node& node) {
    NearestNames nearest(name);
    for (const Key& key : keys()) {
      if (key.table != table) continue;
      nearest.offer(key.name);
      if (key.name == name) return set(key, field, node);
    }
    add(ErrorCode::unknown_column, table == k_priors ? "not a prior" : "not a setting", node, field,
        std::string(name), "", nearest.take());
  }

  void set(const Key& key, const std::string& field, const toml::node& node) {
    const bool is_number = node.is_integer() || (node.is_floating_point() && key.name != "max_faults");
    const double value = is_number ? node.value<double>().value_or(0) : 0;
    // Written so that a NaN, which TOML allows, is out of range as well.
    if (is_number && value >= key.least && value <= key.most) {
      key.set(settings_, value);
      return;
    }
    add(ErrorCode::bad_number, "a value that does not fit", node, field, text_of(node),
        std::string(key.expected), {});
  }

  void add(ErrorCode code, std::string message, const toml::node& node, std::string field, std::string found,
           std::string expected, std::vector<std::string> nearest) {
    errors_.push_back({code,
                       std::move(message),
                       {file_, node.source().begin.line, "", std::move(field)},
                       std::move(found),
                       std::move(expected),
                       std::move(nearest)});
  }

  std::string file_;
  Settings settings_;
  std::vector<std::string> tables_;
  Errors errors_;
};

}  // namespace

Result<Settings> read_settings(const std::filesystem::path& path) {
  return parse_toml_file(path, "the settings file").and_then([&](const toml::table& root) {
    return SettingsReader(path.string(), {}, {"copper", "diagnose", std::string(k_priors)}).read(root);
  });
}

Result<Priors> read_priors(const std::filesystem::path& path, const Priors& priors) {
  Settings settings;
  settings.diagnose.priors = priors;
  return parse_toml_file(path, "the file of priors")
      .and_then([&](const toml::table& root) {
        SettingsReader reader(path.string(), settings, {std::string(k_priors)});
        return root.contains(k_priors) ? reader.read(root) : reader.read_at_top(root);
      })
      .map([](const Settings& read) { return read.diagnose.priors; });
}

}  // namespace ringtrue::cli
