// Contacts, what moves them, and how they are numbered.
#include <algorithm>
#include <cctype>
#include <unordered_map>
#include <unordered_set>

#include "rules.hpp"

namespace ringtrue::check {

namespace {

bool is_contact(const Part& part) {
  return part.kind == PartKind::contact_no || part.kind == PartKind::contact_nc;
}

/// The function digit of a contact number: 3 of `13`, 2 of `112`. Nothing for a single digit, which is a main
/// pole, and for anything that is no number.
std::optional<int> function_digit(std::string_view pin) {
  const bool is_number = std::all_of(pin.begin(), pin.end(), [](unsigned char c) { return std::isdigit(c); });
  if (pin.size() < 2 || !is_number) return std::nullopt;
  return pin.back() - '0';
}

/// What the numbers of a contact say that it is. Digits from 5 up (delayed, late and overload contacts) are
/// read one way and the other, so they say nothing here.
std::optional<PartKind> kind_by_numbers(std::string_view a, std::string_view b) {
  auto first = function_digit(a), second = function_digit(b);
  if (!first || !second) return std::nullopt;
  if (*first > *second) std::swap(first, second);
  const auto is = [&](int x, int y) { return *first == x && *second == y; };
  if (is(1, 2)) return PartKind::contact_nc;
  if (is(3, 4) || is(1, 4)) return PartKind::contact_no;
  return std::nullopt;
}

/// The letters of a designation: `K` of `K10` and of `=GD2-K10`.
std::string_view letters_of(std::string_view name) {
  if (const std::size_t dash = name.rfind('-'); dash != std::string_view::npos) name.remove_prefix(dash + 1);
  const auto end =
      std::find_if(name.begin(), name.end(), [](unsigned char c) { return std::isalpha(c) == 0; });
  return name.substr(0, static_cast<std::size_t>(end - name.begin()));
}

/// What the rows of one part are.
struct Rows {
  std::uint32_t first_contact = 0;
  bool has_own_contact = false;  ///< moved by the part itself
  bool has_coil = false;
  bool has_other = false;  ///< any other row, or a selector's contact
};

std::unordered_map<std::string_view, Rows> rows_by_part(const Netlist& netlist) {
  std::unordered_map<std::string_view, Rows> all;
  for (std::uint32_t i = 0; i < netlist.parts.size(); ++i) {
    const Part& part = netlist.parts[i];
    Rows& rows = all[part.part];
    if (part.kind == PartKind::coil)
      rows.has_coil = true;
    else if (!is_contact(part) || !part.closed_in.empty() || part.actuated_by != part.part)
      rows.has_other = true;
    else if (!rows.has_own_contact)
      rows.has_own_contact = true, rows.first_contact = i;
  }
  return all;
}

/// A letter says nothing by itself; it does where at least 4 in 5 parts of that letter that have contacts of
/// their own also have a coil, and at least four of them (estimates).
class LettersOfRelays {
 public:
  explicit LettersOfRelays(const std::unordered_map<std::string_view, Rows>& parts) {
    for (const auto& [name, rows] : parts)
      if (rows.has_own_contact) ++(rows.has_coil ? with_coil_ : without_)[letters_of(name)];
  }
  [[nodiscard]] bool has(std::string_view letters) const {
    const auto count = [&](const Counts& counts) {
      const auto at = counts.find(letters);
      return at == counts.end() ? std::size_t{0} : at->second;
    };
    return count(with_coil_) >= 4 && count(with_coil_) >= 4 * count(without_);
  }

 private:
  using Counts = std::unordered_map<std::string_view, std::size_t>;
  Counts with_coil_, without_;
};

}  // namespace

void contact_number_against_kind(const Drawing& drawing, Found& found) {
  for (std::uint32_t i = 0; i < drawing.netlist.parts.size(); ++i) {
    const Part& part = drawing.netlist.parts[i];
    // A selector's contact closes in its positions, whatever its kind.
    if (!is_contact(part) || !part.closed_in.empty()) continue;
    const auto numbered =
        kind_by_numbers(pin_of_place(drawing.place(part.a)), pin_of_place(drawing.place(part.b)));
    if (!numbered || *numbered == part.kind) continue;
    const bool is_make = *numbered == PartKind::contact_no;
    found.add("Its numbers say that it is a " + std::string(is_make ? "make (NO)" : "break (NC)") +
                  " contact, its kind is " + std::string(word(part.kind)) + ".",
              {drawing.part_row(i)});
  }
}

void contact_actuated_by_nothing(const Drawing& drawing, Found& found) {
  const auto parts = rows_by_part(drawing.netlist);
  const LettersOfRelays relays(parts);
  for (std::uint32_t i = 0; i < drawing.netlist.parts.size(); ++i) {
    const Part& part = drawing.netlist.parts[i];
    if (!is_contact(part)) continue;
    if (part.actuated_by != part.part) {
      if (!parts.contains(part.actuated_by))
        found.add("It is said to be moved by " + std::string(part.actuated_by) + ", which has no row.",
                  {drawing.part_row(i)});
      continue;
    }
    const Rows& rows = parts.at(part.part);
    if (rows.first_contact == i && rows.has_own_contact && !rows.has_coil && !rows.has_other &&
        relays.has(letters_of(part.part)))
      found.add(std::string(part.part) + " has contacts and no coil, unlike the other parts of letter " +
                    std::string(letters_of(part.part)) + ".",
                {drawing.part_row(i)});
  }
}

void coil_actuates_nothing(const Drawing& drawing, Found& found) {
  std::unordered_set<std::string_view> movers;
  for (const Part& part : drawing.netlist.parts)
    if (is_contact(part)) movers.insert(part.actuated_by);
  for (std::uint32_t i = 0; i < drawing.netlist.parts.size(); ++i) {
    const Part& part = drawing.netlist.parts[i];
    // A coil in the field is a valve or a starter whose contacts are not of this panel.
    if (part.kind == PartKind::coil && part.place != PartPlace::field && !movers.contains(part.part))
      found.add("No contact of the drawing is moved by " + std::string(part.part) + ".",
                {drawing.part_row(i)});
  }
}

}  // namespace ringtrue::check
