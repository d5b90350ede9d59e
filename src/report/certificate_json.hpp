#pragma once
#include "json_writer.hpp"
#include "ringtrue/report/certificate_report.hpp"

namespace ringtrue::report {

/// Writes the certificate as one value; null where none was asked for.
void write_certificate(JsonWriter& json, const CertificateReport* report);

}  // namespace ringtrue::report
