#include "json_writer.hpp"
#include "ringtrue/report/check_report.hpp"

// Words of SARIF 2.1.0: a notice is its level `note`. Section numbers are those of the OASIS standard.

namespace ringtrue {

namespace {

using report::JsonWriter;

std::string_view level_of(Severity severity) {
  return severity == Severity::notice ? "note" : word(severity);
}

/// A path as a relative or absolute URI reference: what is not unreserved or a slash is percent-encoded.
/// Source: RFC 3986, sections 2.1 and 2.3; a first segment with a colon would be a scheme, so it is encoded
/// too.
std::string uri_of(std::string_view path) {
  constexpr std::string_view k_digits = "0123456789ABCDEF";
  constexpr std::string_view k_plain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~/";
  std::string uri;
  for (const char c : path) {
    if (k_plain.find(c) != std::string_view::npos) {
      uri += c;
      continue;
    }
    const auto byte = static_cast<unsigned char>(c);
    uri += '%';
    uri += k_digits[byte >> 4];
    uri += k_digits[byte & 15];
  }
  return uri;
}

class CheckSarif {
 public:
  explicit CheckSarif(const Netlist& netlist) : netlist_(netlist) {}

  [[nodiscard]] std::string write(const CheckReport& report, std::string_view version) {
    json_.begin_object();
    json_.key("$schema").text(
        "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/"
        "sarif-schema-2.1.0.json");
    json_.key("version").text("2.1.0").key("runs").begin_array().begin_object();
    tool(version);
    json_.key("results").begin_array();
    for (const Problem& problem : report.problems) result(problem);
    json_.end_array().end_object().end_array().end_object();
    return json_.take();
  }

 private:
  void tool(std::string_view version) {
    json_.key("tool").begin_object().key("driver").begin_object();
    json_.key("name").text("ringtrue").key("version").text(version);
    json_.key("rules").begin_array();
    for (const Rule& rule : rules()) {
      json_.begin_object().key("id").text(rule.id);
      message("shortDescription", rule.line);
      message("help", "Source: " + std::string(rule.source) + ".");
      json_.key("defaultConfiguration")
          .begin_object()
          .key("level")
          .text(level_of(rule.severity))
          .end_object();
      json_.end_object();
    }
    json_.end_array().end_object().end_object();
  }

  void result(const Problem& problem) {
    json_.begin_object().key("ruleId").text(rules()[problem.rule].id).key("ruleIndex").number(problem.rule);
    json_.key("level").text(level_of(problem.severity));
    message("message", problem.reason);
    json_.key("locations").begin_array();
    location(problem.rows.front());
    json_.end_array();
    if (problem.rows.size() > 1) {
      json_.key("relatedLocations").begin_array();
      for (std::size_t i = 1; i < problem.rows.size(); ++i) location(problem.rows[i]);
      json_.end_array();
    }
    json_.end_object();
  }

  void location(const ProblemRow& row) {
    json_.begin_object().key("physicalLocation").begin_object();
    json_.key("artifactLocation").begin_object().key("uri").text(uri_of(netlist_.files[row.source.file]));
    json_.end_object();
    // Lines count from 1 (section 3.30.5); a place without one is the whole file.
    if (row.source.line > 0)
      json_.key("region").begin_object().key("startLine").number(std::size_t{row.source.line}).end_object();
    json_.end_object();
    message("message", row.sheet.empty() ? row.what : row.what + ", sheet " + std::string(row.sheet));
    json_.end_object();
  }

  void message(std::string_view key, std::string_view text) {
    json_.key(key).begin_object().key("text").text(text).end_object();
  }

  const Netlist& netlist_;
  JsonWriter json_;
};

}  // namespace

std::string check_sarif(const Netlist& netlist, const CheckReport& report, std::string_view version) {
  return CheckSarif(netlist).write(report, version);
}

}  // namespace ringtrue
