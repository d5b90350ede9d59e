#include "settings.hpp"

#include <toml++/toml.h>
#include <fstream>
#include <functional>
#include <iterator>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "ringtrue/base/nearest_names.hpp"

namespace ringtrue::cli {

namespace {

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
  };
  // Just inside 0 and 1: the cost is the logarithm of p / (1 - p).
  for (const PriorRow& row : prior_rows())
    all.push_back({"priors", row.name, 1e-12, 0.5, "a probability above 0 and up to 0.5",
                   [member = row.value](Settings& s, double value) { s.diagnose.priors.*member = value; }});
  return all;
}

const std::vector<Key>& keys() {
  static const std::vector<Key> all = all_keys();
  return all;
}

class SettingsReader {
 public:
  explicit SettingsReader(std::string file) : file_(std::move(file)) {}

  [[nodiscard]] Result<Settings> read(const toml::table& root) {
    for (const auto& [name, node] : root) read_table(name.str(), node);
    if (!errors_.empty()) return tl::unexpected(std::move(errors_));
    return settings_;
  }

 private:
  void read_table(std::string_view name, const toml::node& node) {
    NearestNames nearest(name);
    bool is_known = false;
    for (const std::string_view table : {"copper", "diagnose", "priors"}) {
      nearest.offer(table);
      is_known = is_known || table == name;
    }
    const toml::table* table = node.as_table();
    if (!is_known || table == nullptr) {
      add(ErrorCode::unknown_column, "not a table of the settings", node, std::string(name),
          std::string(name), "[copper], [diagnose] or [priors]", nearest.take());
      return;
    }
    for (const auto& [key, value] : *table) read_key(name, key.str(), value);
  }

  void read_key(std::string_view table, std::string_view name, const toml::node& node) {
    const std::string field = std::string(table) + "." + std::string(name);
    NearestNames nearest(name);
    for (const Key& key : keys()) {
      if (key.table != table) continue;
      nearest.offer(key.name);
      if (key.name != name) continue;
      set(key, field, node);
      return;
    }
    add(ErrorCode::unknown_column, "not a setting", node, field, std::string(name), "", nearest.take());
  }

  void set(const Key& key, const std::string& field, const toml::node& node) {
    const bool is_number = node.is_integer() || (node.is_floating_point() && key.name != "max_faults");
    const double value = is_number ? node.value<double>().value_or(0) : 0;
    // Written so that a NaN, which TOML allows, is out of range as well.
    if (is_number && value >= key.least && value <= key.most) {
      key.set(settings_, value);
      return;
    }
    std::ostringstream found;
    found << toml::node_view<const toml::node>(node);
    add(ErrorCode::bad_number, "a value that does not fit", node, field, found.str(),
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
  Errors errors_;
};

}  // namespace

Result<Settings> read_settings(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  if (!file)
    return fail({ErrorCode::file_unreadable,
                 "the settings file is missing or cannot be read",
                 {path.string(), 0, "", ""},
                 "",
                 "",
                 {}});
  try {
    return SettingsReader(path.string()).read(toml::parse(text, path.string()));
  } catch (const toml::parse_error& error) {
    return fail({ErrorCode::bad_text,
                 "not TOML: " + std::string(error.description()),
                 {path.string(), error.source().begin.line, "", ""},
                 "",
                 "",
                 {}});
  }
}

}  // namespace ringtrue::cli
