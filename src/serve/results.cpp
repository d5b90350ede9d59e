#include "ringtrue/graph/trace.hpp"
#include "serve/entries.hpp"
#include "serve/taken.hpp"

// Results of I/O tests that pages send.

namespace ringtrue::serve {

namespace {

IoSeen seen_of(const Body& body) {
  IoSeen seen;
  seen.stimulus = body.text("stimulus");
  seen.led = body.text("led"), seen.back = body.text("back");
  seen.bit = body.text("bit"), seen.only_this = body.text("only_this");
  seen.value = body.text("value"), seen.percent = body.text("percent"), seen.seen_as = body.text("seen_as");
  seen.responded = body.text("responded"), seen.on = body.text("on"), seen.off = body.text("off");
  seen.unproven = body.text("unproven"), seen.reason = body.text("reason");
  return seen;
}

Json told(const IoEntry& entry, std::string_view id) {
  return {{"id", id},
          {"channel", entry.channel},
          {"verdict", entry.verdict},
          {"shown", entry.shown},
          {"words", entry.reason}};
}

/// The same was sent before. Only what does not follow from the drawing and the readings is compared: these
/// may have changed since.
bool is_same(const IoResult& stored, const Body& body) {
  return stored.time == body.text("time") && stored.by == body.text("by") &&
         word(stored.led) == body.text("led") && word(stored.bit) == body.text("bit") &&
         word(stored.only_this) == body.text("only_this");
}

}  // namespace

Result<std::optional<IoResult>> Entries::stored_result(std::string_view id) {
  const std::lock_guard lock(mutex_);
  return job_.find_io_result(id);
}

Result<IoEntry> Entries::result_of(const Body& body) {
  return watch_.with_live([&](const LiveJob& live) -> Result<IoEntry> {
    const ConductionGraph& graph = live.drawing()->graph;
    const auto found = find_channels(graph.netlist(), body.text("channel"));
    if (!found) {
      Errors errors = found.error();
      for (Error& error : errors) error.code = ErrorCode::bad_point, error.place.field = "channel";
      return tl::unexpected(std::move(errors));
    }
    const std::size_t one[] = {found->front()};
    return make_io_entry(io_tests(graph, one, &live.state().findings()).front(), graph, seen_of(body));
  });
}

Answer Entries::result(std::string_view text) {
  const auto body = Body::read(text, {"id", "channel", "by", "time"},
                               {"stimulus", "led", "back", "bit", "only_this", "value", "percent", "seen_as",
                                "responded", "on", "off", "unproven", "reason", "meter", "witness"});
  if (!body) return refusal(body.error());
  if (const auto time = check_time(body->text("time")); !time) return refusal(time.error());
  const auto before = stored_result(body->text("id"));
  if (!before) return refusal(before.error());
  const auto entry = result_of(*body);
  if (*before && is_same(**before, *body) &&
      (!entry || (entry->channel == (*before)->channel && entry->verdict == word((*before)->verdict) &&
                  entry->given == (*before)->given && entry->value == (*before)->value)))
    return taken(Appended::already_there, {{"id", body->text("id")},
                                           {"channel", (*before)->channel},
                                           {"verdict", word((*before)->verdict)},
                                           {"shown", entry ? entry->shown : ""},
                                           {"words", (*before)->reason}});
  if (!entry) return refusal(entry.error());
  IoResultRow row = entry->row();
  row.id = body->text("id"), row.time = body->text("time"), row.by = body->text("by");
  row.meter = body->text("meter"), row.witness = body->text("witness");
  const auto appended = append(row);
  if (!appended) return refusal(appended.error());
  watch_.wake();
  return taken(*appended, told(*entry, row.id));
}

Answer Entries::result_withdrawal(std::string_view text) {
  const auto body = Body::read(text, {"id", "supersedes", "by", "time"}, {});
  if (!body) return refusal(body.error());
  if (const auto time = check_time(body->text("time")); !time) return refusal(time.error());
  const auto withdrawn = stored_result(body->text("supersedes"));
  if (!withdrawn) return refusal(withdrawn.error());
  if (!*withdrawn || (*withdrawn)->verdict == IoVerdict::withdrawn)
    return refusal(422, "supersedes: the job holds no such result", body->text("supersedes"),
                   "the id of a result");
  IoResultRow row = withdrawal_of(**withdrawn);
  row.id = body->text("id"), row.time = body->text("time"), row.by = body->text("by");
  const auto appended = append(row);
  if (!appended) return refusal(appended.error());
  watch_.wake();
  return taken(*appended, {{"id", row.id}});
}

}  // namespace ringtrue::serve
