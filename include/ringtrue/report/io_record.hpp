#pragma once
#include <optional>
#include <string>
#include <vector>

#include "ringtrue/io/input_test.hpp"
#include "ringtrue/logic/outlet.hpp"

namespace ringtrue {

/// The parts of a record of a digital input's test, which has two steps: something is done to the input, and
/// then it is brought back.
struct InputRecord {
  std::optional<Stimulus> stimulus;  ///< none where the input has no test here
  std::string at;                    ///< `X13:1.ext; X3:1.ext`, or the device that is operated
  std::string acted, back;           ///< `jumper fitted`, `removed`
  bool lit_when_acted = true;        ///< and the other way round when brought back
};
/// What the record says of an input that passes its test.
[[nodiscard]] InputRecord input_record(const InputTest& test, const ConductionGraph& graph);

/// `dark; jumper fitted: lit; removed: dark`
[[nodiscard]] std::string expected_of(const InputRecord& record, bool lit_at_rest);

/// The first reason of a jumper's verdict, without the stop at its end; a role of the channel goes before
/// others.
[[nodiscard]] std::string jumper_reason_in_short(const JumperVerdict& jumper, const ConductionGraph& graph);

/// The same of a digital output, driven on and then off.
struct OutputRecord {
  std::string at;               ///< the terminals of its load: `K1:A1; K1:A2`
  std::optional<double> volts;  ///< between them while on; none where the drawing doesn't state it
  bool is_dc = true;
  bool is_field_plus = false;  ///< DC, and the first terminal of `at` is the positive one
  std::string responds;        ///< `coil K1:A1-A2, with contacts K1:13-14`; empty where nothing here does
  [[nodiscard]] std::string expected() const;  ///< `it responds; 24 V DC while on, near 0 V while off`
};
/// The same of an output.
[[nodiscard]] OutputRecord output_record(const logic::Outlet& outlet, const ConductionGraph& graph);

}  // namespace ringtrue
