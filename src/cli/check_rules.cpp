#include "check_rules.hpp"

#include <algorithm>
#include <utility>
#include <vector>

#include "ringtrue/base/nearest_names.hpp"
#include "toml_file.hpp"

namespace ringtrue::cli {

namespace {

constexpr std::string_view k_top_keys[] = {"numbering", "colours", "conductors_per_side", "rules"};

class CheckRulesReader {
 public:
  explicit CheckRulesReader(std::string file) : file_(std::move(file)) {}

  [[nodiscard]] Result<CheckOptions> read(const toml::table& root) {
    for (const auto& [key, node] : root) read_key(key.str(), node);
    if (errors_.empty()) return options_;
    // The library gives keys by name; a person reads from the top.
    std::stable_sort(errors_.begin(), errors_.end(),
                     [](const Error& a, const Error& b) { return a.place.line < b.place.line; });
    return tl::unexpected(std::move(errors_));
  }

 private:
  void read_key(std::string_view key, const toml::node& node) {
    if (key == "numbering")
      read_word(key, node, options_.numbering, {Numbering::per_conductor, Numbering::per_potential});
    else if (key == "colours")
      read_word(key, node, options_.colours, {ColourProfile::iec_60204_1, ColourProfile::nfpa_79});
    else if (key == "conductors_per_side")
      read_limit(key, node);
    else if (key == "rules" && node.is_table())
      for (const auto& [id, severity] : *node.as_table()) read_rule(id.str(), severity);
    else
      refuse_key(key, node);
  }

  void refuse_key(std::string_view key, const toml::node& node) {
    if (key == "rules") return refuse_value(key, node, "a table [rules]");
    NearestNames nearest(key);
    for (const std::string_view known : k_top_keys) nearest.offer(known);
    add(ErrorCode::unknown_column, "not a key of a rules file", key, node, std::string(key), "",
        nearest.take());
  }

  void read_limit(std::string_view key, const toml::node& node) {
    const auto value = node.is_integer() ? node.value<std::int64_t>() : std::nullopt;
    if (value && *value >= 1 && *value <= 99)
      options_.conductors_per_side = static_cast<std::size_t>(*value);
    else
      refuse_value(key, node, "a whole number from 1 to 99");
  }

  template <class Enum>
  void read_word(std::string_view key, const toml::node& node, Enum& into, std::pair<Enum, Enum> known) {
    const auto text = node.value<std::string_view>();
    for (const Enum value : {known.first, known.second}) {
      if (text != word(value)) continue;
      into = value;
      return;
    }
    refuse_value(key, node, std::string(word(known.first)) + " or " + std::string(word(known.second)));
  }

  void read_rule(std::string_view id, const toml::node& node) {
    const std::string field = "rules." + std::string(id);
    const auto rule = find_rule(id);
    if (!rule) {
      NearestNames nearest(id);
      for (const Rule& known : rules()) nearest.offer(known.id);
      return add(ErrorCode::unknown_column, "not a rule", field, node, std::string(id), "", nearest.take());
    }
    const auto text = node.value<std::string_view>();
    if (text == "off") {
      options_.severities[*rule].reset();
      return;
    }
    for (const Severity severity : {Severity::notice, Severity::warning, Severity::error}) {
      if (text != word(severity)) continue;
      options_.severities[*rule] = severity;
      return;
    }
    refuse_value(field, node, "off, notice, warning or error");
  }

  void refuse_value(std::string_view field, const toml::node& node, std::string expected) {
    add(ErrorCode::bad_number, "a value that does not fit", field, node, text_of(node), std::move(expected),
        {});
  }

  void add(ErrorCode code, std::string message, std::string_view field, const toml::node& node,
           std::string found, std::string expected, std::vector<std::string> nearest) {
    errors_.push_back({code,
                       std::move(message),
                       {file_, node.source().begin.line, "", std::string(field)},
                       std::move(found),
                       std::move(expected),
                       std::move(nearest)});
  }

  std::string file_;
  CheckOptions options_;
  Errors errors_;
};

}  // namespace

Result<CheckOptions> read_check_rules(const std::filesystem::path& path) {
  return parse_toml_file(path, "the rules file").and_then([&](const toml::table& root) {
    return CheckRulesReader(path.string()).read(root);
  });
}

}  // namespace ringtrue::cli
