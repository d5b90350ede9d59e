#include "listings.hpp"

#include <cmath>
#include <map>

#include "part_names.hpp"

namespace ringtrue {

namespace {

using Fields = std::vector<std::pair<std::string_view, std::string>>;

/// What a row says, its points and parts by their later names.
struct Listing {
  std::string point, address, tag;  ///< of a potential its name, alone
  Fields fields;
};

std::string number_text(double number) {
  if (std::isnan(number)) return {};
  std::string text = std::to_string(number);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

/// Later names of what the earlier revision has; of the later one, its own.
class LaterNames {
 public:
  explicit LaterNames(const Netlist& after) : after_(after) {}
  LaterNames(const Netlist& before, const Netlist& after, const Difference& difference)
      : before_(&before), after_(after), difference_(&difference), parts_(names_after(difference.renamed)) {}

  [[nodiscard]] std::string point(PointId p) const {
    if (p == PointId::none) return {};
    if (before_ == nullptr) return after_.points.name(p);
    const PointId now = difference_->point_after[index(p)];
    return now == PointId::none ? before_->points.name(p) : after_.points.name(now);
  }
  [[nodiscard]] std::string part(std::string_view name) const { return parts_.part(name); }

 private:
  const Netlist* before_ = nullptr;
  const Netlist& after_;
  const Difference* difference_ = nullptr;
  PartNames parts_;
};

Listing listing_of(const Channel& c, const LaterNames& names) {
  Listing made{names.point(c.point), std::string(c.address), std::string(c.tag), {}};
  const auto text = [](auto value) { return std::string(value); };
  made.fields = {{"type", text(word(c.type))},
                 {"address", made.address},
                 {"tag", made.tag},
                 {"field", names.point(c.field)},
                 {"return", names.point(c.return_point)},
                 {"common", names.point(c.common)},
                 {"device", names.part(c.device)},
                 {"feed", text(word(c.feed))},
                 {"normal", c.normal ? (*c.normal ? "1" : "0") : ""},
                 {"sense", text(word(c.sense))},
                 {"sensor", text(word(c.sensor))},
                 {"signal", text(c.signal)},
                 {"unit", text(c.unit)},
                 {"low", number_text(c.low)},
                 {"high", number_text(c.high)},
                 {"raw_low", number_text(c.raw_low)},
                 {"raw_high", number_text(c.raw_high)},
                 {"module", names.part(c.module)},
                 {"led", text(c.led)},
                 {"role", text(word(c.role))}};
  return made;
}

Listing listing_of(const Potential& p, const LaterNames& names) {
  return {std::string(p.name),
          {},
          {},
          {{"kind", std::string(word(p.kind))},
           {"volts", number_text(p.volts)},
           {"point", names.point(p.point)}}};
}

ChangedListing change_between(const Listing& was, const Listing& is) {
  ChangedListing changed{was.point == is.point ? Change::changed : Change::moved, is.point, {}};
  if (was.point != is.point) changed.fields.push_back({"point", was.point, is.point});
  for (std::size_t i = 0; i < was.fields.size(); ++i)
    if (was.fields[i].second != is.fields[i].second)
      changed.fields.push_back({was.fields[i].first, was.fields[i].second, is.fields[i].second});
  return changed;
}

std::vector<ChangedListing> changes(std::vector<Listing> before, std::vector<Listing> after) {
  std::vector<ChangedListing> all;
  for (std::string Listing::*key : {&Listing::point, &Listing::address, &Listing::tag}) {
    std::map<std::string, std::size_t> at;
    for (std::size_t i = 0; i < after.size(); ++i)
      if (!(after[i].*key).empty()) at.emplace(after[i].*key, i);
    std::vector<bool> used(after.size(), false);
    std::erase_if(before, [&](const Listing& was) {
      const auto found = at.find(was.*key);
      if (found == at.end() || used[found->second]) return false;
      used[found->second] = true;
      ChangedListing changed = change_between(was, after[found->second]);
      if (!changed.fields.empty()) all.push_back(std::move(changed));
      return true;
    });
    std::vector<Listing> left;
    for (std::size_t i = 0; i < after.size(); ++i)
      if (!used[i]) left.push_back(std::move(after[i]));
    after = std::move(left);
  }
  for (const Listing& was : before) all.push_back({Change::gone, was.point, {}});
  for (const Listing& is : after) all.push_back({Change::added, is.point, {}});
  return all;
}

template <class Row>
std::vector<ChangedListing> changed_rows(const std::vector<Row>& was, const std::vector<Row>& is,
                                         const ConductionGraph& before, const ConductionGraph& after,
                                         const Difference& difference) {
  std::vector<Listing> old_rows, new_rows;
  const LaterNames old_names(before.netlist(), after.netlist(), difference), new_names(after.netlist());
  for (const Row& row : was) old_rows.push_back(listing_of(row, old_names));
  for (const Row& row : is) new_rows.push_back(listing_of(row, new_names));
  return changes(std::move(old_rows), std::move(new_rows));
}

}  // namespace

std::vector<ChangedListing> changed_channels(const ConductionGraph& before, const ConductionGraph& after,
                                             const Difference& difference) {
  return changed_rows(before.netlist().channels, after.netlist().channels, before, after, difference);
}

std::vector<ChangedListing> changed_potentials(const ConductionGraph& before, const ConductionGraph& after,
                                               const Difference& difference) {
  return changed_rows(before.netlist().potentials, after.netlist().potentials, before, after, difference);
}

}  // namespace ringtrue
