#pragma once
#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "load/bridges.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::load {

/// What a spreadsheet may have made of a name: `a date` of terminal 1-2 (`2-Jan`, `01.02.2024`), `a time of
/// day` of strip 12, terminal 30 (`12:30:00`), `a number with an exponent` of 3E5 (`3.00E+05`). Nothing where
/// the text can well be a name; zeros that were lost can't be seen. General knowledge, no source.
[[nodiscard]] std::optional<std::string_view> spreadsheet_damage(std::string_view name);

/// A quick look that lets nearly all other names go: what stands behind the part's colon is too short, or
/// begins with another character than dates and numbers do.
[[nodiscard]] inline bool may_be_damaged(std::string_view name) {
  static constexpr auto k_starts = [] {
    std::array<bool, 256> starts{};
    for (const char start : std::string_view("0123456789jfmasondJFMASOND"))
      starts[static_cast<unsigned char>(start)] = true;
    return starts;
  }();
  std::size_t end = name.size();
  if (end == 8 && name[2] == ':') return true;
  if (end > 4 && name[end - 4] == '.' && (name[end - 3] == 'i' || name[end - 3] == 'e')) end -= 4;
  std::size_t begin = end;
  while (begin > 0 && name[begin - 1] != ':') --begin;
  return end - begin >= 4 && k_starts[static_cast<unsigned char>(name[begin])];
}

/// Fields of a row that hold names.
template <class Row>
[[nodiscard]] std::vector<FieldOf<Row>> name_fields();

/// Tells of names that a spreadsheet may have changed. They are taken as they stand and never guessed back.
template <class Row>
class DamageWatch {
 public:
  DamageWatch() : fields_(name_fields<Row>()) {}

  /// The first few of a file are told one by one.
  void look_at(const Row& row, std::string_view file, std::uint32_t line, NetlistBuilder& builder) {
    constexpr std::size_t k_most_told = 20;
    for (const FieldOf<Row>& field : fields_) {
      const std::string_view name = row.*(field.member);
      if (!may_be_damaged(name)) continue;
      const auto damage = spreadsheet_damage(name);
      if (!damage || told_ == k_most_told) continue;
      ++told_;
      Note note{"\"" + std::string(name) + "\" looks like " + std::string(*damage) +
                    ": a spreadsheet may have changed the name; export the list again as text",
                {std::string(file), line, "", std::string(field.name)}};
      builder.add_note(std::move(note));
    }
  }

 private:
  std::vector<FieldOf<Row>> fields_;
  std::size_t told_ = 0;
};

}  // namespace ringtrue::load
