#include "ringtrue/base/error.hpp"

namespace ringtrue {

const std::vector<ErrorCodeInfo>& error_codes() {
  using enum ErrorCode;
  static const std::vector<ErrorCodeInfo> codes = {
      {file_unreadable, "file-unreadable", "the file is missing or cannot be read"},
      {file_too_large, "file-too-large", "the file is above the size limit"},
      {file_exists, "file-exists", "something stands where a file or folder is to be written"},
      {file_unwritable, "file-unwritable", "the file or folder cannot be written"},
      {not_a_netlist, "not-a-netlist", "the file is something else than was asked for"},
      {bad_text, "bad-text", "bytes that are not UTF-8 text, or characters that the form written cannot hold"},
      {bad_csv, "bad-csv", "quotes or columns that do not match up"},
      {bad_xml, "bad-xml", "XML that is broken or cut short"},
      {bad_mapping, "bad-mapping", "a mapping file that does not say how to read an export"},
      {no_header, "no-header", "a CSV file without its header line"},
      {missing_column, "missing-column", "a column that every such file needs is absent"},
      {repeated_column, "repeated-column", "the same column twice"},
      {unknown_column, "unknown-column", "an attribute or element that no such record has"},
      {missing_field, "missing-field", "a field that every such row needs is empty"},
      {unknown_kind, "unknown-kind", "a word that is none of the words the field takes"},
      {bad_number, "bad-number", "text where a number belongs, or a number out of range"},
      {bad_point, "bad-point", "a name that is no point, or that the drawing lacks"},
      {conductor_without_end, "conductor-without-end", "a conductor, other than a core, with only one end"},
      {ambiguous_side, "ambiguous-side", "a bare name of a terminal whose sides can be parted"},
      {side_on_single_point, "side-on-single-point", "a side on a point that has none"},
      {bad_condition, "bad-condition", "a condition that is not OBJECT=STATE"},
      {unknown_object, "unknown-object", "a condition on a part or wire that the drawing lacks"},
      {state_does_not_fit, "state-does-not-fit", "a state that this kind of part cannot have"},
      {two_states, "two-states", "one object in two states at once"},
      {repeated_row, "repeated-row", "a name that must be unique stands in the file twice"},
      {bad_reading, "bad-reading", "a value that no meter shows"},
      {bad_time, "bad-time", "a time that is not RFC 3339"},
      {unknown_channel, "unknown-channel", "a channel that the drawing lacks"},
      {unknown_reading, "unknown-reading", "a reading to supersede that the job lacks"},
      {not_a_job, "not-a-job", "a file that is no job"},
      {newer_job, "newer-job", "a job of a form that this program does not know yet"},
      {damaged_job, "damaged-job", "a job whose file is damaged"},
      {read_only_job, "read-only-job", "a job, or a folder of one, that may not be written to"},
      {busy_job, "busy-job", "a job that another program keeps to itself"},
      {disk_full, "disk-full", "no room on the disk for what was to be written"},
      {bad_logic, "bad-logic", "logic that is no Structured Text of the kind that is read here"},
      {bad_call, "bad-call", "the command was called the wrong way"},
  };
  return codes;
}

std::string_view name_of(ErrorCode code) { return error_codes()[static_cast<std::size_t>(code)].name; }

namespace {

std::string place_text(const Place& place) {
  std::string text = place.file;
  if (place.line != 0) text += (text.empty() ? "line " : ":") + std::to_string(place.line);
  for (const std::string* part : {&place.element, &place.field})
    if (!part->empty()) text += (text.empty() ? "" : ": ") + *part;
  return text;
}

}  // namespace

std::string to_text(const Error& error) {
  std::string text = place_text(error.place);
  if (!text.empty()) text += ": ";
  text += error.message;
  if (!error.found.empty()) text += ": found \"" + error.found + "\"";
  if (!error.expected.empty()) text += (error.found.empty() ? ": expected " : ", expected ") + error.expected;
  for (std::size_t i = 0; i < error.nearest.size(); ++i)
    text += (i == 0 ? "; nearest: " : ", ") + error.nearest[i];
  return text;
}

}  // namespace ringtrue
