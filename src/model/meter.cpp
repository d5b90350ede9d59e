#include "ringtrue/model/meter.hpp"

#include <algorithm>

#include "ringtrue/model/number.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

Ohms beep_limit(const MeterSettings& meter) {
  return Ohms{std::max(0.0, meter.threshold.value - meter.lead_ohms.value_or(Ohms{0}).value)};
}

OhmInterval circuit_ohms(double shown, const MeterSettings& meter) {
  const double stated = meter.lead_ohms.value_or(Ohms{0}).value;
  const double contact = meter.lead_ohms ? k_probe_contact_ohms : k_unstated_lead_ohms;
  const double uncertain = shown * meter.accuracy + k_last_digit_ohms;
  return {Ohms{std::max(0.0, shown - uncertain - stated - contact)},
          Ohms{std::max(0.0, shown + uncertain - stated)}};
}

OhmInterval shown_ohms(OhmInterval circuit, const MeterSettings& meter) {
  const double stated = meter.lead_ohms.value_or(Ohms{0}).value;
  const double contact = meter.lead_ohms ? k_probe_contact_ohms : k_unstated_lead_ohms;
  const auto in_range = [&](double shown) {
    return Ohms{shown > meter.range.value ? k_infinite_ohms.value : std::max(0.0, shown)};
  };
  return {in_range((circuit.lo.value + stated - k_last_digit_ohms) / (1 + meter.accuracy)),
          in_range((circuit.hi.value + stated + contact + k_last_digit_ohms) / (1 - meter.accuracy))};
}

namespace {

/// Reads one row's fields; keeps the first thing that is wrong.
class MeterFields {
 public:
  MeterFields(std::uint32_t line, std::string_view file) : line_(line), file_(file) {}

  template <class Target>
  void ohms(std::string_view field, std::string_view text, double least, Target& target) {
    if (text.empty()) return;
    const auto value = parse_value(text);
    if (value && value->kind == ValueKind::ohms && value->number >= least)
      target = Ohms{value->number};
    else
      wrong(field, text, least > 0 ? "ohms above 0, such as 30 or 60M" : "ohms of at least 0, such as 0.2");
  }

  void share(std::string_view text, double& target) {
    if (text.empty()) return;
    const bool per_cent = text.ends_with('%');
    const auto value = parse_number(trimmed(per_cent ? text.substr(0, text.size() - 1) : text));
    const double share = value.value_or(-1) / (per_cent ? 100 : 1);
    if (share >= 0 && share < 1)
      target = share;
    else
      wrong("accuracy", text, "a share below 1, such as 0.02 or 2%");
  }

  void wrong(std::string_view field, std::string_view found, std::string expected) {
    if (!errors_.empty()) return;
    errors_.push_back({found.empty() ? ErrorCode::missing_field : ErrorCode::bad_number,
                       found.empty() ? "the meter has no name" : "not a value that fits here",
                       {std::string(file_), line_, "", std::string(field)},
                       std::string(found),
                       std::move(expected),
                       {}});
  }
  [[nodiscard]] Errors& errors() { return errors_; }

 private:
  std::uint32_t line_;
  std::string_view file_;
  Errors errors_;
};

}  // namespace

Result<Meter> meter_from_row(const MeterRow& row, std::uint32_t line, std::string_view file) {
  Meter meter;
  meter.line = line;
  meter.name = row.meter, meter.kind = row.kind, meter.serial = row.serial;
  meter.calibrated_until = row.calibrated_until;
  MeterFields fields(line, file);
  if (row.meter.empty()) fields.wrong("meter", "", "the name by which readings call it");
  fields.ohms("threshold", row.threshold, 1e-3, meter.settings.threshold);
  fields.ohms("range", row.range, 1e-3, meter.settings.range);
  fields.ohms("lead_ohms", row.lead_ohms, 0, meter.settings.lead_ohms);
  fields.share(row.accuracy, meter.settings.accuracy);
  if (meter.settings.lead_ohms && *meter.settings.lead_ohms >= meter.settings.threshold)
    fields.wrong("lead_ohms", row.lead_ohms, "less than the threshold, or the meter never beeps");
  if (!fields.errors().empty()) return tl::unexpected(std::move(fields.errors()));
  return meter;
}

}  // namespace ringtrue
