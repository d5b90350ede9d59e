#include "rules.hpp"

#include <array>

namespace ringtrue {

namespace {

using namespace check;

struct RuleRow {
  Rule rule;
  void (*run)(const Drawing&, Found&);
};

constexpr Severity error = Severity::error, warning = Severity::warning, notice = Severity::notice;
constexpr std::string_view k_practice = "common practice, no source";

constexpr RuleRow k_rules[] = {
    {{"wire-number-on-two-nets", error, "One wire number stands on two nets.",
      "IEC 60204-1, 13.2.1: each conductor identifiable as documented (an extract seen)"},
     wire_number_on_two_nets},
    {{"net-under-several-numbers", warning,
      "A net carries several wire numbers where the set numbers by potential.", k_practice},
     net_under_several_numbers},
    {{"listed-twice", warning, "A conductor is listed twice.", k_practice}, listed_twice},
    {{"part-listed-twice", error,
      "A part is listed twice with the same pins, which counts as two side by side.", k_practice},
     part_listed_twice},
    {{"both-ends-the-same", error, "A conductor has the same point at both ends.", k_practice},
     both_ends_the_same},
    {{"core-used-twice", error, "A core of a cable is used twice.", k_practice}, core_used_twice},
    {{"point-on-no-part", warning, "A conductor lands on a point that no part of the drawing has.",
      k_practice},
     point_on_no_part},
    {{"point-not-drawn", warning, "A channel or a potential names a point that no other row has.",
      k_practice},
     point_not_drawn},
    {{"dangling-conductor", warning, "A conductor ends where nothing leads on.", k_practice},
     dangling_conductor},
    {{"conductors-per-side", warning, "One side of a terminal holds more conductors than the limit.",
      "IEC 60204-1, 13.1.1: only as many as the terminal is made for (an extract seen); the limit is common "
      "practice"},
     conductors_per_side},
    {{"bridge-between-non-neighbours", warning, "A bridge joins terminals that are no neighbours.",
      k_practice},
     bridge_between_non_neighbours},
    {{"conductors-in-a-ring", notice,
      "Conductors lie parallel or in a ring: no end-to-end reading shows a break.",
      "follows from the drawing alone"},
     conductors_in_a_ring},
    {{"unconnected-channel", warning, "A channel in use has no conductor.", k_practice}, unconnected_channel},
    {{"channel-without-field-terminal", warning,
      "The channel list names no field terminal, and the wiring shows none.", k_practice},
     channel_without_field_terminal},
    {{"channel-list-disagrees", error, "The wiring does not lead to the field terminal of the channel list.",
      k_practice},
     channel_list_disagrees},
    {{"two-channels-on-one-net", error, "Two channels are joined by copper.", k_practice},
     two_channels_on_one_net},
    {{"duplicate-address", error, "Two channels have one address.", k_practice}, duplicate_address},
    {{"duplicate-tag", error, "Two channels have one tag.", k_practice}, duplicate_tag},
    {{"sense-against-wiring", error, "A channel sinks or sources against the potentials it is wired to.",
      "IEC 61131-2: current sinking and sourcing (from memory)"},
     sense_against_wiring},
    {{"sensor-against-channel", error, "A sensor does not fit its channel.",
      "PNP feeds a sinking input, NPN a sourcing one: common practice, no source"},
     sensor_against_channel},
    {{"feed-against-channel", warning, "A device feeds its loop, or is fed, against its channel.",
      k_practice},
     feed_against_channel},
    {{"potentials-joined", error, "Two potentials are joined without a load between them.", k_practice},
     potentials_joined},
    {{"like-potentials-joined", warning, "Two potentials of one kind are joined.", k_practice},
     like_potentials_joined},
    {{"potential-joined-to-pe", notice, "A minus or a neutral is joined to the protective conductor.",
      k_practice},
     potential_joined_to_pe},
    {{"pe-not-continuous", error, "A protective conductor does not lead to PE.",
      "IEC 60204-1, clause 8.2: continuity of the protective bonding circuit (from memory)"},
     pe_not_continuous},
    {{"pe-not-green-yellow", warning, "A protective conductor is not green-and-yellow.",
      "IEC 60204-1, 13.2.2 (an extract seen); NFPA 79: green, with or without yellow (quotations seen)"},
     pe_not_green_yellow},
    {{"green-yellow-not-pe", warning, "A green-and-yellow conductor is no protective conductor.",
      "IEC 60204-1, 13.2.2 (from memory)"},
     green_yellow_not_pe},
    {{"protective-conductors-per-terminal", warning,
      "One side of a PE terminal holds more than one protective conductor.",
      "IEC 60204-1, 13.1.1 (an extract seen)"},
     protective_conductors_per_terminal},
    {{"colour-against-circuit", notice, "The colour of a wire is not the one for its circuit.",
      "IEC 60204-1, 13.2.4, a recommendation; NFPA 79 (extracts and quotations seen)"},
     colour_against_circuit},
    {{"small-fuse-without-ohms", notice, "A fuse below 0.25 A has no ohms: a beep may fail through it.",
      "an estimate: small fuses have some 1 to 30 ohms"},
     small_fuse_without_ohms},
    {{"conductor-below-its-fuse", warning, "A conductor behind a fuse is smaller than its current asks for.",
      "IEC 60204-1, table 6, in free air (from memory): a question for a licensed person, never an approval"},
     conductor_below_its_fuse},
    {{"contact-number-against-kind", warning, "The numbers of a contact contradict its kind, make or break.",
      "EN 50005: x1-x2 break, x3-x4 make, x1-x2-x4 changeover (teaching pages seen)"},
     contact_number_against_kind},
    {{"contact-actuated-by-nothing", warning, "Nothing on the drawing moves a contact.", k_practice},
     contact_actuated_by_nothing},
    {{"coil-actuates-nothing", warning, "A coil in the panel moves no contact.", k_practice},
     coil_actuates_nothing},
    {{"safety-not-stated", warning, "The drawing does not say whether its safety circuits are marked.",
      k_practice},
     safety_not_stated},
    {{"safety-against-roles", error, "What the drawing says of its safety circuits is not what its rows say.",
      k_practice},
     safety_against_roles},
    {{"missing-sheet", warning, "A row has no sheet where others have one.", k_practice}, missing_sheet},
};

constexpr auto k_public_rules = []() {
  std::array<Rule, std::size(k_rules)> all{};
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = k_rules[i].rule;
  return all;
}();

}  // namespace

std::span<const Rule> rules() { return k_public_rules; }

std::optional<std::size_t> find_rule(std::string_view id) {
  for (std::size_t i = 0; i < k_public_rules.size(); ++i)
    if (k_public_rules[i].id == id) return i;
  return std::nullopt;
}

CheckOptions::CheckOptions() {
  for (const Rule& rule : rules()) severities.emplace_back(rule.severity);
}

void check::run_rules(const Drawing& drawing, std::vector<Problem>& problems) {
  for (std::size_t i = 0; i < std::size(k_rules); ++i) {
    if (!drawing.options.severities[i]) continue;
    Found found(i, *drawing.options.severities[i], problems);
    k_rules[i].run(drawing, found);
  }
}

}  // namespace ringtrue
