#include <algorithm>
#include <span>

#include "record/html_text.hpp"
#include "record/pictures.hpp"
#include "ringtrue/record/record.hpp"

namespace ringtrue {

namespace {

using record::html_text;
using Place = RecordColumn::Place;

// Shapes and words say what the greys and frames say, so that it reads in grey print too.
constexpr std::string_view k_style = R"(
:root { color-scheme: light; }
body { font: 10pt/1.35 "Liberation Sans", Arial, sans-serif; color: #000; background: #fff; margin: 1rem; }
h1 { font-size: 16pt; margin: 0 0 .5rem; }
h2 { font-size: 12pt; margin: 1.4rem 0 .2rem; break-after: avoid; }
p { margin: .2rem 0 .4rem; }
h2 + p { break-after: avoid; }
table { border-collapse: collapse; width: calc(100% - 1px); margin: .3rem 0; }
h1, .facts td, .shared th, .long { overflow-wrap: anywhere; }
th, td { border: 1px solid #777; padding: .15rem .3rem; text-align: left; vertical-align: top;
  white-space: pre-line; }
th { background: #eee; font-weight: bold; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
td.number { text-align: right; white-space: nowrap; }
.shared { break-after: avoid; }
.shared th { font-weight: normal; }
table.facts { width: auto; }
table.signatures { break-inside: avoid; table-layout: fixed; }
table.signatures td { height: 1.1cm; overflow-wrap: anywhere; }
.tone, .time { white-space: nowrap; }
.bad { font-weight: bold; }
.small { font-size: 8pt; color: #333; }
.ready { border: 3px solid #000; padding: .4rem .6rem; margin: .5rem 0; break-inside: avoid; }
.ready ul { columns: 2; }
.ready p { font-size: 13pt; font-weight: bold; }
figure { margin: 1.4rem 0 0; break-inside: avoid; }
figcaption { font-size: 12pt; font-weight: bold; overflow-wrap: anywhere; }
figure svg { display: block; max-width: 100%; height: auto; max-height: 174mm; }
ul { margin: .2rem 0; padding-left: 1.2rem; }
.cautions { columns: 2; break-inside: avoid; }
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

/// What stands in the margin of every sheet of paper, so that one that is taken out says whose it is.
std::string page_style(const Record& record) {
  constexpr std::size_t k_longest = 60;
  const std::string what = record.label + (record.is_ready_to_sign() ? "" : ", not ready to sign");
  return "@page { size: landscape; margin: 12mm 12mm 14mm; font: 7pt \"Liberation Sans\", Arial, "
         "sans-serif;\n"
         "  @bottom-left { content: " +
         record::css_text(what, k_longest) +
         "; }\n"
         "  @bottom-center { content: " +
         record::css_text("Readings " + record.readings_sha256, k_longest + 20) +
         "; }\n"
         "  @bottom-right { content: \"Page \" counter(page) \" of \" counter(pages); } }\n";
}

/// Holds a word that is too long for a column, and may be broken anywhere.
bool has_long_word(std::string_view text) {
  constexpr std::size_t k_long = 16;
  while (text.size() > k_long) {
    const std::size_t blank = text.find_first_of(" \n\t");
    if (blank > k_long) return true;  // npos as well
    text.remove_prefix(blank + 1);
  }
  return false;
}

/// The word of a cell with its shape. A time stays in one line.
std::string words_of(const RecordCell& cell, RecordColumn::Kind kind) {
  const std::string text = cell.number ? std::to_string(*cell.number) : html_text(cell.text);
  if (kind == RecordColumn::Kind::time && seconds_of_time(cell.text))
    return "<span class=\"time\">" + text + "</span>";
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
    const std::string title = record_.label + ": record";
    out_ = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" +
           element("title", title) + "\n<style>" + std::string(k_style) + page_style(record_) +
           "</style>\n</head>\n<body>\n" + element("h1", title) + "\n";
    readiness();
    facts();
    list(record_.sheets.front());  // the numbers: what is signed for stands on the sheet that is signed
    out_ +=
        element("h2", "Cautions") + "\n<div class=\"cautions\">\n" + list_of(record_.cautions) + "</div>\n";
    signatures();
    for (const RecordSheet& sheet : std::span(record_.sheets).subspan(1)) list(sheet);
    out_ += record::figures_html(record_) + "</body>\n</html>\n";
    return std::move(out_);
  }

 private:
  void readiness();
  void facts();
  void fact(std::string_view name, const std::string& text);
  void list(const RecordSheet& sheet);
  void header(const RecordSheet& sheet);
  void shared(const RecordSheet& sheet, const std::vector<RecordCell>& cells);
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
  if (!record_.not_tested.empty()) out_ += "<div>Not tested</div>\n" + list_of(record_.not_tested);
  out_ += "</div>\n";
}

void Html::fact(std::string_view name, const std::string& text) {
  out_ += "<tr><th scope=\"row\">" + html_text(name) + "</th><td>" + html_text(text) + "</td></tr>\n";
}

void Html::facts() {
  std::string files;
  for (const std::string& file : record_.files) files += (files.empty() ? "" : ", ") + file;
  out_ += "<table class=\"facts\">\n<tbody>\n";
  const auto stated = [](const std::string& text) { return text.empty() ? std::string("not stated") : text; };
  fact("Panel", stated(record_.panel));
  fact("Drawing", stated(record_.drawing));
  fact("Revision", stated(record_.revision) + " (netlist " + std::to_string(record_.netlist_number) + " of " +
                       std::to_string(record_.netlists) + " in the job)");
  fact("Netlist files", files);
  fact("SHA-256 of the netlist", record_.netlist_sha256);
  fact("SHA-256 of the readings", record_.readings_sha256);
  fact("First and last entry",
       record_.first_time.empty() ? "none with a time" : record_.first_time + " to " + record_.last_time);
  fact("Made by", "ringtrue " + record_.tool_version);
  out_ += "</tbody>\n</table>\n";
}

void Html::header(const RecordSheet& sheet) {
  out_ += "<thead>\n<tr>";
  std::string_view before;
  for (const RecordColumn& column : sheet.columns) {
    if (column.place == Place::above) continue;
    if (column.place == Place::own) out_ += std::string(before) + "<th scope=\"col\">";
    if (column.place == Place::below) out_ += "<br>";
    out_ += html_text(column.title);
    before = "</th>";
  }
  out_ += "</th></tr>\n</thead>\n";
}

/// What the rows share that follow.
void Html::shared(const RecordSheet& sheet, const std::vector<RecordCell>& cells) {
  std::string words;
  std::size_t wide = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (sheet.columns[i].place == Place::own) ++wide;
    if (sheet.columns[i].place != Place::above || cells[i].text.empty()) continue;
    words += (words.empty() ? "" : " &#183; ") + html_text(sheet.columns[i].title) + " <b>" +
             html_text(cells[i].text) + "</b>";
  }
  out_ += "<tr class=\"shared\"><th scope=\"rowgroup\" colspan=\"" + std::to_string(wide) + "\">" +
          (words.empty() ? "nothing stated" : words) + "</th></tr>\n";
}

void Html::row(const RecordSheet& sheet, const std::vector<RecordCell>& cells) {
  out_ += "<tr>";
  bool is_empty = true;
  std::string_view before;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const RecordColumn& column = sheet.columns[i];
    if (column.place == Place::above) continue;
    const std::string words = words_of(cells[i], column.kind);
    if (column.place == Place::own) {
      out_ += std::string(before);
      out_ += column.kind == RecordColumn::Kind::number ? "<td class=\"number\">" : "<td>";
      before = "</td>";
      is_empty = true;
    }
    if (words.empty()) continue;
    if (!is_empty) out_ += "<br>";
    if (column.place == Place::below) out_ += "<span class=\"small\">" + html_text(column.title) + "</span> ";
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
  const auto is_shared = [&](std::size_t a, std::size_t b) {
    for (std::size_t i = 0; i < sheet.columns.size(); ++i)
      if (sheet.columns[i].place == Place::above && sheet.rows[a][i].text != sheet.rows[b][i].text)
        return false;
    return true;
  };
  const bool has_groups =
      std::any_of(sheet.columns.begin(), sheet.columns.end(),
                  [](const RecordColumn& column) { return column.place == Place::above; });
  out_ += "<tbody>\n";
  for (std::size_t i = 0; i < sheet.rows.size(); ++i) {
    const bool is_first = i == 0 || !is_shared(i - 1, i);
    if (has_groups && is_first && i != 0) out_ += "</tbody>\n<tbody>\n";
    if (has_groups && is_first) shared(sheet, sheet.rows[i]);
    row(sheet, sheet.rows[i]);
  }
  out_ += "</tbody>\n</table>\n";
}

void Html::signatures() {
  out_ +=
      element("h2", "Signatures") +
      "\n<table class=\"signatures\">\n<thead>\n<tr><th scope=\"col\">Who</th><th scope=\"col\">In the job, "
      "typed</th><th scope=\"col\">Name</th><th scope=\"col\">Date</th><th "
      "scope=\"col\">Signature</th></tr>\n</thead>\n<tbody>\n";
  for (const RecordSignature& one : record_.signatures) {
    out_ += "<tr><th scope=\"row\">" + html_text(one.who) + "</th><td>";
    for (const std::string& line : {one.by, one.time, one.text})
      if (!line.empty()) out_ += "<div class=\"long\">" + html_text(line) + "</div>";
    for (const std::string& line : one.reservations)
      out_ += "<div class=\"bad\">" + html_text(line) + "</div>";
    out_ += "</td><td></td><td></td><td></td></tr>\n";
  }
  out_ += "</tbody>\n</table>\n";
}

}  // namespace

std::string record_html(const Record& record) { return Html(record).write(); }

}  // namespace ringtrue
