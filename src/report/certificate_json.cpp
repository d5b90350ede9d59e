#include "certificate_json.hpp"

#include "fault_keys.hpp"

namespace ringtrue::report {

namespace {

constexpr std::array<std::string_view, k_fates> k_fate_keys = {"revealed", "left_out", "uncertain", "hidden"};

void write_counts(JsonWriter& json, const Certificate& certificate) {
  json.begin_array();
  for (std::size_t kind = 0; kind < k_fault_kinds; ++kind) {
    if (static_cast<FaultKind>(kind) == FaultKind::bad_reading) continue;
    json.begin_object().key("kind").text(word(static_cast<FaultKind>(kind)));
    for (std::size_t fate = 0; fate < k_fates; ++fate)
      json.key(k_fate_keys[fate]).number(certificate.counts[kind][fate]);
    json.end_object();
  }
  json.end_array();
}

void write_proposed(JsonWriter& json, const CertificateReport& report, const ProposedReading& reading) {
  const ConditionOverlay& made = report.comparison.conditions.overlays[reading.condition];
  json.begin_object().key("from").text(point_name(reading.from, made, report.graph));
  json.key("to").text(point_name(reading.to, made, report.graph));
  json.key("conditions").text(report.readings.conditions[reading.condition]);
  json.key("expect").text(reading.expected == ValueKind::ohms ? "ohms"
                                                              : to_text(ReadingValue{reading.expected, 0}));
  json.end_object();
}

void write_open(JsonWriter& json, const CertificateReport& report, const CertifiedFault& one) {
  json.begin_object();
  write_fault_keys(json, one.fault.kind, fault_parts(one.fault, report.graph, report.readings));
  json.key("fate").text(word(one.fate)).key("why");
  if (one.why == WhyHidden::none)
    json.null();
  else
    json.text(word(one.why));
  json.key("proposed");
  if (one.fate == Fate::hidden)
    json.null();
  else
    write_proposed(json, report, report.certificate.proposed[one.proposed]);
  json.end_object();
}

}  // namespace

void write_certificate(JsonWriter& json, const CertificateReport* report) {
  if (report == nullptr) {
    json.null();
    return;
  }
  json.begin_object().key("not_asked").number(report->certificate.not_asked).key("counts");
  write_counts(json, report->certificate);
  json.key("open").begin_array();
  for (const CertifiedFault& one : report->certificate.open) write_open(json, *report, one);
  json.end_array().end_object();
}

}  // namespace ringtrue::report
