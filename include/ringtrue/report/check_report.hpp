#pragma once
#include <string>
#include <string_view>

#include "ringtrue/check/check.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// A drawing check for people: a line per problem and per row, each begun by `file:line`, then the numbering
/// found and the counts.
[[nodiscard]] std::string check_text(const Netlist& netlist, const CheckReport& report, Detail detail);

/// The same for programs, as netlists/schema/check.schema.json describes it.
[[nodiscard]] std::string check_json(const Netlist& netlist, const CheckReport& report);

/// The same as a static analysis log. `version` is that of ringtrue.
/// Source: SARIF 2.1.0, OASIS standard of 2020-03-27 (schema sarif-schema-2.1.0.json).
[[nodiscard]] std::string check_sarif(const Netlist& netlist, const CheckReport& report,
                                      std::string_view version);

}  // namespace ringtrue
