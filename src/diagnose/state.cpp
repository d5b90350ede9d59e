#include "ringtrue/diagnose/state.hpp"

#include <array>
#include <string>
#include <utility>

#include "engine.hpp"

namespace ringtrue {

class DiagnosisState::Impl {
 public:
  Impl(const ConductionGraph& graph, Readings readings, Events events, Meters meters,
       const MeterSettings& unnamed, const DiagnoseOptions& options)
      : graph_(graph),
        readings_(std::move(readings)),
        events_(std::move(events)),
        meters_(std::move(meters)),
        unnamed_(unnamed),
        options_(options) {}
  Impl(const Impl& other)
      : Impl(other.graph_, other.readings_, other.events_, other.meters_, other.unnamed_, other.options_) {}
  Impl& operator=(const Impl&) = delete;

  [[nodiscard]] const Readings& readings() const { return readings_; }
  [[nodiscard]] const Comparison& comparison() const { return comparison_; }
  [[nodiscard]] const Findings& findings() const { return engine_->findings(); }

  /// Does everything anew.
  [[nodiscard]] Errors begin() {
    engine_.reset();
    auto compared = compare(graph_, readings_, events_, meters_, unnamed_);
    if (!compared) return std::move(compared.error());
    comparison_ = std::move(*compared);
    engine_ = std::make_unique<Engine>(graph_, readings_, comparison_, options_);
    engine_->run();
    return {};
  }

  [[nodiscard]] Errors add(const ReadingRow& row, std::uint32_t line) {
    if (Errors errors = append(row, line != 0 ? line : next_line()); !errors.empty()) return errors;
    const auto appended = compare_last(graph_, readings_, events_, meters_, unnamed_, comparison_);
    if (!appended) return appended.error();
    if (!*appended) return begin();
    engine_->add_last();
    return {};
  }

 private:
  [[nodiscard]] std::uint32_t next_line() const {
    return readings_.rows.empty() ? 2 : readings_.rows.back().line + 1;
  }
  [[nodiscard]] Errors append(const ReadingRow& row, std::uint32_t line) {
    const std::array<std::string_view ReadingRow::*, 11> fields{
        &ReadingRow::from,    &ReadingRow::to,         &ReadingRow::value, &ReadingRow::time,
        &ReadingRow::by,      &ReadingRow::conditions, &ReadingRow::meter, &ReadingRow::method,
        &ReadingRow::witness, &ReadingRow::note,       &ReadingRow::id};
    auto kept = std::make_shared<std::array<std::string, fields.size()>>();
    ReadingRow own;
    for (std::size_t i = 0; i < fields.size(); ++i) own.*fields[i] = (*kept)[i] = row.*fields[i];
    ReadingsBuilder builder(std::move(readings_));
    builder.keep(kept);
    builder.add(own, line);
    auto made = builder.finish();
    if (!made) return std::move(made.error());
    readings_ = std::move(*made);
    return {};
  }

  const ConductionGraph& graph_;
  Readings readings_;
  Events events_;
  Meters meters_;
  MeterSettings unnamed_;
  DiagnoseOptions options_;
  Comparison comparison_;
  std::unique_ptr<Engine> engine_;  ///< refers to the readings and the comparison beside it
};

const Readings& DiagnosisState::readings() const { return impl_->readings(); }
const Comparison& DiagnosisState::comparison() const { return impl_->comparison(); }
const Findings& DiagnosisState::findings() const { return impl_->findings(); }

Result<DiagnosisState> begin_diagnosis(const ConductionGraph& graph, Readings readings, Events events,
                                       Meters meters, const MeterSettings& unnamed,
                                       const DiagnoseOptions& options) {
  auto made = std::make_shared<DiagnosisState::Impl>(graph, std::move(readings), std::move(events),
                                                     std::move(meters), unnamed, options);
  if (Errors errors = made->begin(); !errors.empty()) return tl::unexpected(std::move(errors));
  return DiagnosisState(std::move(made));
}

Result<DiagnosisState> diagnose(DiagnosisState state, const ReadingRow& reading, std::uint32_t line) {
  if (state.impl_.use_count() > 1) {
    // Another copy goes on from here as well.
    state.impl_ = std::make_shared<DiagnosisState::Impl>(*state.impl_);
    if (Errors errors = state.impl_->begin(); !errors.empty()) return tl::unexpected(std::move(errors));
  }
  if (Errors errors = state.impl_->add(reading, line); !errors.empty())
    return tl::unexpected(std::move(errors));
  return state;
}

}  // namespace ringtrue
