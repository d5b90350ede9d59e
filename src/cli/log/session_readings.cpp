#include <algorithm>

#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/graph/typed_names.hpp"
#include "ringtrue/live/clock.hpp"
#include "ringtrue/model/condition.hpp"
#include "session.hpp"

// What a session does with readings.

namespace ringtrue::cli::log {

namespace {

bool is_of_digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

/// Panels number their wires, so that `12` may be meant as one where ohms were expected.
Result<void> must_be_no_wire(const Take& typed, const Netlist& net) {
  if (!typed.to.empty() || !is_of_digits(typed.value)) return {};
  for (std::size_t i = 0; i < net.conductors.size(); ++i)
    if (net.conductor_name(i) == typed.value)
      return fail({ErrorCode::bad_reading,
                   "this may be ohms or a wire",
                   {},
                   typed.value,
                   typed.value + "ohm for the value; wire " + typed.value + " VALUE; expect " +
                       (typed.from.empty() ? typed.value : typed.from + " " + typed.value),
                   {}});
  return {};
}

/// By what it opens and moves, not by the order or the blanks of its text.
bool same_condition(std::string_view a, std::string_view b, const Netlist& netlist) {
  const auto one = parse_condition(a, netlist), other = parse_condition(b, netlist);
  return one && other &&
         std::equal(one->settings.begin(), one->settings.end(), other->settings.begin(),
                    other->settings.end(), [](const Setting& x, const Setting& y) {
                      return x.object == y.object && x.state == y.state && x.position == y.position;
                    });
}

/// Two words were a wire and a value, and there is no such wire: a point was meant, perhaps a misspelt one.
Errors as_point(Errors errors, const Take& typed, const Netlist& netlist) {
  Error& error = errors.front();
  if (!typed.to.empty() || error.code != ErrorCode::unknown_object || error.place.field != "from")
    return errors;
  const auto point = find_typed_point(typed.from, netlist);
  if (point && point->is_literal)
    return {{ErrorCode::missing_field,
             "a reading needs two points",
             {"", 0, "", "to"},
             "",
             "the point of the other lead",
             {}}};
  if (!point)
    error.nearest.insert(error.nearest.end(), point.error().front().nearest.begin(),
                         point.error().front().nearest.end());
  return errors;
}

Errors with_commands(Errors errors, std::string_view typed) {
  NearestNames nearest(typed);
  for (const CommandWord& command : command_words()) nearest.offer(command.word);
  for (std::string& name : nearest.take()) errors.front().nearest.push_back(std::move(name));
  return errors;
}

std::string upper(std::string_view text) {
  std::string up(text);
  for (char& c : up)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return up;
}

ReadingRow row_of(const JournalReading& journal) {
  ReadingRow row;
  row.from = journal.from, row.to = journal.to, row.conditions = journal.conditions;
  row.meter = journal.meter, row.method = journal.method, row.witness = journal.witness;
  row.note = journal.note;
  return row;
}

}  // namespace

Result<void> Session::run(const Take& typed) {
  if (auto clear = must_be_no_wire(typed, netlist()); !clear) return clear;
  if (typed.from.empty()) return log_proposed(typed.value);
  ReadingRow row;
  row.from = typed.from, row.to = typed.to, row.value = typed.value, row.conditions = condition_;
  return log(row).map_error([&](Errors errors) { return as_point(std::move(errors), typed, netlist()); });
}

Result<void> Session::log_proposed(const std::string& value) {
  const auto& reading = proposed();
  if (!reading) return fail({ErrorCode::bad_call, "no reading is proposed", {}, value, "FROM TO VALUE", {}});
  if (parse_value(value)->kind >= ValueKind::volts)
    return fail(
        {ErrorCode::bad_reading, "this doesn't say where it was read", {}, value, "POINT " + value, {}});
  if (!same_condition(reading->conditions, condition_, netlist()))
    return fail({ErrorCode::bad_condition,
                 "the reading proposed is under another condition; nothing was logged",
                 {},
                 "",
                 reading->conditions.empty() ? "rest, then the value" : "set, then the value",
                 {}});
  // Nor does it count as shown now: whoever types without seeing would give its value to the next one.
  if (!was_shown(*reading))
    return fail({ErrorCode::bad_call,
                 "the reading proposed wasn't shown before; nothing was logged",
                 {},
                 value,
                 "FROM TO " + value + ", or next, which shows it",
                 {}});
  const Upcoming taken = *reading;
  ReadingRow row;
  row.from = taken.from, row.to = taken.to, row.value = value, row.conditions = taken.conditions;
  return log(row);
}

Result<void> Session::log(ReadingRow row, std::string_view supersedes) {
  if (row.value == "1") {
    Error error = bare_one();
    error.place.field = "value";
    return tl::unexpected(Errors{std::move(error)});
  }
  const std::string time = time_now();
  if (row.time.empty()) row.time = time;
  row.by = options_.by;
  if (supersedes.empty()) row.meter = options_.meter, row.witness = options_.witness;
  if (!note_.empty()) row.note = note_;
  const std::shared_ptr<const Drawing> drawing = live_.drawing();
  const auto entry = make_entry(*drawing, live_.meters(), options_.live.meter, row);
  if (!entry) return tl::unexpected(entry.error());
  row.from = entry->from, row.to = entry->to;
  const auto id = numbering_.append(job_, row, supersedes);
  if (!id) return tl::unexpected(id.error());
  print_(acknowledgement(*id, *entry, *drawing, options_.colour));
  added(*id);
  logged_.push_back(*id);
  note_.clear();
  catch_up();
  tell_contradicting(*id);
  return {};
}

Result<void> Session::run(const Ask& typed) {
  ReadingRow row;
  row.from = typed.from, row.to = typed.to, row.value = "beep", row.conditions = condition_;
  const auto entry = make_entry(*live_.drawing(), live_.meters(), options_.live.meter, row);
  if (!entry) {
    if (typed.to.empty()) return tl::unexpected(with_commands(entry.error(), typed.from));
    return tl::unexpected(entry.error());
  }
  print_(expectation(*entry, *live_.drawing()));
  return {};
}

Result<JournalReading> Session::row_to_supersede(const std::string& id) const {
  const auto wrong = [&](std::string message, std::string_view found, std::string expected) {
    return fail(
        {ErrorCode::unknown_reading, std::move(message), {}, std::string(found), std::move(expected), {}});
  };
  if (id.empty() && logged_.empty())
    return wrong("no reading was logged here that still stands", "", "the id of a reading");
  const std::string wanted = id.empty() ? logged_.back() : id;
  auto row = job_.find_reading(wanted);
  if (row && !*row) row = job_.find_reading(upper(wanted));
  if (!row) return tl::unexpected(row.error());
  if (!*row) return wrong("the job has no such reading", wanted, "an id, such as last shows them");
  if ((*row)->value.empty()) return wrong("this withdraws a reading and is none", wanted, "a reading");
  if (!(*row)->superseded_by.empty())
    return wrong("this reading no longer counts since " + (*row)->superseded_by, wanted, "one that stands");
  return **row;
}

Result<void> Session::run(const Undo& typed) {
  const std::string wanted = typed.id.empty() && !logged_.empty() ? logged_.back() : typed.id;
  for (const std::string& one : {wanted, upper(wanted)})
    if (const auto undone = undo_result(one); !undone || *undone) return undone.map([](bool) {});
  const auto withdrawn = row_to_supersede(typed.id);
  if (!withdrawn) return tl::unexpected(withdrawn.error());
  const std::string time = time_now();
  ReadingRow row = row_of(*withdrawn);
  row.time = time, row.by = options_.by;
  const auto id = numbering_.append(job_, row, withdrawn->id);
  if (!id) return tl::unexpected(id.error());
  print_(*id + "  undoes " + withdrawn->id + ": " +
         points_words(withdrawn->from, withdrawn->to, withdrawn->conditions) + ", " + withdrawn->value +
         "\n");
  added(*id);
  std::erase(logged_, withdrawn->id);
  catch_up();
  return {};
}

Result<void> Session::run(const Correct& typed) {
  const auto corrected = row_to_supersede(typed.id);
  if (!corrected) return tl::unexpected(corrected.error());
  ReadingRow row = row_of(*corrected);
  // It was read when it was read: a repair since then leaves it stale.
  row.value = typed.value, row.time = corrected->time;
  auto done = log(row, corrected->id);
  if (done) std::erase(logged_, corrected->id);
  return done;
}

}  // namespace ringtrue::cli::log
