// Written by hand and not by pugixml, which prints whole trees: a tree of a million rows takes more memory
// than the netlist. What is left is one kind of line and one rule of escaping.
#include "write/xml.hpp"

#include <optional>
#include <string>

#include "ringtrue/model/number.hpp"
#include "ringtrue/write/whole_file.hpp"
#include "write/decimal.hpp"
#include "ringtrue/write/netlist_rows.hpp"

namespace ringtrue::write {

namespace {

/// What stands for a character in an attribute; nothing where it stands for itself. Line breaks and tabs
/// would be read as blanks. Source: XML 1.0, fifth edition, sections 2.4 and 3.3.3.
std::string_view reference_of(char c) {
  switch (c) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '"':
      return "&quot;";
    case '\t':
      return "&#9;";
    case '\n':
      return "&#10;";
    case '\r':
      return "&#13;";
    default:
      return {};
  }
}

/// Where a character stands that XML cannot hold, not even by a reference; `npos` if there is none. Source:
/// XML 1.0, fifth edition, production [2] Char. U+FFFE and U+FFFF are the only ones above the control
/// characters.
std::size_t first_forbidden(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if (byte < 0x20 && byte != '\t' && byte != '\n' && byte != '\r') return i;
    const std::string_view here = text.substr(i, 3);
    if (byte == 0xEF && (here == "\xEF\xBF\xBE" || here == "\xEF\xBF\xBF")) return i;
  }
  return text.npos;
}

std::string code_of(char c) {
  constexpr std::string_view k_digits = "0123456789ABCDEF";
  const auto value = static_cast<unsigned char>(c);
  return std::string("byte ") + k_digits[value >> 4] + k_digits[value & 15];
}

class NetlistXml {
 public:
  NetlistXml(const Netlist& netlist, const std::filesystem::path& path) : rows_(netlist), file_(path) {}

  Result<void> write() {
    file_.put("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<netlist");
    put_attributes(rows_.row<PanelRow>(0), 0);
    file_.put(" xmlns=\"urn:ringtrue:netlist:1\">\n");
    put_section<ConductorRow>("conductors", "conductor");
    if (rows_.count<PartRow>() != 0) put_section<PartRow>("parts", "part");
    if (rows_.count<ChannelRow>() != 0) put_section<ChannelRow>("channels", "channel");
    if (rows_.count<PotentialRow>() != 0) put_section<PotentialRow>("potentials", "potential");
    file_.put("</netlist>\n");
    if (!errors_.empty()) return tl::unexpected(std::move(errors_));
    return file_.finish();
  }

 private:
  template <class Row>
  void put_section(std::string_view section, std::string_view record) {
    put_tag("  <", section);
    for (std::size_t i = 0; i < rows_.count<Row>() && errors_.size() < k_max_errors; ++i) {
      file_.put("    <");
      file_.put(record);
      put_attributes(as_in_schema(rows_.row<Row>(i)), i);
      file_.put("/>\n");
    }
    put_tag("  </", section);
  }

  void put_tag(std::string_view opening, std::string_view section) {
    file_.put(opening);
    file_.put(section);
    file_.put(">\n");
  }

  template <class Row>
  void put_attributes(const Row& row, std::size_t at) {
    for (const FieldOf<Row>& field : fields_of<Row>()) {
      const std::string_view text = row.*field.member;
      if (text.empty() && !field.required) continue;
      if (const std::size_t bad = first_forbidden(text); bad != text.npos)
        add_forbidden(rows_.source<Row>(at), field.name, code_of(text[bad]));
      file_.put(' ');
      file_.put(field.name);
      file_.put("=\"");
      put_text(text);
      file_.put('"');
    }
  }

  void put_text(std::string_view text) {
    for (std::size_t stop = text.find_first_of("&<\"\t\n\r"); stop != text.npos;
         stop = text.find_first_of("&<\"\t\n\r")) {
      file_.put(text.substr(0, stop));
      file_.put(reference_of(text[stop]));
      text.remove_prefix(stop + 1);
    }
    file_.put(text);
  }

  template <class Row>
  const Row& as_in_schema(const Row& row) {
    return row;
  }
  ConductorRow as_in_schema(ConductorRow row) {
    row.mm2 = as_decimal(row.mm2, mm2_);
    row.length_m = as_decimal(row.length_m, length_);
    return row;
  }

  /// A conductor's numbers are kept as they were written; the schema has no decimal comma and no exponent.
  static std::string_view as_decimal(std::string_view text, std::string& storage) {
    const bool is_plain = text.find_first_of(",eE") == text.npos;
    const auto value = is_plain ? std::nullopt : parse_number(text);
    return value ? std::string_view(storage = decimal(*value)) : text;
  }

  void add_forbidden(Place place, std::string_view field, std::string found) {
    place.field = field;
    errors_.push_back({ErrorCode::bad_text,
                       "the text holds a character that XML cannot hold",
                       std::move(place),
                       std::move(found),
                       "text without control characters, or a folder of CSV files to write to",
                       {}});
  }

  NetlistRows rows_;
  OutputFile file_;
  std::string mm2_, length_;
  Errors errors_;
};

}  // namespace

Result<void> write_xml_file(const Netlist& netlist, const std::filesystem::path& path) {
  return NetlistXml(netlist, path).write();
}

}  // namespace ringtrue::write
