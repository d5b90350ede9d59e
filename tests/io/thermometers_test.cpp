#include "ringtrue/io/thermometers.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace ringtrue {
namespace {

struct AtCelsius {
  double celsius, shown;
};

// Source: IEC 60751, ohms of a Pt100; equal to 0.01 Ω to a public table from -200 to 600 °C.
constexpr AtCelsius k_pt100[] = {{-200, 18.520}, {-100, 60.256}, {-50, 80.306},  {0, 100.000},
                                 {20, 107.793},  {50, 119.397},  {100, 138.505}, {150, 157.325},
                                 {200, 175.856}, {300, 212.051}, {400, 247.092}, {500, 280.978},
                                 {600, 313.708}, {850, 390.481}};

// Source: IEC 60584-1:2013 on ITS-90, reference junction 0 °C, mV.
constexpr AtCelsius k_type_k[] = {{0, 0.000},    {25, 1.000},   {100, 4.096},  {200, 8.138},  {250, 10.153},
                                  {300, 12.209}, {400, 16.397}, {500, 20.644}, {600, 24.905}, {700, 29.129},
                                  {800, 33.275}, {900, 37.326}, {1000, 41.276}};
constexpr AtCelsius k_type_j[] = {{0, 0.000},    {25, 1.277},   {100, 5.269},  {200, 10.779},
                                  {300, 16.327}, {400, 21.848}, {500, 27.393}, {600, 33.102},
                                  {700, 39.132}, {800, 45.494}, {900, 51.877}, {1000, 57.953}};

/// The temperature at which `forward` gives `wanted`, by halving; `forward` rises.
template <class Forward>
double inverse(Forward forward, double wanted, double low, double high) {
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    (forward(middle) < wanted ? low : high) = middle;
  }
  return low;
}

TEST(Thermometers, Pt100HasTheOhmsOfIec60751) {
  for (const AtCelsius& row : k_pt100)
    EXPECT_NEAR(*platinum_ohms(row.celsius, 100), row.shown, 0.00051) << row.celsius << " °C";
}

TEST(Thermometers, Pt1000HasTenTimesTheOhmsOfAPt100) {
  for (const AtCelsius& row : k_pt100)
    EXPECT_NEAR(*platinum_ohms(row.celsius, 1000), 10 * row.shown, 0.0051) << row.celsius << " °C";
}

TEST(Thermometers, TypeKHasTheMillivoltsOfIec60584) {
  for (const AtCelsius& row : k_type_k)
    EXPECT_NEAR(*thermocouple_millivolts(Thermocouple::K, row.celsius), row.shown, 0.00051)
        << row.celsius << " °C";
}

TEST(Thermometers, TypeJHasTheMillivoltsOfIec60584) {
  for (const AtCelsius& row : k_type_j)
    EXPECT_NEAR(*thermocouple_millivolts(Thermocouple::J, row.celsius), row.shown, 0.00051)
        << row.celsius << " °C";
}

// A tenth of a microvolt between the pieces: the fits meet within it (NIST Monograph 175).
TEST(Thermometers, PiecesOfAFunctionMeet) {
  for (const auto& [type, joint] : {std::pair(Thermocouple::K, 0.0), std::pair(Thermocouple::J, 760.0)}) {
    const double below = *thermocouple_millivolts(type, std::nextafter(joint, -1e9));
    EXPECT_NEAR(*thermocouple_millivolts(type, joint), below, 1e-4) << joint << " °C";
  }
  EXPECT_NEAR(*platinum_ohms(std::nextafter(0.0, -1.0), 100), 100, 1e-9);
}

TEST(Thermometers, HalvingFindsTheTemperatureBack) {
  const auto pt100 = [](double t) { return *platinum_ohms(t, 100); };
  for (const AtCelsius& row : k_pt100) EXPECT_NEAR(inverse(pt100, row.shown, -200, 850), row.celsius, 0.002);
  const auto k = [](double t) { return *thermocouple_millivolts(Thermocouple::K, t); };
  for (const AtCelsius& row : k_type_k) EXPECT_NEAR(inverse(k, row.shown, -200, 1372), row.celsius, 0.02);
  const auto j = [](double t) { return *thermocouple_millivolts(Thermocouple::J, t); };
  for (const AtCelsius& row : k_type_j) EXPECT_NEAR(inverse(j, row.shown, -200, 1200), row.celsius, 0.02);
}

TEST(Thermometers, NothingIsSaidWhereTheStandardSaysNothing) {
  EXPECT_TRUE(platinum_ohms(-200, 100) && platinum_ohms(850, 100));
  EXPECT_FALSE(platinum_ohms(-200.1, 100) || platinum_ohms(850.1, 100) || platinum_ohms(std::nan(""), 100));
  EXPECT_TRUE(thermocouple_millivolts(Thermocouple::K, -270) &&
              thermocouple_millivolts(Thermocouple::K, 1372));
  EXPECT_FALSE(thermocouple_millivolts(Thermocouple::K, -271) ||
               thermocouple_millivolts(Thermocouple::K, 1373));
  EXPECT_TRUE(thermocouple_millivolts(Thermocouple::J, -210) &&
              thermocouple_millivolts(Thermocouple::J, 1200));
  EXPECT_FALSE(thermocouple_millivolts(Thermocouple::J, -211) ||
               thermocouple_millivolts(Thermocouple::J, 1201));
}

}  // namespace
}  // namespace ringtrue
