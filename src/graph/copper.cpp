#include "ringtrue/graph/copper.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

namespace ringtrue {

namespace {

/// One row of tables 2 and 3 of IEC 60228:2004, ohms per kilometre at 20 °C.
struct TableRow {
  double mm2, class_2_plain, class_2_coated, class_5_plain, class_5_coated;
};

constexpr TableRow k_table[] = {
    {0.5, 36.0, 36.7, 39.0, 40.1},    {0.75, 24.5, 24.8, 26.0, 26.7},   {1, 18.1, 18.2, 19.5, 20.0},
    {1.5, 12.1, 12.2, 13.3, 13.7},    {2.5, 7.41, 7.56, 7.98, 8.21},    {4, 4.61, 4.70, 4.95, 5.09},
    {6, 3.08, 3.11, 3.30, 3.39},      {10, 1.83, 1.84, 1.91, 1.95},     {16, 1.15, 1.16, 1.21, 1.24},
    {25, 0.727, 0.734, 0.780, 0.795}, {35, 0.524, 0.529, 0.554, 0.565}, {50, 0.387, 0.391, 0.386, 0.393},
    {70, 0.268, 0.270, 0.272, 0.277}, {95, 0.193, 0.195, 0.206, 0.210}, {120, 0.153, 0.154, 0.161, 0.164},
};

const TableRow* row_of(double mm2) {
  const auto at = std::find_if(std::begin(k_table), std::end(k_table),
                               [mm2](const TableRow& row) { return std::abs(row.mm2 - mm2) < 1e-6; });
  return at == std::end(k_table) ? nullptr : at;
}

constexpr double k_outside_the_table = 1.2;
constexpr double k_stranded_gauge = 1.05;

}  // namespace

std::optional<double> iec_60228_ohms_per_km(double mm2, StrandingClass stranding, CopperCoating coating) {
  const TableRow* row = row_of(mm2);
  if (row == nullptr) return std::nullopt;
  const bool plain = coating == CopperCoating::plain;
  if (stranding == StrandingClass::class_2) return plain ? row->class_2_plain : row->class_2_coated;
  return plain ? row->class_5_plain : row->class_5_coated;
}

double awg_mm2(int gauge) {
  const double diameter_mm = 0.127 * std::pow(92.0, (36.0 - gauge) / 39.0);
  return std::numbers::pi / 4 * diameter_mm * diameter_mm;
}

double solid_copper_ohms_per_km(double mm2) { return 17.241 / mm2; }

double copper_temperature_factor(double celsius) { return (234.5 + celsius) / 254.5; }

double greatest_ohms_per_km(double mm2) {
  if (const TableRow* row = row_of(mm2))
    return std::max({row->class_2_plain, row->class_2_coated, row->class_5_plain, row->class_5_coated});
  return k_outside_the_table * solid_copper_ohms_per_km(mm2);
}

double greatest_awg_ohms_per_km(int gauge) {
  return k_stranded_gauge * solid_copper_ohms_per_km(awg_mm2(gauge));
}

Ohms greatest_conductor_ohms(double ohms_per_km, double length_m, const CopperSettings& settings) {
  return Ohms{ohms_per_km * length_m / 1000 * (1 + settings.length_tolerance) *
              copper_temperature_factor(settings.hottest_c)};
}

}  // namespace ringtrue
