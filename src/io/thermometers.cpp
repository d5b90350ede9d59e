#include "ringtrue/io/thermometers.hpp"

#include <array>
#include <cmath>
#include <span>

namespace ringtrue {

namespace {

// Coefficients in the order of the powers; those of the thermocouples as NIST Monograph 175 prints them.

double polynomial(std::span<const double> coefficients, double x) {
  double sum = 0;
  for (auto c = coefficients.rbegin(); c != coefficients.rend(); ++c) sum = sum * x + *c;
  return sum;
}

constexpr std::array k_k_below_zero = {0.000000000000E+00,  0.394501280250E-01,  0.236223735980E-04,
                                       -0.328589067840E-06, -0.499048287770E-08, -0.675090591730E-10,
                                       -0.574103274280E-12, -0.310888728940E-14, -0.104516093650E-16,
                                       -0.198892668780E-19, -0.163226974860E-22};
constexpr std::array k_k_above_zero = {
    -0.176004136860E-01, 0.389212049750E-01, 0.185587700320E-04,  -0.994575928740E-07, 0.318409457190E-09,
    -0.560728448890E-12, 0.560750590590E-15, -0.320207200030E-18, 0.971511471520E-22,  -0.121047212750E-25};
constexpr std::array k_j_to_760 = {0.000000000000E+00,  0.503811878150E-01,  0.304758369300E-04,
                                   -0.856810657200E-07, 0.132281952950E-09,  -0.170529583370E-12,
                                   0.209480906970E-15,  -0.125383953360E-18, 0.156317256970E-22};
constexpr std::array k_j_from_760 = {0.296456256810E+03,  -0.149761277860E+01, 0.317871039240E-02,
                                     -0.318476867010E-05, 0.157208190040E-08,  -0.306913690560E-12};

double type_k(double celsius) {
  if (celsius < 0) return polynomial(k_k_below_zero, celsius);
  const double away = celsius - 126.9686;
  return polynomial(k_k_above_zero, celsius) + 0.1185976 * std::exp(-0.1183432E-03 * away * away);
}

double type_j(double celsius) {
  return celsius < 760 ? polynomial(k_j_to_760, celsius) : polynomial(k_j_from_760, celsius);
}

}  // namespace

std::optional<double> platinum_ohms(double celsius, double ohms_at_zero) {
  constexpr double k_a = 3.9083e-3, k_b = -5.775e-7, k_c = -4.183e-12;
  if (!(celsius >= -200 && celsius <= 850)) return std::nullopt;
  double ratio = 1 + k_a * celsius + k_b * celsius * celsius;
  if (celsius < 0) ratio += k_c * (celsius - 100) * celsius * celsius * celsius;
  return ohms_at_zero * ratio;
}

std::optional<double> thermocouple_millivolts(Thermocouple type, double celsius) {
  const bool is_k = type == Thermocouple::K;
  if (!(celsius >= (is_k ? -270 : -210) && celsius <= (is_k ? 1372 : 1200))) return std::nullopt;
  return is_k ? type_k(celsius) : type_j(celsius);
}

}  // namespace ringtrue
