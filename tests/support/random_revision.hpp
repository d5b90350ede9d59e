#pragma once
#include <algorithm>
#include <optional>
#include <random>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "tests/support/oracle_revision.hpp"
#include "tests/support/random_panels.hpp"

// Random revisions of random panels, readings of them, and what the rule says of these by names and nets
// alone.

namespace ringtrue::testing {

/// A netlist's text, row by row.
struct Rows {
  std::vector<std::string> conductors, parts;

  explicit Rows(const std::string& text) {
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
      (line.rfind("part ", 0) == 0 ? parts : conductors).push_back(line);
  }
  [[nodiscard]] std::string text() const {
    std::string all;
    for (const auto* rows : {&parts, &conductors})
      for (const std::string& row : *rows) all += row + "\n";
    return all;
  }
};

inline std::vector<std::string> words_in(const std::string& line) {
  std::istringstream in(line);
  std::vector<std::string> words;
  for (std::string word_of; in >> word_of;) words.push_back(word_of);
  return words;
}
inline std::string line_of(const std::vector<std::string>& words) {
  std::string line;
  for (const std::string& word_of : words) line += (line.empty() ? "" : " ") + word_of;
  return line;
}

/// Makes revisions, one change after the other.
class Reviser {
 public:
  explicit Reviser(unsigned seed) : random_(seed) {}

  void rename_and_reorder(Rows& rows) {
    for (std::string& row : rows.conductors) {
      std::vector<std::string> words = words_in(row);
      if (words[0] != "-" && below(2) == 0) words[0] = "n" + std::to_string(++new_numbers_);
      if (below(2) == 0) std::swap(words[1], words[2]);
      row = line_of(words);
    }
    std::shuffle(rows.conductors.begin(), rows.conductors.end(), random_);
    std::shuffle(rows.parts.begin(), rows.parts.end(), random_);
  }
  /// Numbers go round: each is some other conductor's now.
  void exchange_numbers(Rows& rows) {
    std::string first;
    std::string* last = nullptr;
    std::vector<std::vector<std::string>> all;
    for (const std::string& row : rows.conductors) all.push_back(words_in(row));
    for (auto& words : all) {
      if (words[0] == "-") continue;
      if (last == nullptr)
        first = words[0];
      else
        *last = words[0];
      last = &words[0];
    }
    if (last != nullptr) *last = first;
    for (std::size_t i = 0; i < all.size(); ++i) rows.conductors[i] = line_of(all[i]);
  }

  void change(Rows& rows, const std::vector<std::string>& points) {
    const auto some_point = [&] { return points[below(points.size())]; };
    std::string& row = rows.conductors[below(rows.conductors.size())];
    std::vector<std::string> words = words_in(row);
    switch (below(6)) {
      case 0: {  // move an end
        const std::size_t end = 1 + below(2);
        const std::string to = some_point();
        if (to != words[3 - end]) words[end] = to;
        row = line_of(words);
        return;
      }
      case 1:
        if (rows.conductors.size() > 3) std::swap(row, rows.conductors.back()), rows.conductors.pop_back();
        return;
      case 2: {
        const std::string a = some_point(), b = some_point();
        if (a != b) rows.conductors.push_back("n" + std::to_string(++new_numbers_) + " " + a + " " + b);
        return;
      }
      case 3:  // another bridge
        std::erase_if(rows.conductors, [](const std::string& one) { return one.ends_with(" bridge"); });
        if (below(2) == 0) rows.conductors.push_back("- X1:3.int X1:2.ext bridge");
        return;
      case 4:
        for (std::string& part : rows.parts)
          if (part.find(" coil ") != std::string::npos) {
            std::vector<std::string> coil = words_in(part);
            coil[5] = below(2) == 0 ? "520" : "14";
            part = line_of(coil);
          }
        return;
      default:
        for (std::string& part : rows.parts)
          if (part == "part K1 contact-no 11 14") part = "part K1 contact-nc 11 14";
    }
  }

  [[nodiscard]] std::size_t below(std::size_t number) { return random_() % number; }

 private:
  std::mt19937 random_;
  unsigned new_numbers_ = 100;
};

inline std::vector<std::string> points_of(const Netlist& net) {
  std::vector<std::string> names;
  for (std::uint32_t p = 0; p < net.points.size(); ++p) names.push_back(net.points.name(PointId{p}));
  return names;
}

/// A conductor's ends, if no other has the same.
inline std::size_t alike(const Netlist& net, const std::string& from, const std::string& to) {
  std::size_t found = 0;
  for (const Conductor& c : net.conductors)
    found += std::set<std::string>{net.points.name(c.from), net.points.name(c.to)} == std::set{from, to};
  return found;
}

/// One reading before the revision, and the same as the later revision would call it; nothing where that one
/// has no such points or end.
struct Asked {
  OracleReading before;
  std::optional<OracleReading> after;
};

inline std::optional<Asked> some_reading(Reviser& random, const OracleRevision& before,
                                         const OracleRevision& after) {
  const std::vector<std::string> points = points_of(before.net());
  Asked asked;
  asked.before.from = points[random.below(points.size())],
  asked.before.to = points[random.below(points.size())];
  const char* conditions[] = {"", "", "K1=operated", "X1:1=out", "K1=unplugged"};
  asked.before.condition = conditions[random.below(std::size(conditions))];
  asked.after = asked.before;
  if (random.below(4) == 0) {
    const auto row = random.below(before.net().conductors.size());
    const Conductor& c = before.net().conductors[row];
    const std::string clamp = before.net().points.name(c.from), other = before.net().points.name(c.to);
    const std::string wire(before.net().conductor_text.get(ConductorText::wire, row));
    if (wire.empty() || alike(before.net(), clamp, other) != 1 || alike(after.net(), clamp, other) > 1)
      return std::nullopt;
    const auto lifted = [&](OracleReading& reading, const std::string& number) {
      reading.from = number + "@" + clamp, reading.condition = number + "@" + clamp + "=lifted";
    };
    lifted(asked.before, wire);
    asked.after.reset();
    for (std::size_t i = 0; i < after.net().conductors.size(); ++i) {
      const Conductor& now = after.net().conductors[i];
      const std::string number(after.net().conductor_text.get(ConductorText::wire, i));
      if (now.kind != c.kind || number.empty() ||
          std::set<std::string>{after.net().points.name(now.from), after.net().points.name(now.to)} !=
              std::set{clamp, other})
        continue;
      asked.after = asked.before;
      lifted(*asked.after, number);
    }
  }
  if (asked.before.from == asked.before.to) return std::nullopt;
  const OracleRevision::Seen seen = before.seen(asked.before);
  const bool beeps = seen.can_beep && seen.can_be_silent ? random.below(2) == 0 : seen.can_beep;
  const bool is_wrong = random.below(10) == 0;
  asked.before.kind = beeps != is_wrong ? ValueKind::beep : ValueKind::open;
  if (random.below(3) == 0) {
    asked.before.kind = ValueKind::ohms;
    const OracleRevision::Seen in_ohms = before.seen(asked.before);
    if (std::isinf(in_ohms.lowest)) return std::nullopt;  // a meter shows no number
    asked.before.ohms =
        std::isinf(in_ohms.highest) ? in_ohms.lowest + 1 : (in_ohms.lowest + in_ohms.highest) / 2;
  }
  if (asked.after) {
    asked.after->kind = asked.before.kind, asked.after->ohms = asked.before.ohms;
    if (!after.has_point(asked.after->to) ||
        (asked.after->from.find('@') == std::string::npos && !after.has_point(asked.after->from)))
      asked.after.reset();
  }
  return asked;
}

/// What the rule says, by the oracle; nothing where it can't tell.
inline std::optional<bool> still_stands(const Asked& asked, const OracleRevision& before,
                                        const OracleRevision& after) {
  if (!asked.after) return false;
  const OracleRevision::Seen was = before.seen(asked.before), is = after.seen(*asked.after);
  for (const std::optional<bool> same :
       {OracleRevision::is_same(was, is), was.is_same_without_touched, is.is_same_without_touched})
    if (!same || !*same) return same;
  if (asked.before.kind == ValueKind::ohms || (asked.before.kind == ValueKind::beep && was.is_one_net))
    return true;
  return was.on_nets == is.on_nets && !was.touches_net && !is.touches_net;
}

/// As a line of `testing::readings`.
inline std::string line_of(const OracleReading& reading) {
  const std::string value = reading.kind == ValueKind::ohms   ? std::to_string(reading.ohms)
                            : reading.kind == ValueKind::beep ? "beep"
                                                              : "open";
  return reading.from + " " + reading.to + " " + value + " " +
         (reading.condition.empty() ? "-" : reading.condition);
}

inline std::string some_panel(unsigned seed) {
  return seed % 2 == 0 ? random_small_panel(seed) : random_netlist(seed);
}

}  // namespace ringtrue::testing
