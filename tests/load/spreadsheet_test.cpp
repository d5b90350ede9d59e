#include "load/spreadsheet.hpp"

#include <gtest/gtest.h>

#include <string>

#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

// What spreadsheets make of `1-2`, `3/2`, `12:30`, `3E5` and `171E2` on opening and saving: general
// knowledge, tried by hand in none.
TEST(LoadSpreadsheet, ChangedNamesAreRecognised) {
  for (const char* date : {"2-Jan", "01-Feb", "02. Jan", "2. M\xC3\xA4r", "Jan-24", "01.02.2024", "1/2/24",
                           "2/13/2024", "2024-01-02", "X1:2-Jan", "X1:2-Jan.int", "02.Mai", "3-Okt-2024"})
    EXPECT_EQ(load::spreadsheet_damage(date), "a date") << date;
  EXPECT_EQ(load::spreadsheet_damage("12:30:00"), "a time of day");
  for (const char* number : {"3.00E+05", "1,71E+04", "3E+05", "X1:3.00E+05", "1E-03"})
    EXPECT_EQ(load::spreadsheet_damage(number), "a number with an exponent") << number;
}

TEST(LoadSpreadsheet, NamesAsTheyAreInDrawingsAreLeftAlone) {
  for (const char* name :
       {"",      "1",   "007",     "1-2",      "X1:5",     "X1:1-2",      "12:30",     "A1:0.3",   "X1:12o",
        "24VDC", "3E5", "K1.1:53", "W12.3",    "1.2.3",    "=GD1+A-X1:5", "-X3:2.int", "L1/L2/L3", "M1-U",
        "MAR1",  "Mai", "Dec:1",   "101-12-1", "32.13.24", "E+05",        "4E+5x",     "2.0.1"})
    EXPECT_EQ(load::spreadsheet_damage(name), std::nullopt) << name;
}

TEST(LoadSpreadsheet, RowIsNamedAndTheTextTakenAsItStands) {
  const ScopedTempFolder folder;
  const auto netlist =
      load_netlist(folder.write("w.csv", "wire,from,to\n3.00E+05,K1:A1,X1:2.int\n1,K1:A2,2-Jan:1\n"));
  ASSERT_TRUE(netlist) << errors_of(netlist, folder);
  constexpr std::string_view k_note =
      "w.csv:2: \"3.00E+05\" looks like a number with an exponent: a spreadsheet may have changed the name; "
      "export the list again as text";
  EXPECT_EQ(notes_of(netlist->notes, folder).substr(0, k_note.size()), k_note);
  EXPECT_EQ(netlist->conductor_text.get(ConductorText::wire, 0), "3.00E+05");
}

}  // namespace
}  // namespace ringtrue
