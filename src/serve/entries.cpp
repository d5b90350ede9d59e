#include "serve/entries.hpp"

#include <optional>

#include "ringtrue/live/entry.hpp"
#include "ringtrue/live/repair.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "serve/body.hpp"
#include "serve/json.hpp"
#include "serve/taken.hpp"

namespace ringtrue::serve {

namespace {

std::string joined(const std::vector<std::string>& points) {
  std::string all;
  for (const std::string& point : points) all += (all.empty() ? "" : "; ") + point;
  return all;
}

}  // namespace

Result<std::optional<JournalReading>> Entries::stored(std::string_view id) {
  const std::lock_guard lock(mutex_);
  return job_.find_reading(id);
}

Answer Entries::reading(std::string_view text) {
  const auto body = Body::read(text, {"id", "from", "to", "value", "time"},
                               {"conditions", "by", "meter", "note", "witness", "method", "supersedes"});
  if (!body) return refusal(body.error());
  if (const auto time = check_time(body->text("time")); !time) return refusal(time.error());
  ReadingRow row{body->text("from"),    body->text("to"),         body->text("value"), body->text("time"),
                 body->text("by"),      body->text("conditions"), body->text("meter"), body->text("method"),
                 body->text("witness"), body->text("note"),       body->text("id")};
  const auto published = watch_.published();
  const auto entry = make_entry(*published->drawing, published->meters, unnamed_, row);
  if (!entry) {
    // Sent again, after a revision took its points away.
    const auto before = stored(row.id);
    if (before && *before && (*before)->time == row.time && (*before)->value == row.value)
      return taken(Appended::already_there, {{"id", row.id}, {"standing", ""}, {"words", ""}});
    return refusal(entry.error());
  }
  row.from = entry->from, row.to = entry->to;
  const auto appended = append(row, body->text("supersedes"));
  if (!appended) return refusal(appended.error());
  watch_.wake();
  const std::string words =
      read_and_drawn(published->drawing->graph, entry->reading, entry->comparison, ReadingId{0});
  return taken(*appended, {{"id", row.id}, {"standing", word(entry->standing())}, {"words", words}});
}

Answer Entries::withdrawal(std::string_view text) {
  const auto body = Body::read(text, {"id", "supersedes", "time"}, {"by"});
  if (!body) return refusal(body.error());
  if (const auto time = check_time(body->text("time")); !time) return refusal(time.error());
  const auto withdrawn = stored(body->text("supersedes"));
  if (!withdrawn) return refusal(withdrawn.error());
  if (!*withdrawn)
    return refusal({{ErrorCode::unknown_reading,
                     "the job holds no such reading",
                     {"", 0, "", "supersedes"},
                     std::string(body->text("supersedes")),
                     "the id of a reading",
                     {}}});
  ReadingRow row;
  row.id = body->text("id"), row.time = body->text("time"), row.by = body->text("by");
  row.from = (*withdrawn)->from, row.to = (*withdrawn)->to;
  const auto appended = append(row, body->text("supersedes"));
  if (!appended) return refusal(appended.error());
  watch_.wake();
  return taken(*appended, {{"id", row.id}});
}

namespace {

/// What is logged for a finding, or was logged before under this id.
struct Logged {
  Repair repair;
  bool is_there = false;
};

constexpr int k_conflict = 409;

/// Nothing if no finding has the key, or something else has the id.
Result<std::optional<Logged>> repair_for(const LiveJob& live, const Body& body) {
  for (const Event& event : live.events().rows) {
    if (event.id != body.text("id")) continue;
    const bool is_same =
        event.kind == EventKind::repair && event.by == body.text("by") && event.time == body.text("time");
    return is_same ? std::optional(Logged{{joined(event.points), event.text}, true}) : std::nullopt;
  }
  for (const Cluster& cluster : live.state().findings().clusters)
    if (!cluster.diagnoses.empty() && diagnosis_key(cluster.diagnoses.front()) == body.text("finding"))
      return repair_of(cluster, live.drawing()->graph, live.state().readings())
          .map([](Repair repair) -> std::optional<Logged> { return Logged{std::move(repair)}; });
  return std::nullopt;
}

}  // namespace

Answer Entries::repair(std::string_view text) {
  const auto body = Body::read(text, {"id", "finding", "time"}, {"by"});
  if (!body) return refusal(body.error());
  if (const auto time = check_time(body->text("time")); !time) return refusal(time.error());
  const auto found = watch_.with_live([&](const LiveJob& live) { return repair_for(live, *body); });
  if (!found) return refusal(found.error());
  if (!*found)
    return refusal(k_conflict, "this finding is gone, or something else has the id", body->text("finding"),
                   "a finding that stands, and an id of its own");
  const auto& [repair, is_there] = **found;
  auto appended = Appended::already_there;
  if (!is_there) {
    const auto added = append(EventRow{body->text("time"), body->text("by"), word(EventKind::repair),
                                       repair.points, repair.text, body->text("id")});
    if (!added) return refusal(added.error());
    appended = *added;
    watch_.wake();
  }
  const auto again = watch_.with_live(
      [](const LiveJob& live) -> Result<std::size_t> { return live.state().comparison().stale; });
  if (!again) return refusal(again.error());
  return taken(appended, {{"id", body->text("id")}, {"points", repair.points}, {"again", *again}});
}

Answer Entries::change(std::string_view text) {
  const auto body = Body::read(text, {"id", "kind", "points", "time"}, {"by", "text"}, {"points"});
  if (!body) return refusal(body.error());
  if (body->text("kind") != word(EventKind::temporary_made) &&
      body->text("kind") != word(EventKind::temporary_undone))
    return refusal(422, "kind: no kind of temporary change", body->text("kind"),
                   "temporary-made or temporary-undone");
  const std::string points = body->list("points");
  const EventRow row{body->text("time"), body->text("by"), body->text("kind"), points,
                     body->text("text"), body->text("id")};
  const auto made = find_clamps(*watch_.published()->drawing, points);
  if (!made) return refusal(made.error());
  const auto appended = append(EventRow{row.time, row.by, row.kind, *made, row.text, row.id});
  if (!appended) return refusal(appended.error());
  watch_.wake();
  return taken(*appended, {{"id", row.id}, {"points", *made}});
}

}  // namespace ringtrue::serve
