#include <algorithm>
#include <map>

#include "element_words.hpp"
#include "reading_words.hpp"
#include "ringtrue/report/retest_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_entry;
using report::append_wrapped;
using report::counted;

constexpr std::size_t k_few_rows = 20, k_few_reasons = 12, k_few_labels = 8;
constexpr std::size_t k_change_width = 10;

std::string_view reason_words(Validity validity) {
  constexpr std::string_view k_words[k_validities] = {"valid",
                                                      "did not count before the revision",
                                                      "the later drawing lacks a point or a condition of it",
                                                      "a clamp has to be opened",
                                                      "the meter must show something else",
                                                      "proves something else now",
                                                      "nothing predicts it, and the wiring has changed"};
  return k_words[static_cast<std::size_t>(validity)];
}

class RetestText {
 public:
  RetestText(const RetestReport& report, Detail detail) : report_(report), detail_(detail) {}

  [[nodiscard]] std::string write() {
    summary();
    rows();
    listings();
    renamed_parts();
    labels();
    not_valid();
    if (report_.plan != nullptr) out_ += "\n" + plan_text(*report_.plan, detail_);
    return std::move(out_);
  }

 private:
  [[nodiscard]] std::size_t at_most(std::size_t few, std::size_t all) const {
    return detail_ == Detail::everything || all <= few + 1 ? all : few;
  }
  void more(std::size_t shown, std::size_t all) {
    if (shown < all) out_ += "  and " + std::to_string(all - shown) + " more (--all shows them)\n";
  }

  void summary() {
    const PanelInfo &was = report_.before.netlist().panel, &is = report_.after.netlist().panel;
    append_wrapped(out_, panel_label(was) + ", beside " + panel_label(is), 0, 2);
    counts("conductor", report_.difference.same_conductors, report_.difference.conductors);
    counts("part row", report_.difference.same_parts, report_.difference.parts);
    if (report_.retest == nullptr)
      return append_wrapped(out_, "No readings were given, so nothing is said of what stays proven.", 2, 4);
    const std::size_t all = report_.retest->readings.size(),
                      valid = report_.retest->counts[static_cast<std::size_t>(Validity::valid)];
    append_wrapped(out_,
                   std::to_string(valid) + " of " + counted(all, "reading") +
                       " stay valid: what they must "
                       "show, what they prove and every clamp on that are untouched",
                   2, 4);
  }

  void counts(std::string_view noun, std::size_t same, const std::vector<ChangedRow>& rows) {
    std::string text = counted(same, noun) + " the same";
    for (const Change change : {Change::renumbered, Change::completed, Change::moved, Change::changed,
                                Change::added, Change::gone}) {
      const auto number = std::count_if(rows.begin(), rows.end(),
                                        [&](const ChangedRow& row) { return row.change == change; });
      if (number != 0) text += ", " + std::to_string(number) + " " + std::string(word(change));
    }
    append_wrapped(out_, text, 2, 4);
  }

  /// `wire 12, X1:5.int to K1:A1 (sheet 2.1)`
  static std::string row_words(const ConductionGraph& graph, ElementId e) {
    const PointTable& points = graph.netlist().points;
    return element_noun(e, graph) + ", " + points.name(graph.end_a(e)) + " to " +
           points.name(graph.end_b(e)) + report::in_sheets({e}, graph);
  }
  static std::string ends_words(const ConductionGraph& graph, ElementId e) {
    const PointTable& points = graph.netlist().points;
    return points.name(graph.end_a(e)) + " to " + points.name(graph.end_b(e));
  }

  [[nodiscard]] std::string change_words(const ChangedRow& row) const {
    if (row.change == Change::gone) return row_words(report_.before, row.before);
    std::string now = row_words(report_.after, row.after);
    switch (row.change) {
      case Change::moved:
        return now + ", was " + ends_words(report_.before, row.before);
      case Change::renumbered:
        return now + ", was " + element_noun(row.before, report_.before);
      case Change::completed:
        return now + ": colour, size or length filled in";
      case Change::changed:
        return now + ": drawn otherwise, to be exchanged";
      default:
        return now;
    }
  }

  void rows() {
    std::vector<const ChangedRow*> all;
    for (const auto* list : {&report_.difference.conductors, &report_.difference.parts})
      for (const ChangedRow& row : *list) all.push_back(&row);
    std::stable_sort(all.begin(), all.end(),
                     [](const ChangedRow* x, const ChangedRow* y) { return x->change < y->change; });
    if (all.empty()) return;
    out_ += "\nWhat the revision changes:\n";
    const std::size_t shown = at_most(k_few_rows, all.size());
    for (std::size_t i = 0; i < shown; ++i)
      append_entry(out_, 2, word(all[i]->change), k_change_width, change_words(*all[i]));
    more(shown, all.size());
  }

  /// `changed  A1:0.3: address %IX0.3, was %IX0.2`
  void listings() {
    std::vector<std::pair<std::string_view, const ChangedListing*>> all;
    for (const ChangedListing& row : report_.difference.channels) all.emplace_back("channel ", &row);
    for (const ChangedListing& row : report_.difference.potentials) all.emplace_back("potential ", &row);
    if (all.empty()) return;
    out_ += '\n';
    append_wrapped(out_,
                   report_.difference.channels.empty()
                       ? "Potentials:"
                       : "Channels and potentials; what was tried of these channels is to be tried again:",
                   0, 2);
    const std::size_t shown = at_most(k_few_rows, all.size());
    for (std::size_t i = 0; i < shown; ++i) {
      const ChangedListing& row = *all[i].second;
      std::string text = std::string(all[i].first) + row.name;
      for (const ChangedField& field : row.fields)
        text += (&field == &row.fields.front() ? ": " : "; ") + std::string(field.name) + " " +
                (field.after.empty() ? "not stated" : field.after) + ", was " +
                (field.before.empty() ? "not stated" : field.before);
      append_entry(out_, 2, word(row.change), k_change_width, text);
    }
    more(shown, all.size());
  }

  void renamed_parts() {
    const std::vector<RenamedPart>& renamed = report_.difference.renamed;
    if (renamed.empty()) return;
    out_ += '\n';
    append_wrapped(
        out_,
        "Renamed parts, labels to be changed; if one is exchanged or its conductors are lifted for "
        "it, read again:",
        0, 2);
    const std::size_t shown = at_most(k_few_labels, renamed.size());
    for (std::size_t i = 0; i < shown; ++i)
      append_wrapped(out_, renamed[i].before + " becomes " + renamed[i].after, 2, 4);
    more(shown, renamed.size());
  }

  void labels() {
    std::vector<const ChangedRow*> renumbered;
    for (const ChangedRow& row : report_.difference.conductors)
      if (row.change == Change::renumbered) renumbered.push_back(&row);
    if (renumbered.empty()) return;
    out_ += "\nLabels to be changed; if the conductor is lifted for it, read again:\n";
    const std::size_t shown = at_most(k_few_labels, renumbered.size());
    for (std::size_t i = 0; i < shown; ++i) {
      const ChangedRow& row = *renumbered[i];
      const PointTable& points = report_.after.netlist().points;
      for (const PointId end : {report_.after.end_a(row.after), report_.after.end_b(row.after)})
        append_wrapped(out_,
                       points.name(end) + ": " + element_noun(row.before, report_.before) + " becomes " +
                           element_noun(row.after, report_.after) +
                           report::in_sheets({row.after}, report_.after),
                       2, 4);
    }
    more(shown, renumbered.size());
  }

  /// Readings that no longer stand for one reason, together.
  void not_valid() {
    if (report_.retest == nullptr) return;
    std::map<std::pair<Validity, PointId>, std::vector<std::string>> reasons;
    for (std::uint32_t i = 0; i < report_.retest->readings.size(); ++i) {
      const RetestedReading& one = report_.retest->readings[i];
      if (one.validity != Validity::valid)
        reasons[{one.validity, one.clamp}].push_back(report::reading_label(report_.readings, ReadingId{i}));
    }
    if (reasons.empty()) return;
    out_ += "\nReadings that no longer stand:\n";
    const std::size_t shown = at_most(k_few_reasons, reasons.size());
    auto at = reasons.begin();
    for (std::size_t i = 0; i < shown; ++i, ++at) {
      const auto& [validity, clamp] = at->first;
      std::string why(reason_words(validity));
      if (clamp != PointId::none)
        why = "clamp " + report_.before.netlist().points.name(clamp) + " has to be opened";
      const std::size_t named = at_most(k_few_labels, at->second.size());
      std::string who = report::joined(std::span(at->second).first(named));
      if (named < at->second.size()) who += " and " + std::to_string(at->second.size() - named) + " more";
      append_wrapped(out_, report::capitalised(why) + ": " + who, 2, 4);
    }
    more(shown, reasons.size());
  }

  const RetestReport& report_;
  Detail detail_;
  std::string out_;
};

}  // namespace

std::string retest_text(const RetestReport& report, Detail detail) {
  return RetestText(report, detail).write();
}

}  // namespace ringtrue
