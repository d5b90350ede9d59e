#include "record/html_text.hpp"
#include "record/pictures.hpp"
#include "ringtrue/record/record.hpp"

namespace ringtrue {

namespace {

using record::html_text;

// Shapes and words say what the greys and frames say, so that it reads in grey print too.
constexpr std::string_view k_style = R"(
:root { color-scheme: light; }
body { font: 10pt/1.35 "Liberation Sans", Arial, sans-serif; color: #000; background: #fff; margin: 1rem; }
h1 { font-size: 16pt; margin: 0 0 .5rem; }
h2 { font-size: 12pt; margin: 1.4rem 0 .2rem; break-after: avoid; }
p { margin: .2rem 0 .4rem; }
table { border-collapse: collapse; width: 100%; margin: .3rem 0; }
h1, .facts td, .long { overflow-wrap: anywhere; }
th, td { border: 1px solid #777; padding: .15rem .3rem; text-align: left; vertical-align: top;
  white-space: pre-line; }
th { background: #eee; font-weight: bold; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
td.number { text-align: right; white-space: nowrap; }
table.facts { width: auto; }
table.signatures td { height: 1.3cm; }
.tone { white-space: nowrap; }
.bad { font-weight: bold; }
.small { font-size: 8pt; color: #333; }
.ready { border: 3px solid #000; padding: .4rem .6rem; margin: .5rem 0; break-inside: avoid; }
.ready p { font-size: 13pt; font-weight: bold; }
figure { margin: 1.4rem 0 0; break-inside: avoid; }
figcaption { font-size: 12pt; font-weight: bold; overflow-wrap: anywhere; }
figure svg { display: block; max-width: 100%; height: auto; max-height: 174mm; }
ul { margin: .2rem 0; padding-left: 1.2rem; }
@page { size: landscape; margin: 12mm; }
@media print { body { margin: 0; font-size: 8.5pt; } .small { font-size: 7pt; } }
)";

std::string element(std::string_view name, std::string_view text) {
  const std::string tag(name);
  return "<" + tag + ">" + html_text(text) + "</" + tag + ">";
}

std::string list_of(const auto& texts) {
  std::string out = "<ul>\n";
  for (const auto& text : texts) out += element("li", text) + "\n";
  return out + "</ul>\n";
}

/// Holds a word that is too long for a column, and may be broken anywhere.
bool has_long_word(std::string_view text) {
  constexpr std::size_t k_long = 10;
  while (text.size() > k_long) {
    const std::size_t blank = text.find_first_of(" \n\t");
    if (blank == text.npos || blank > k_long) return true;
    text.remove_prefix(blank + 1);
  }
  return false;
}

/// The word of a cell with its shape.
std::string words_of(const RecordCell& cell) {
  const std::string text = cell.number ? std::to_string(*cell.number) : html_text(cell.text);
  switch (cell.tone) {
    case Tone::good:
      return "<span class=\"tone\">&#x2713; " + text + "</span>";
    case Tone::bad:
      return "<span class=\"tone bad\">&#x2717; " + text + "</span>";
    case Tone::open:
      return "<span class=\"tone\">&#x25CB; " + text + "</span>";
    case Tone::plain:
      break;
  }
  return has_long_word(cell.text) ? "<span class=\"long\">" + text + "</span>" : text;
}

class Html {
 public:
  explicit Html(const Record& record) : record_(record) {}

  [[nodiscard]] std::string write() {
    const std::string title = "Record of panel " + record_.panel + ", revision " + record_.revision;
    out_ = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" +
           element("title", title) + "\n<style>" + std::string(k_style) + "</style>\n</head>\n<body>\n" +
           element("h1", title) + "\n";
    readiness();
    facts();
    for (const RecordSheet& sheet : record_.sheets) list(sheet);
    signatures();
    out_ += element("h2", "Cautions") + "\n" + list_of(record_.cautions) +
            record::figures_html(record_.pictures) + "</body>\n</html>\n";
    return std::move(out_);
  }

 private:
  void readiness();
  void facts();
  void fact(std::string_view name, const std::string& text);
  void list(const RecordSheet& sheet);
  void header(const RecordSheet& sheet);
  void row(const RecordSheet& sheet, const std::vector<RecordCell>& cells);
  void signatures();

  const Record& record_;
  std::string out_;
};

void Html::readiness() {
  out_ += "<div class=\"ready\">\n";
  out_ +=
      record_.is_ready_to_sign() ? "<p>&#x2713; Ready to sign</p>\n" : "<p>&#x2717; Not ready to sign</p>\n";
  if (!record_.is_ready_to_sign()) out_ += list_of(record_.holds);
  out_ += "</div>\n";
}

void Html::fact(std::string_view name, const std::string& text) {
  out_ += "<tr><th scope=\"row\">" + html_text(name) + "</th><td>" + html_text(text) + "</td></tr>\n";
}

void Html::facts() {
  std::string files;
  for (const std::string& file : record_.files) files += (files.empty() ? "" : ", ") + file;
  out_ += "<table class=\"facts\">\n<tbody>\n";
  fact("Panel", record_.panel);
  fact("Drawing", record_.drawing);
  fact("Revision", record_.revision + " (netlist " + std::to_string(record_.netlist_number) + " of " +
                       std::to_string(record_.netlists) + " in the job)");
  fact("Netlist files", files);
  fact("SHA-256 of the netlist", record_.netlist_sha256);
  fact("SHA-256 of the readings", record_.readings_sha256);
  fact("First and last entry", record_.first_time + " to " + record_.last_time);
  fact("Made by", "ringtrue " + record_.tool_version);
  out_ += "</tbody>\n</table>\n";
}

void Html::header(const RecordSheet& sheet) {
  out_ += "<thead>\n<tr>";
  for (std::size_t i = 0; i < sheet.columns.size(); ++i) {
    const RecordColumn& column = sheet.columns[i];
    if (!column.is_below) out_ += i == 0 ? "<th scope=\"col\">" : "</th><th scope=\"col\">";
    if (column.is_below) out_ += "<br>";
    out_ += html_text(column.title);
  }
  out_ += "</th></tr>\n</thead>\n";
}

void Html::row(const RecordSheet& sheet, const std::vector<RecordCell>& cells) {
  out_ += "<tr>";
  bool is_empty = true;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const RecordColumn& column = sheet.columns[i];
    const std::string words = words_of(cells[i]);
    if (!column.is_below) {
      if (i != 0) out_ += "</td>";
      out_ += column.kind == RecordColumn::Kind::number ? "<td class=\"number\">" : "<td>";
      is_empty = true;
    }
    if (words.empty()) continue;
    if (!is_empty) out_ += "<br>";
    if (column.is_below) out_ += "<span class=\"small\">" + html_text(column.title) + "</span> ";
    out_ += words;
    is_empty = false;
  }
  out_ += "</td></tr>\n";
}

void Html::list(const RecordSheet& sheet) {
  out_ += element("h2", sheet.title) + "\n";
  if (sheet.rows.empty()) {
    out_ += element("p", sheet.where_empty) + "\n";
    return;
  }
  out_ += element("p", sheet.meaning) + "\n<table>\n";
  header(sheet);
  out_ += "<tbody>\n";
  for (const std::vector<RecordCell>& cells : sheet.rows) row(sheet, cells);
  out_ += "</tbody>\n</table>\n";
}

void Html::signatures() {
  out_ += element("h2", "Signatures") +
          "\n<table class=\"signatures\">\n<thead>\n<tr><th scope=\"col\">Who</th><th scope=\"col\">Name</th>"
          "<th scope=\"col\">Date</th><th scope=\"col\">Signature</th></tr>\n</thead>\n<tbody>\n";
  for (const std::string_view who : record_.signatures)
    out_ += "<tr><th scope=\"row\">" + html_text(who) + "</th><td></td><td></td><td></td></tr>\n";
  out_ += "</tbody>\n</table>\n";
}

}  // namespace

std::string record_html(const Record& record) { return Html(record).write(); }

}  // namespace ringtrue
