#include "job/rows.hpp"

#include <array>
#include <charconv>
#include <vector>

#include "job/sha256.hpp"

namespace ringtrue {

template <>
std::span<const FieldOf<job::LoggedReading>> fields_of<job::LoggedReading>() {
  static const std::vector<FieldOf<job::LoggedReading>> fields = [] {
    std::vector<FieldOf<job::LoggedReading>> all;
    for (const FieldOf<ReadingRow>& field : fields_of<ReadingRow>())
      all.push_back({field.name, field.member, field.required});
    all.push_back({"supersedes", &job::LoggedReading::supersedes, false});
    return all;
  }();
  return fields;
}

namespace job {

namespace {

/// The shortest plain decimal that reads as this very number; empty for an infinite one, which is not stated.
std::string decimal(double number) {
  if (number == k_infinite_ohms.value) return {};
  std::array<char, 512> text;  // the longest is the least denormal number: some 340 characters
  const auto end = std::to_chars(text.data(), text.data() + text.size(), number, std::chars_format::fixed);
  return {text.data(), end.ptr};
}

}  // namespace

ReadingRow row_of(const Readings& readings, std::size_t at) {
  using enum ReadingText;
  const Reading& reading = readings.rows[at];
  const auto text = [&](ReadingText field) { return readings.text.get(field, at); };
  return {.from = reading.from,
          .to = reading.to,
          .value = text(value),
          .time = text(time),
          .by = text(by),
          .conditions = readings.conditions[reading.condition],
          .meter = text(meter),
          .method = word(reading.method),
          .witness = text(witness),
          .note = text(note),
          .id = text(id)};
}

IoResultRow row_of(const IoResult& result) {
  return {.channel = result.channel,
          .stimulus = word(result.stimulus),
          .at = result.at,
          .given = result.given,
          .expected = result.expected,
          .led = word(result.led),
          .bit = word(result.bit),
          .value = result.value,
          .only_this = word(result.only_this),
          .verdict = word(result.verdict),
          .reason = result.reason,
          .time = result.time,
          .by = result.by,
          .witness = result.witness,
          .meter = result.meter,
          .revision = result.revision,
          .id = result.id,
          .supersedes = result.supersedes};
}

DecisionRow row_of(const Decision& decision) {
  return {.finding = decision.finding,
          .readings = decision.readings,
          .points = decision.points,
          .decision = word(decision.decision),
          .text = decision.text,
          .time = decision.time,
          .by = decision.by,
          .revision = decision.revision,
          .id = decision.id};
}

MadeEventRow::MadeEventRow(const Event& event) {
  for (const std::string& point : event.points) points += (points.empty() ? "" : "; ") + point;
  row = {.time = event.time,
         .by = event.by,
         .kind = word(event.kind),
         .points = points,
         .text = event.text,
         .id = event.id};
}

MadeMeterRow::MadeMeterRow(const Meter& meter)
    : threshold(decimal(meter.settings.threshold.value)),
      range(decimal(meter.settings.range.value)),
      lead_ohms(decimal(meter.settings.lead_ohms.value_or(k_infinite_ohms).value)),
      accuracy(decimal(meter.settings.accuracy)) {
  row = {.meter = meter.name,
         .kind = meter.kind,
         .serial = meter.serial,
         .calibrated_until = meter.calibrated_until,
         .threshold = threshold,
         .range = range,
         .lead_ohms = lead_ohms,
         .accuracy = accuracy};
}

MadeSignatureRow::MadeSignatureRow(const Signature& signature)
    : revision(std::to_string(signature.rows.netlists)),
      readings(std::to_string(signature.rows.readings)),
      events(std::to_string(signature.rows.events)),
      meters(std::to_string(signature.rows.meters)),
      results(std::to_string(signature.rows.io_results)),
      decisions(std::to_string(signature.rows.decisions)) {
  row = {.role = word(signature.role),
         .by = signature.by,
         .text = signature.text,
         .time = signature.time,
         .revision = revision,
         .netlist_sha256 = signature.netlist_sha256,
         .rows_sha256 = signature.rows_sha256,
         .ready = signature.is_ready ? "yes" : "no",
         .readings = readings,
         .events = events,
         .meters = meters,
         .results = results,
         .decisions = decisions,
         .id = signature.id};
}

template <class Row>
std::string made_id(const Row& row, std::size_t earlier) {
  std::string text;
  // Results had no `supersedes` once, and their ids stay: a row that has one has an id of its own.
  for (const FieldOf<Row>& field : fields_of<Row>())
    if (field.name != "supersedes") text.append(row.*field.member) += '\0';
  return sha256(text + std::to_string(earlier)).substr(0, 12);
}
template std::string made_id(const ReadingRow& row, std::size_t earlier);
template std::string made_id(const EventRow& row, std::size_t earlier);
template std::string made_id(const IoResultRow& row, std::size_t earlier);
template std::string made_id(const DecisionRow& row, std::size_t earlier);
template std::string made_id(const SignatureRow& row, std::size_t earlier);

}  // namespace job

}  // namespace ringtrue
