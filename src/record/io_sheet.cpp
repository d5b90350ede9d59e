#include <numeric>
#include <set>

#include "record/sheets.hpp"
#include "ringtrue/live/io_test.hpp"
#include "ringtrue/live/io_test_words.hpp"

namespace ringtrue::record {

namespace {

Tone tone(std::string_view shown) {
  return shown == word(IoVerdict::pass)   ? Tone::good
         : shown == word(IoVerdict::fail) ? Tone::bad
                                          : Tone::open;
}

std::string names_of(const std::vector<IoPlace>& places) {
  std::vector<std::string> points;
  for (const IoPlace& place : places) points.push_back(place.point);
  return joined(points, "; ");
}

/// The tester's, and what a revision did since.
std::string reason_of(const IoResult& result) {
  std::vector<std::string> reasons;
  for (const std::string& reason : {result.reason, result.outdated.value_or("")})
    if (!reason.empty()) reasons.push_back(reason);
  return joined(reasons, "; ");
}

Row row_of(std::string_view point, std::string_view type, const Channel* channel, RecordCell shown,
           const IoResult& result) {
  return {point,
          type,
          channel == nullptr ? std::string_view{} : channel->address,
          channel == nullptr ? std::string_view{} : channel->tag,
          channel == nullptr ? std::string_view{} : channel->text,
          word(result.stimulus),
          result.at,
          result.given,
          result.expected,
          word(result.led),
          word(result.bit),
          result.value,
          word(result.only_this),
          word(result.verdict),
          std::move(shown),
          reason_of(result),
          result.by,
          result.time,
          result.witness,
          result.meter,
          result.revision,
          result.id};
}

/// A channel that nothing was tried of: how it would be, and nothing else.
Row untested_row(const Channel& channel, std::string_view point, const IoTestWords& words) {
  const bool has_no_test = words.stimulus.empty();
  Row row = row_of(point, word(channel.type), &channel,
                   {std::string(has_no_test ? "not checkable" : "not tested"), Tone::open}, IoResult{});
  row[5] = RecordCell();
  row[13] = RecordCell();
  if (has_no_test) row[15] = joined(words.reasons, " ");
  if (!has_no_test) row[6] = names_of(words.places);
  return row;
}

}  // namespace

RecordSheet io_sheet(const RecordSource& source) {
  RecordSheet sheet{"io",
                    "I/O check sheet",
                    "Every channel: how it was stimulated, what was seen, and what that shows.",
                    "The drawing has no channels.",
                    {{"channel", "Channel"},
                     below("type", "Type"),
                     below("address", "Address"),
                     {"tag", "Tag"},
                     below("text", "Text"),
                     {"stimulus", "Stimulus"},
                     below("at", "At"),
                     {"given", "Given"},
                     below("expected", "Expected"),
                     {"led", "LED"},
                     below("bit", "Bit"),
                     {"value", "Value"},
                     below("only_this", "Only this"),
                     below("verdict", "Verdict"),
                     {"shown", "Shown"},
                     {"reason", "Reason"},
                     {"by", "By"},
                     below("time", "Time", Kind::time),
                     below("witness", "Witness"),
                     below("meter", "Meter"),
                     {"revision", "Revision"},
                     below("id", "Id")},
                    {}};
  const Netlist& netlist = source.graph.netlist();
  const IoResults& results = source.contents.panel.io_results;
  std::vector<std::size_t> channels(netlist.channels.size());
  std::iota(channels.begin(), channels.end(), std::size_t{0});
  std::set<std::string> known;
  for (const IoTest& test : io_tests(source.graph, channels, &source.findings)) {
    const Channel& channel = netlist.channels[test.channel];
    const std::string point = netlist.points.name(channel.point);
    const std::vector<const IoResult*> of_it = results_of(test, source.graph, results);
    const std::string shown(shown_of(test, source.graph, of_it));
    if (of_it.empty()) sheet.rows.push_back(untested_row(channel, point, io_test_words(test, source.graph)));
    for (const IoResult* result : of_it)
      sheet.rows.push_back(row_of(point, word(channel.type), &channel, {shown, tone(shown)}, *result));
    known.insert({point, std::string(channel.address), std::string(channel.tag)});
  }
  for (const IoResult& result : results.rows)
    if (!known.contains(result.channel))
      sheet.rows.push_back(row_of(result.channel, "", nullptr, {"not on the drawing", Tone::open}, result));
  return sheet;
}

}  // namespace ringtrue::record
