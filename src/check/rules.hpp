#pragma once
#include "drawing.hpp"

// Each function is one rule; src/check/rules.cpp has the table that names them. What a rule says, and by
// which standard, stands there.

namespace ringtrue::check {

/// Runs every rule that is not off, in the order of the table.
void run_rules(const Drawing& drawing, std::vector<Problem>& problems);

/// Which numbering the drawing keeps: see NumberingFound.
[[nodiscard]] NumberingFound find_numbering(const Drawing& drawing);

// numbering.cpp
void wire_number_on_two_nets(const Drawing& drawing, Found& found);
void net_under_several_numbers(const Drawing& drawing, Found& found);

// rows.cpp
void listed_twice(const Drawing& drawing, Found& found);
void both_ends_the_same(const Drawing& drawing, Found& found);
void core_used_twice(const Drawing& drawing, Found& found);
void part_listed_twice(const Drawing& drawing, Found& found);
void missing_sheet(const Drawing& drawing, Found& found);
void safety_not_stated(const Drawing& drawing, Found& found);
void safety_against_roles(const Drawing& drawing, Found& found);

// ends.cpp
void point_on_no_part(const Drawing& drawing, Found& found);
void point_not_drawn(const Drawing& drawing, Found& found);
void dangling_conductor(const Drawing& drawing, Found& found);
void conductors_per_side(const Drawing& drawing, Found& found);
void bridge_between_non_neighbours(const Drawing& drawing, Found& found);

// rings.cpp
void conductors_in_a_ring(const Drawing& drawing, Found& found);

// channels.cpp
void unconnected_channel(const Drawing& drawing, Found& found);
void channel_without_field_terminal(const Drawing& drawing, Found& found);
void channel_list_disagrees(const Drawing& drawing, Found& found);
void two_channels_on_one_net(const Drawing& drawing, Found& found);
void duplicate_address(const Drawing& drawing, Found& found);
void duplicate_tag(const Drawing& drawing, Found& found);

// signals.cpp
void sense_against_wiring(const Drawing& drawing, Found& found);
void sensor_against_channel(const Drawing& drawing, Found& found);
void feed_against_channel(const Drawing& drawing, Found& found);

// potentials.cpp
void potentials_joined(const Drawing& drawing, Found& found);
void like_potentials_joined(const Drawing& drawing, Found& found);
void potential_joined_to_pe(const Drawing& drawing, Found& found);

// protective.cpp
void pe_not_continuous(const Drawing& drawing, Found& found);
void pe_not_green_yellow(const Drawing& drawing, Found& found);
void green_yellow_not_pe(const Drawing& drawing, Found& found);
void protective_conductors_per_terminal(const Drawing& drawing, Found& found);

// colours.cpp
void colour_against_circuit(const Drawing& drawing, Found& found);

// fuses.cpp
void small_fuse_without_ohms(const Drawing& drawing, Found& found);
void conductor_below_its_fuse(const Drawing& drawing, Found& found);

// contacts.cpp
void contact_number_against_kind(const Drawing& drawing, Found& found);
void contact_actuated_by_nothing(const Drawing& drawing, Found& found);
void coil_actuates_nothing(const Drawing& drawing, Found& found);

}  // namespace ringtrue::check
