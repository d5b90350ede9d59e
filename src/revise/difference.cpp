// Rows are put together in rounds, each by a key that is looser than the one before; what finds its like
// leaves the later rounds. In a round, rows with one key go together in the order of their descriptions.
#include "ringtrue/revise/difference.hpp"

#include <algorithm>
#include <deque>
#include <tuple>
#include <unordered_map>

#include "described.hpp"
#include "listings.hpp"

namespace ringtrue {

std::string_view word(Change change) {
  constexpr std::string_view k_words[] = {"same",    "renumbered", "completed", "moved",
                                          "changed", "new",        "gone"};
  return k_words[static_cast<std::size_t>(change)];
}

bool Difference::is_electrically_same() const {
  const auto is_touched = [](std::uint8_t touched) { return touched != 0; };
  return potentials.empty() && std::none_of(touched_before.begin(), touched_before.end(), is_touched) &&
         std::none_of(touched_after.begin(), touched_after.end(), is_touched) &&
         std::find(element_after.begin(), element_after.end(), ElementId::none) == element_after.end();
}

namespace {

/// Puts rows of the two revisions together.
template <class Described>
class Matching {
 public:
  Matching(std::vector<Described> before, std::vector<Described> after)
      : before_(std::move(before)), after_(std::move(after)) {}

  /// Rows with a key in common belong together; `keys_of` gives those of a row, none to leave it out.
  template <class KeysOf>
  void pair_up(Change change, KeysOf keys_of) {
    pair_up(change, keys_of, keys_of);
  }
  template <class KeysBefore, class KeysAfter>
  void pair_up(Change change, KeysBefore keys_before, KeysAfter keys_after) {
    std::unordered_map<std::string, std::deque<std::size_t>> waiting;
    for (std::size_t i = 0; i < before_.size(); ++i)
      for (std::string& key : keys_before(before_[i])) waiting[std::move(key)].push_back(i);
    std::vector<std::uint8_t> before_used(before_.size(), 0), after_used(after_.size(), 0);
    for (std::size_t i = 0; i < after_.size(); ++i)
      for (const std::string& key : keys_after(after_[i])) {
        const auto at = waiting.find(key);
        if (at == waiting.end() || after_used[i] != 0) continue;
        while (!at->second.empty() && before_used[at->second.front()] != 0) at->second.pop_front();
        if (at->second.empty()) continue;
        const std::size_t found = at->second.front();
        before_used[found] = after_used[i] = 1;
        rows_.push_back({change, before_[found].element, after_[i].element});
      }
    drop(before_, before_used), drop(after_, after_used);
  }

  /// The rest is gone or new.
  [[nodiscard]] std::vector<ChangedRow> finish() {
    for (const Described& row : before_) rows_.push_back({Change::gone, row.element, ElementId::none});
    for (const Described& row : after_) rows_.push_back({Change::added, ElementId::none, row.element});
    std::sort(rows_.begin(), rows_.end(), [](const ChangedRow& x, const ChangedRow& y) {
      return std::tie(x.before, x.after) < std::tie(y.before, y.after);
    });
    return std::move(rows_);
  }

 private:
  static void drop(std::vector<Described>& rows, const std::vector<std::uint8_t>& used) {
    std::size_t kept = 0;
    for (std::size_t i = 0; i < rows.size(); ++i)
      if (used[i] == 0) {
        if (kept != i) rows[kept] = std::move(rows[i]);
        ++kept;
      }
    rows.resize(kept);
  }

  std::vector<Described> before_, after_;
  std::vector<ChangedRow> rows_;
};

using Keys = std::vector<std::string>;

std::vector<ChangedRow> all_conductors(const ConductionGraph& before, const ConductionGraph& after,
                                       const PartNames& names) {
  using Row = DescribedConductor;
  Matching<Row> rows(described_conductors(before, names), described_conductors(after, {}));
  const auto ends = [](const Row& row) { return row.ends() + "\n"; };
  const auto numbered = [](const Row& row) { return row.ends() + "\n" + row.number + "\n"; };
  const auto made = [](auto place) { return [=](const Row& row) { return Keys{place(row) + row.make()}; }; };
  const auto made_before = [](auto place) {
    return [=](const Row& row) {
      Keys keys = row.makes_before();
      for (std::string& key : keys) key = place(row) + key;
      return keys;
    };
  };
  rows.pair_up(Change::same, made(numbered));
  rows.pair_up(Change::completed, made(numbered), made_before(numbered));
  rows.pair_up(Change::renumbered, made(ends));
  rows.pair_up(Change::renumbered, made(ends), made_before(ends));
  rows.pair_up(Change::changed, [&](const Row& row) { return Keys{numbered(row)}; });
  rows.pair_up(Change::moved, [](const Row& row) { return row.id.empty() ? Keys{} : Keys{row.id}; });
  rows.pair_up(Change::moved, [](const Row& row) {
    return row.number.empty() ? Keys{} : Keys{row.number + "\n" + row.from, row.number + "\n" + row.to};
  });
  return rows.finish();
}

std::vector<ChangedRow> all_elements(const ConductionGraph& before, const ConductionGraph& after,
                                     const PartNames& names) {
  Matching<DescribedElement> rows(described_elements(before, names), described_elements(after, {}));
  rows.pair_up(Change::same, [](const auto& row) { return Keys{row.place + "\n" + row.make}; });
  rows.pair_up(Change::changed, [](const auto& row) { return Keys{row.place}; });
  return rows.finish();
}

std::vector<PointId> points_after(const PointTable& before, const PointTable& after, const PartNames& names) {
  std::vector<PointId> all(before.size(), PointId::none);
  for (std::uint32_t i = 0; i < all.size(); ++i) {
    const PlaceId place = before.place(PointId{i});
    const auto found = after.find_place(names.place(before.place_name(place)));
    if (found && after.has_sides(*found) == before.has_sides(place))
      all[i] = after.point(*found, before.side(PointId{i}));
  }
  return all;
}

/// Fills in the difference row by row.
class Gathering {
 public:
  Gathering(const ConductionGraph& before, const ConductionGraph& after, const PartNames& names)
      : before_(before), after_(after) {
    made_.element_after.assign(before.element_count(), ElementId::none);
    made_.point_after = points_after(before.netlist().points, after.netlist().points, names);
    made_.touched_before.assign(before.point_count(), 0);
    made_.touched_after.assign(after.point_count(), 0);
  }

  void add_conductor(const ChangedRow& row) {
    if (row.change <= Change::completed)
      made_.element_after[index(row.before)] = row.after;
    else
      touch_ends(row);
    row.change == Change::same ? void(++made_.same_conductors) : made_.conductors.push_back(row);
  }

  /// What the graph adds by itself (implied bodies, feet on the rail, channels' electronics) opens no clamp.
  void add_element(const ChangedRow& row) {
    if (row.change == Change::same) made_.element_after[index(row.before)] = row.after;
    const bool is_part = is_part_row(before_, row.before) || is_part_row(after_, row.after);
    if (!is_part) return;
    if (row.change == Change::same) return void(++made_.same_parts);
    row.change == Change::changed ? touch_part(row) : touch_ends(row);
    made_.parts.push_back(row);
  }

  /// A clamp that was opened is touched under its name in both revisions.
  [[nodiscard]] Difference finish() {
    for (std::uint32_t i = 0; i < made_.point_after.size(); ++i) {
      if (made_.point_after[i] == PointId::none) continue;
      std::uint8_t &before = made_.touched_before[i],
                   &after = made_.touched_after[index(made_.point_after[i])];
      before = after = before | after;
    }
    return std::move(made_);
  }

 private:
  static bool is_part_row(const ConductionGraph& graph, ElementId e) {
    return e != ElementId::none && graph.origin(e).from == ElementOrigin::From::part;
  }
  static void touch(std::vector<std::uint8_t>& touched, PointId p) {
    if (p != PointId::none) touched[index(p)] = 1;
  }
  void touch_ends(const ChangedRow& row) {
    const auto ends = [](const ConductionGraph& graph, std::vector<std::uint8_t>& touched, ElementId e) {
      if (e == ElementId::none) return;
      touch(touched, graph.end_a(e)), touch(touched, graph.end_b(e));
    };
    ends(before_, made_.touched_before, row.before), ends(after_, made_.touched_after, row.after);
  }
  /// A terminal is exchanged alone, and any other part whole.
  void touch_part(const ChangedRow& row) {
    touch_ends(row);
    const auto whole = [](const ConductionGraph& graph, std::vector<std::uint8_t>& touched, ElementId e) {
      const ElementOrigin origin = graph.origin(e);
      if (origin.from != ElementOrigin::From::part || graph.netlist().parts[origin.row].strip_like) return;
      for (const PointId p : graph.points_of_part(graph.end_a(e))) touch(touched, p);
    };
    whole(before_, made_.touched_before, row.before), whole(after_, made_.touched_after, row.after);
  }

  const ConductionGraph &before_, &after_;
  Difference made_;
};

}  // namespace

Difference difference(const ConductionGraph& before, const ConductionGraph& after) {
  std::vector<RenamedPart> renamed = renamed_parts(before, after);
  const PartNames names = names_after(renamed);
  Gathering gathering(before, after, names);
  for (const ChangedRow& row : all_conductors(before, after, names)) gathering.add_conductor(row);
  for (const ChangedRow& row : all_elements(before, after, names)) gathering.add_element(row);
  Difference made = gathering.finish();
  made.renamed = std::move(renamed);
  made.channels = changed_channels(before, after, made);
  made.potentials = changed_potentials(before, after, made);
  return made;
}

}  // namespace ringtrue
