#pragma once
#include <string>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/certificate.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// What readings say of every single fault. Holds references only; all must outlive the call.
struct CertificateReport {
  const ConductionGraph& graph;
  const Readings& readings;
  const Comparison& comparison;
  const Certificate& certificate;
};

/// The certificate for people: a table by kind, then what is not revealed and why, alike faults together.
/// Plain text, lines of about 100 characters.
[[nodiscard]] std::string certificate_text(const CertificateReport& report,
                                           Detail detail = Detail::short_lists);

}  // namespace ringtrue
