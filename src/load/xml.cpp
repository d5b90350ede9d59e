// The file is parsed in place by pugixml. Three facts of it are relied on, and tests hold them:
//   - In place, with the encoding given as UTF-8, the parser works on the very buffer it is handed. Names and
//   values
//     of attributes are pointers into it and stay valid when the document is dropped.
//   - References are closed up within the value they stand in, so offsets stay those of the text as it was;
//   the
//     index of lines is made before parsing all the same, because line breaks in values become blanks.
//   - It expands no entity of a DOCTYPE, and leaves unknown ones as they stand; those are refused beforehand.
// The tree costs about 40 bytes per attribute and 64 per element while it is walked.
#include "load/xml.hpp"

#include <algorithm>
#include <pugixml.hpp>
#include <span>
#include <string>
#include <string_view>
#include <vector>
#ifdef __GLIBC__
#include <malloc.h>
#endif

#include "load/text.hpp"
#include "load/xml_syntax.hpp"
#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/base/utf8.hpp"

namespace ringtrue::load {

namespace {

constexpr std::string_view k_namespace = "urn:ringtrue:netlist:1";
constexpr std::string_view k_sections[] = {"conductors", "parts", "channels", "potentials"};

using Names = std::vector<std::string_view>;

std::string listed(std::span<const std::string_view> names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " or " : ", ";
    text += names[i];
  }
  return text;
}

template <class Row>
Names field_names() {
  Names names;
  for (const FieldOf<Row>& field : fields_of<Row>()) names.push_back(field.name);
  return names;
}

/// Attributes that belong to XML itself: where a schema lies, a prefix, a language.
bool is_of_xml(std::string_view attribute) {
  return attribute == "xmlns" || attribute.starts_with("xmlns:") || attribute.starts_with("xsi:") ||
         attribute.starts_with("xml:");
}

class NetlistXml {
 public:
  NetlistXml(const FileText& file, NetlistBuilder& builder)
      : file_(file), builder_(builder), lines_(file.view()), file_number_(builder.add_file(file.name)) {}

  void read() {
    if (!parse() || !check_prolog()) return;
    const pugi::xml_node root = find_root();
    if (!root) return;
    PanelRow panel;
    take_attributes(root, panel);
    builder_.set_panel(panel, source(root));
    // Mostly each record has a line. Going through the tree to count them would take longer than to grow.
    constexpr std::size_t k_short_record = 60;
    builder_.reserve_conductors(std::min(lines_.size(), file_.size / k_short_record));
    for (const pugi::xml_node section : root.children()) read_section(section);
  }

 private:
  bool parse() {
    const std::string_view text = file_.view();
    is_ascii_ = is_ascii(text);
    if (const auto bad = find_bad_reference(text)) return fail_syntax(*bad);
    // A fragment may hold text outside the root and several roots: both are to be told rather than passed
    // over. The NUL behind the text is handed over as its last character, because the parser overwrites that
    // one.
    constexpr unsigned k_options =
        pugi::parse_default | pugi::parse_fragment | pugi::parse_declaration | pugi::parse_doctype;
    const pugi::xml_parse_result result =
        document_.load_buffer_inplace(file_.begin, file_.size + 1, k_options, pugi::encoding_utf8);
    const auto broken = find_broken_syntax(result, {file_.begin, file_.size}, "netlist");
    return !broken || fail_syntax(*broken);
  }

  bool check_prolog() {
    for (const pugi::xml_node node : document_.children()) {
      if (node.type() == pugi::node_doctype) return fail_doctype(node);
      const std::string_view encoding =
          node.type() == pugi::node_declaration ? node.attribute("encoding").value() : "";
      if (is_encoded_as(encoding)) continue;
      add_error(ErrorCode::bad_text, "the file declares another encoding than it has", node, encoding,
                "UTF-8, UTF-16, ISO-8859-1 or Windows-1252, as the text is encoded");
      return false;
    }
    return true;
  }

  /// Windows-1252 is read for ISO-8859-1, of which it only fills gaps.
  [[nodiscard]] bool is_encoded_as(std::string_view declared) const {
    const bool is_western = file_.encoding == "WINDOWS-1252",
               is_wide = file_.encoding.substr(0, 6) == "UTF-16";
    if (declared.empty()) return true;
    if (equal_without_case(declared.substr(0, 6), "utf-16")) return is_wide;
    if (equal_without_case(declared, "iso-8859-1") || equal_without_case(declared, "windows-1252"))
      return is_western || is_ascii_;
    return (equal_without_case(declared, "utf-8") || equal_without_case(declared, "us-ascii")) && !is_western;
  }

  bool fail_doctype(pugi::xml_node node) {
    add_error(ErrorCode::bad_xml, "a DOCTYPE stands in the file, which is not read", node, "",
              "a netlist without DOCTYPE");
    return false;
  }

  /// The one element at the top, if it is a netlist's.
  pugi::xml_node find_root() {
    pugi::xml_node root;
    for (const pugi::xml_node node : document_.children()) {
      if (node.type() == pugi::node_declaration) continue;
      if (node.type() != pugi::node_element)
        return fail_root("text stands outside the root element", node, node.value());
      if (root) return fail_root("a second root element", node, node.name());
      root = node;
    }
    if (!root) return fail_root("the file holds no XML element", root, "");
    if (std::string_view(root.name()) != "netlist")
      return fail_root("the root element is not a netlist", root, root.name());
    const std::string_view name_space = root.attribute("xmlns").value();
    if (name_space != k_namespace) return fail_root("the netlist is of an unknown form", root, name_space);
    return root;
  }

  pugi::xml_node fail_root(std::string message, pugi::xml_node node, std::string_view found) {
    add_error(ErrorCode::not_a_netlist, std::move(message), node, found,
              "one <netlist xmlns=\"" + std::string(k_namespace) + "\"> around everything");
    return {};
  }

  void read_section(pugi::xml_node section) {
    const std::string_view name = section.name();
    if (section.type() != pugi::node_element) return add_text_between(section);
    if (name == "conductors") return read_records<ConductorRow>(section, "conductor");
    if (name == "parts") return read_records<PartRow>(section, "part");
    if (name == "channels") return read_records<ChannelRow>(section, "channel");
    if (name == "potentials") return read_records<PotentialRow>(section, "potential");
    add_unknown("unknown element", section, name, k_sections);
  }

  template <class Row>
  void read_records(pugi::xml_node section, std::string_view name) {
    for (const pugi::xml_attribute attribute : section.attributes())
      add_unknown_attribute(section, attribute, {});
    for (const pugi::xml_node record : section.children()) {
      if (builder_.has_enough_errors()) return;
      if (record.type() != pugi::node_element)
        add_text_between(record);
      else if (record.name() != name)
        add_unknown("unknown element", record, record.name(), {&name, 1});
      else
        read_record<Row>(record);
    }
  }

  template <class Row>
  void read_record(pugi::xml_node record) {
    Row row;
    const bool is_whole = take_attributes(record, row);
    for (const pugi::xml_node child : record.children()) {
      if (child.type() != pugi::node_element)
        add_text_between(child);
      else
        add_unknown("unknown element", child, child.name(), {});
    }
    if (is_whole) builder_.add(row, source(record));
  }

  /// False if an attribute was unknown or stood twice, so that a row without it would bring further errors.
  template <class Row>
  bool take_attributes(pugi::xml_node node, Row& row) {
    const std::span<const FieldOf<Row>> fields = fields_of<Row>();
    bool is_whole = true;
    std::size_t guess = 0;  // files mostly keep the order of the table
    for (const pugi::xml_attribute attribute : node.attributes()) {
      const std::size_t field = field_named(fields, attribute.name(), guess);
      guess = field + 1;
      if (field == fields.size()) {
        if (is_of_xml(attribute.name())) continue;
        add_unknown_attribute(node, attribute, field_names<Row>());
        is_whole = false;
      } else if (std::string_view& text = row.*fields[field].member; text.data() != nullptr) {
        add_repeated(node, attribute);
        is_whole = false;
      } else {
        text = trimmed(attribute.value());
      }
    }
    return is_whole;
  }

  /// Index of the field, looked for from `guess` on and then from the start; the number of fields if there is
  /// none.
  template <class Row>
  static std::size_t field_named(std::span<const FieldOf<Row>> fields, std::string_view name,
                                 std::size_t guess) {
    for (std::size_t i = guess; i < fields.size(); ++i)
      if (fields[i].name == name) return i;
    for (std::size_t i = 0; i < std::min(guess, fields.size()); ++i)
      if (fields[i].name == name) return i;
    return fields.size();
  }

  void add_unknown_attribute(pugi::xml_node node, pugi::xml_attribute attribute, const Names& known) {
    if (!is_of_xml(attribute.name()))
      add_unknown("unknown attribute", node, attribute.name(), known, node.name());
  }

  /// `element` names the place; where it is empty that is the element around the node.
  void add_unknown(std::string message, pugi::xml_node node, std::string_view found,
                   std::span<const std::string_view> known, std::string_view element = {}) {
    Error error = error_at(ErrorCode::unknown_column, std::move(message), node, found,
                           known.empty() ? "none here" : listed(known));
    error.place.element = element.empty() ? node.parent().name() : element;
    NearestNames nearest(found);
    for (const std::string_view name : known) nearest.offer(name);
    error.nearest = nearest.take();
    builder_.add_error(std::move(error));
  }

  void add_repeated(pugi::xml_node node, pugi::xml_attribute attribute) {
    Error error = error_at(ErrorCode::bad_xml, "the attribute stands twice", node, attribute.value(),
                           "each attribute once");
    error.place.element = node.name();
    error.place.field = attribute.name();
    builder_.add_error(std::move(error));
  }

  void add_text_between(pugi::xml_node text) {
    Error error =
        error_at(ErrorCode::bad_xml, "text stands between the elements", text, text.value(), "only elements");
    error.place.element = text.parent().name();
    builder_.add_error(std::move(error));
  }

  void add_error(ErrorCode code, std::string message, pugi::xml_node node, std::string_view found,
                 std::string expected) {
    builder_.add_error(error_at(code, std::move(message), node, found, std::move(expected)));
  }

  bool fail_syntax(const XmlMistake& mistake) {
    Error error = error_at(ErrorCode::bad_xml, mistake.message, {}, mistake.found, mistake.expected);
    error.place.line = lines_.line_of(mistake.offset);
    builder_.add_error(std::move(error));
    return false;
  }

  [[nodiscard]] Error error_at(ErrorCode code, std::string message, pugi::xml_node node,
                               std::string_view found, std::string expected) const {
    Error error{code, std::move(message), {file_.name, 0, "", ""}, excerpt(found), std::move(expected), {}};
    if (node) error.place.line = source(node).line;
    return error;
  }

  /// Attributes have no offset of their own in the parser; their element's line is near enough.
  [[nodiscard]] RowSource source(pugi::xml_node node) const {
    const std::ptrdiff_t offset = node.offset_debug();
    return {offset < 0 ? 0 : lines_.line_of(static_cast<std::size_t>(offset)), file_number_};
  }

  const FileText& file_;
  bool is_ascii_ = false;  ///< before references were resolved
  NetlistBuilder& builder_;
  LineIndex lines_;
  std::uint16_t file_number_;
  pugi::xml_document document_;
};

}  // namespace

void read_netlist_xml(const FileText& file, NetlistBuilder& builder) {
  NetlistXml(file, builder).read();
#ifdef __GLIBC__
  malloc_trim(0);  // the tree was three times as large as the text; what is read next wants the memory
#endif
}

}  // namespace ringtrue::load
