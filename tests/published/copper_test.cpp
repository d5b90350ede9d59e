// Conductor resistance against published tables. The values are restated from public reproductions of the
// standards; no standard was read in its official text.
#include "ringtrue/graph/copper.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "ringtrue/model/number.hpp"

namespace ringtrue {
namespace {

using enum StrandingClass;
using enum CopperCoating;

struct Iec60228Row {
  double mm2, class_2_plain, class_2_coated, class_5_plain, class_5_coated;
};
// IEC 60228:2004 (ed. 3), table 2 (class 2) and table 3 (class 5), maximum DC resistance at 20 °C in ohms per
// kilometre.
constexpr Iec60228Row k_iec_60228[] = {
    {0.5, 36.0, 36.7, 39.0, 40.1},    {0.75, 24.5, 24.8, 26.0, 26.7},   {1, 18.1, 18.2, 19.5, 20.0},
    {1.5, 12.1, 12.2, 13.3, 13.7},    {2.5, 7.41, 7.56, 7.98, 8.21},    {4, 4.61, 4.70, 4.95, 5.09},
    {6, 3.08, 3.11, 3.30, 3.39},      {10, 1.83, 1.84, 1.91, 1.95},     {16, 1.15, 1.16, 1.21, 1.24},
    {25, 0.727, 0.734, 0.780, 0.795}, {35, 0.524, 0.529, 0.554, 0.565}, {50, 0.387, 0.391, 0.386, 0.393},
    {70, 0.268, 0.270, 0.272, 0.277}, {95, 0.193, 0.195, 0.206, 0.210}, {120, 0.153, 0.154, 0.161, 0.164}};

TEST(Iec60228, TablesTwoAndThree) {
  for (const Iec60228Row& row : k_iec_60228) {
    EXPECT_EQ(iec_60228_ohms_per_km(row.mm2, class_2, plain), row.class_2_plain) << row.mm2;
    EXPECT_EQ(iec_60228_ohms_per_km(row.mm2, class_2, coated), row.class_2_coated) << row.mm2;
    EXPECT_EQ(iec_60228_ohms_per_km(row.mm2, class_5, plain), row.class_5_plain) << row.mm2;
    EXPECT_EQ(iec_60228_ohms_per_km(row.mm2, class_5, coated), row.class_5_coated) << row.mm2;
  }
}

TEST(Iec60228, TheTableBeginsAtHalfASquareMillimetre) {
  for (const double mm2 : {0.14, 0.25, 0.34, 150.0}) EXPECT_FALSE(iec_60228_ohms_per_km(mm2, class_5, plain));
}

TEST(Iec60228, TheGreatestOfASizeIsNeverBelowAnyColumn) {
  for (const Iec60228Row& row : k_iec_60228)
    for (const double column : {row.class_2_plain, row.class_2_coated, row.class_5_plain, row.class_5_coated})
      EXPECT_GE(greatest_ohms_per_km(row.mm2), column);
  EXPECT_EQ(greatest_ohms_per_km(0.5), 40.1);
}

// A size outside the table is taken as 1.2 times solid copper: that has to cover what the table itself does.
TEST(Iec60228, NoSizeOfTheTableIsAbove1_2TimesSolidCopper) {
  for (const Iec60228Row& row : k_iec_60228)
    EXPECT_LE(row.class_5_coated, 1.2 * solid_copper_ohms_per_km(row.mm2)) << row.mm2;
}

// Exact formula k_t = 254.5 / (234.5 + t) (annex of a national adoption of IEC 60228), R_t = R20 / k_t;
// worked with class 5 plain.
TEST(Iec60228, TemperatureCorrection) {
  struct Worked {
    double length_m, mm2, at_5, at_20, at_40;
  };
  constexpr Worked k_worked[] = {{10, 1, 0.1835, 0.1950, 0.2103},
                                 {25, 0.75, 0.6117, 0.6500, 0.7011},
                                 {3, 0.5, 0.1101, 0.1170, 0.1262},
                                 {50, 1.5, 0.6258, 0.6650, 0.7173}};
  for (const Worked& worked : k_worked) {
    const double per_km = *iec_60228_ohms_per_km(worked.mm2, class_5, plain);
    const auto at = [&](double celsius) {
      return greatest_conductor_ohms(per_km, worked.length_m, {celsius, 0}).value;
    };
    EXPECT_NEAR(at(5), worked.at_5, 5.1e-5);
    EXPECT_NEAR(at(20), worked.at_20, 5.1e-5);
    EXPECT_NEAR(at(40), worked.at_40, 5.1e-5);
  }
  constexpr std::pair<double, double> k_exact[] = {
      {5, 1.0626}, {10, 1.0409}, {25, 0.9807}, {40, 0.9271}, {75, 0.8223}};
  for (const auto& [celsius, factor] : k_exact)
    EXPECT_NEAR(1 / copper_temperature_factor(celsius), factor, 5.1e-5) << celsius;
}

// The tabulated factors of the same standard follow alpha = 0.004 and are 0.1 to 0.3 % off the exact ones.
TEST(Iec60228, TheTabulatedFactorsAreAnotherFormula) {
  constexpr std::pair<double, double> k_tabulated[] = {
      {5, 1.064}, {10, 1.042}, {25, 0.980}, {40, 0.926}, {75, 0.820}};
  for (const auto& [celsius, factor] : k_tabulated) {
    EXPECT_NEAR(250 / (230 + celsius), factor, 5.1e-4);
    EXPECT_NEAR(1 / copper_temperature_factor(celsius), factor, 4e-3);
  }
}

// ASTM B258 gives the diameters (formula from memory); cross-sections and ohms per kilometre of solid
// annealed copper at 20 °C as two public wire tables print them.
TEST(AstmB258, CrossSectionAndResistance) {
  struct Gauge {
    const char* name;
    double mm2, ohms_per_km;
  };
  constexpr Gauge k_gauges[] = {{"24", 0.2047, 84.21},  {"22", 0.3255, 52.96},  {"20", 0.5176, 33.31},
                                {"18", 0.8230, 20.95},  {"16", 1.309, 13.17},   {"14", 2.081, 8.285},
                                {"12", 3.309, 5.211},   {"10", 5.261, 3.277},   {"8", 8.366, 2.061},
                                {"6", 13.30, 1.296},    {"4", 21.15, 0.8152},   {"3", 26.67, 0.6464},
                                {"2", 33.63, 0.5127},   {"1", 42.41, 0.4066},   {"1/0", 53.48, 0.3224},
                                {"2/0", 67.43, 0.2557}, {"3/0", 85.03, 0.2028}, {"4/0", 107.2, 0.1608}};
  constexpr double k_four_digits = 5e-4;  // half of the last of four digits, at worst
  for (const Gauge& gauge : k_gauges) {
    const auto number = parse_awg(gauge.name);
    ASSERT_TRUE(number) << gauge.name;
    const double mm2 = awg_mm2(*number);
    EXPECT_NEAR(mm2, gauge.mm2, gauge.mm2 * k_four_digits) << gauge.name;
    EXPECT_NEAR(solid_copper_ohms_per_km(mm2), gauge.ohms_per_km, gauge.ohms_per_km * k_four_digits)
        << gauge.name;
  }
}

// NFPA 70 (NEC) chapter 9, table 8: stranded uncoated copper at 75 °C, ohms per 1000 ft. Brought to 20 °C by
// the table's own note, R2 = R1 * (1 + 0.00323 * (T2 - 75)), and to kilometres (1 ft = 0.3048 m).
TEST(NecTable8, StrandedGaugesStayBelowWhatIsAssumed) {
  constexpr std::pair<int, double> k_stranded[] = {
      {18, 7.95}, {16, 4.99}, {14, 3.14}, {12, 1.98}, {10, 1.24},   {8, 0.778},   {6, 0.491},  {4, 0.308},
      {3, 0.245}, {2, 0.194}, {1, 0.154}, {0, 0.122}, {-1, 0.0967}, {-2, 0.0766}, {-3, 0.0608}};
  for (const auto& [gauge, per_kft] : k_stranded) {
    const double at_20 = per_kft / 0.3048 * (1 + 0.00323 * (20 - 75));
    EXPECT_LE(at_20, greatest_awg_ohms_per_km(gauge)) << gauge;
    EXPECT_GE(at_20, 0.98 * greatest_awg_ohms_per_km(gauge) / 1.05) << gauge;
  }
}

}  // namespace
}  // namespace ringtrue
