#pragma once
#include <span>
#include <string>
#include <vector>

#include "ringtrue/model/decisions.hpp"
#include "ringtrue/revise/as_built.hpp"

namespace ringtrue {

/// `Repair decided by AK, 2026-03-02T10:00:00Z: the text`; accepted and to be drawn likewise.
[[nodiscard]] std::string decision_words(const Decision& decision);

/// What becomes of a row: `from: X1:4.int becomes X1:5.int`, `the row goes`, `new row: from X1:4.int, ...`.
[[nodiscard]] std::string change_words(const AsBuiltRow& row);

/// Changed rows with whoever decided them, for the drafter: a row per changed cell, one for a row that goes.
/// `decisions`: by the sets of faults that were drawn. Source of the form: RFC 4180.
[[nodiscard]] std::string red_lines_csv(const AsBuilt& built, std::span<const Decision> decisions);

/// The same for people, a line per changed row.
[[nodiscard]] std::string red_lines_text(const AsBuilt& built);

}  // namespace ringtrue
