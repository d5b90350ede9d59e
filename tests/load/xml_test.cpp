#include "load/xml.hpp"

#include <gtest/gtest.h>

#include <string>

#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

constexpr std::string_view k_root =
    "<netlist panel=\"GD1\" function=\"GD1\" location=\"A\" xmlns=\"urn:ringtrue:netlist:1\">\n";
constexpr std::string_view k_one_root =
    ", expected one <netlist xmlns=\"urn:ringtrue:netlist:1\"> around everything";

class LoadXml : public ::testing::Test {
 protected:
  Result<Netlist> load(std::string_view text) { return load_netlist(folder_.write("gd1.xml", text)); }
  /// What is inside the root, from line 2 on.
  Result<Netlist> load_inside(std::string_view text) {
    return load(std::string(k_root) + std::string(text) + "\n</netlist>\n");
  }
  /// Without a file and its check of the text.
  Result<Netlist> load_bytes(std::string_view text) {
    NetlistBuilder builder;
    const load::FileText file = file_text(text);
    builder.keep(file.bytes);
    load::read_netlist_xml(file, builder);
    return builder.finish();
  }
  std::string errors_in(std::string_view text) { return errors_of(load(text), folder_); }
  std::string errors_inside(std::string_view text) { return errors_of(load_inside(text), folder_); }
  /// The note of the only conductor.
  std::string note_in(std::string_view attribute) {
    const auto netlist = load_inside("<conductors><conductor wire=\"1\" from=\"K1:A1\" to=\"A1:1.0\" note=" +
                                     std::string(attribute) + "/></conductors>");
    return netlist ? std::string(netlist->conductor_text.get(ConductorText::note, 0))
                   : errors_of(netlist, folder_);
  }

  ScopedTempFolder folder_;
};

TEST_F(LoadXml, EmptyNetlistHasItsPanelAlone) {
  const auto netlist = load(
      "<netlist panel=\"GD1\" revision=\"B\" drawing=\"E-100\" function=\"F\" location=\"L\" "
      "safety=\"marked\" xmlns=\"urn:ringtrue:netlist:1\"/>");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->panel.name, "GD1");
  EXPECT_EQ(netlist->panel.revision, "B");
  EXPECT_EQ(netlist->panel.drawing, "E-100");
  EXPECT_EQ(netlist->panel.designation.function, "F");
  EXPECT_EQ(netlist->panel.designation.location, "L");
  EXPECT_EQ(netlist->panel.safety, Safety::marked);
  EXPECT_TRUE(netlist->conductors.empty());
}

TEST_F(LoadXml, DeclarationCommentsAndSchemaPlaceArePassedOver) {
  const auto netlist = load(
      "\xEF\xBB\xBF<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<!-- burner & fans -->\n<?sheet 1?>\n"
      "<netlist xmlns=\"urn:ringtrue:netlist:1\" xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" "
      "xsi:schemaLocation=\"urn:ringtrue:netlist:1 netlist.xsd\">\n"
      "<conductors><!-- one &only; --><conductor from=\"K1:A1\" "
      "to=\"A1:1.0\"></conductor></conductors>\n</netlist>\n<!-- end -->");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->conductors.size(), 1u);
}

TEST_F(LoadXml, RowsKnowTheirLine) {
  const auto netlist = load_inside(
      "<conductors>\n<conductor from=\"K1:A1\"\n to=\"A1:1.0\" note=\"a&#10;b &amp; c\"/>\n"
      "<conductor from=\"K1:A2\" to=\"A1:M\"/></conductors>");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->conductors[0].source.line, 3u);
  EXPECT_EQ(netlist->conductors[1].source.line, 5u);
}

TEST_F(LoadXml, SectionsMayComeInAnyOrderAndMoreThanOnce) {
  const auto netlist = load_inside(
      "<parts><part part=\"K1\" kind=\"coil\" a=\"A1\" b=\"A2\"/></parts>"
      "<conductors><conductor from=\"K1:A1\" to=\"A1:1.0\"/></conductors>"
      "<parts><part part=\"H1\" kind=\"lamp\" a=\"x1\" b=\"x2\"/></parts>");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->parts.size(), 2u);
}

TEST_F(LoadXml, PredefinedEntitiesAndCharacterReferencesAreRead) {
  EXPECT_EQ(note_in("\"&lt;fan&gt; &amp; &quot;auger&quot; &apos;1&apos; &#937;&#x3A9;\""),
            "<fan> & \"auger\" '1' \xCE\xA9\xCE\xA9");
}

TEST_F(LoadXml, ReferencesAreReadOnce) { EXPECT_EQ(note_in("\"&amp;lt;\""), "&lt;"); }

TEST_F(LoadXml, ValuesAreTrimmedAndLineBreaksBecomeBlanks) {
  EXPECT_EQ(note_in("' auger\n 2\xC2\xA0'"), "auger  2");
}

TEST_F(LoadXml, TextsLieInTheFilesBuffer) {
  const auto netlist = load_inside(
      "<conductors><conductor wire=\"12\" from=\"K1:A1\" to=\"A1:1.0\" note=\"a &amp; b\"/></conductors>");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  ASSERT_EQ(netlist->buffers.size(), 1u);
  const char* const begin = static_cast<const char*>(netlist->buffers.front().get());
  const char* const end = begin + std::filesystem::file_size(folder_.path() / "gd1.xml");
  for (const ConductorText field : {ConductorText::wire, ConductorText::note}) {
    const std::string_view text = netlist->conductor_text.get(field, 0);
    EXPECT_TRUE(begin <= text.data() && text.data() + text.size() <= end) << text;
  }
  const std::string_view place =
      netlist->points.place_name(netlist->points.place(netlist->conductors[0].from));
  EXPECT_TRUE(begin <= place.data() && place.data() + place.size() <= end) << place;
}

TEST_F(LoadXml, ReturnOfAChannelIsItsOtherFieldTerminal) {
  const auto netlist = load_inside(
      "<channels><channel point=\"A1:0.0\" type=\"DI\" field=\"X1:4.ext\" return=\"X1:2.ext\"/></channels>");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->points.name(netlist->channels.at(0).return_point), "X1:2.ext");
}

TEST_F(LoadXml, UnknownRootIsNoNetlist) {
  const auto netlist = load("<?xml version=\"1.0\"?>\n<plan/>");
  EXPECT_EQ(first_code(netlist), ErrorCode::not_a_netlist);
  EXPECT_EQ(errors_of(netlist, folder_),
            "gd1.xml:2: the root element is not a netlist: found \"plan\"" + std::string(k_one_root));
}

TEST_F(LoadXml, UnknownNamespaceIsNoNetlist) {
  const auto netlist = load("<netlist xmlns=\"urn:ringtrue:netlist:9\"/>");
  EXPECT_EQ(first_code(netlist), ErrorCode::not_a_netlist);
  EXPECT_EQ(errors_of(netlist, folder_),
            "gd1.xml:1: the netlist is of an unknown form: found \"urn:ringtrue:netlist:9\"" +
                std::string(k_one_root));
}

TEST_F(LoadXml, MissingNamespaceIsNoNetlist) {
  EXPECT_EQ(errors_in("<netlist/>"),
            "gd1.xml:1: the netlist is of an unknown form: expected one <netlist "
            "xmlns=\"urn:ringtrue:netlist:1\"> around everything");
}

TEST_F(LoadXml, EmptyFileIsNoNetlist) {
  for (const std::string_view nothing : {"", "\n", "<!-- -->"})
    EXPECT_EQ(errors_in(nothing),
              "gd1.xml: the file holds no XML element: expected one <netlist "
              "xmlns=\"urn:ringtrue:netlist:1\"> around everything");
}

TEST_F(LoadXml, WireListUnderAnXmlNameIsNoNetlist) {
  EXPECT_EQ(errors_in("from,to\nX1:1,K1:A1\n"),
            "gd1.xml:1: text stands outside the root element: found \"from,to X1:1,K1:A1 \"" +
                std::string(k_one_root));
}

TEST_F(LoadXml, SecondRootIsRefused) {
  EXPECT_EQ(errors_in("<netlist xmlns=\"urn:ringtrue:netlist:1\"/>\n<netlist/>"),
            "gd1.xml:2: a second root element: found \"netlist\"" + std::string(k_one_root));
}

TEST_F(LoadXml, UnknownSectionNamesTheNearest) {
  const auto netlist = load_inside("\n<conducters/>");
  EXPECT_EQ(first_code(netlist), ErrorCode::unknown_column);
  EXPECT_EQ(
      errors_of(netlist, folder_),
      "gd1.xml:3: netlist: unknown element: found \"conducters\", expected conductors, parts, channels or "
      "potentials; nearest: conductors");
}

TEST_F(LoadXml, UnknownRecordNamesTheNearest) {
  EXPECT_EQ(errors_inside("<parts>\n<parts/></parts>"),
            "gd1.xml:3: parts: unknown element: found \"parts\", expected part; nearest: part");
}

TEST_F(LoadXml, UnknownAttributeOfARecordNamesTheNearest) {
  EXPECT_EQ(errors_inside("<potentials><potential name=\"0V\" kind=\"dc-\" pont=\"G1:-\"/></potentials>"),
            "gd1.xml:2: potential: unknown attribute: found \"pont\", expected name, kind, volts or point; "
            "nearest: point");
}

TEST_F(LoadXml, UnknownAttributeOfTheRootNamesTheNearest) {
  EXPECT_EQ(errors_in("<netlist saftey=\"none\" xmlns=\"urn:ringtrue:netlist:1\"/>"),
            "gd1.xml:1: netlist: unknown attribute: found \"saftey\", expected panel, revision, drawing, "
            "function, location "
            "or safety; nearest: safety");
}

TEST_F(LoadXml, SectionTakesNoAttributes) {
  EXPECT_EQ(errors_inside("<parts count=\"3\"/>"),
            "gd1.xml:2: parts: unknown attribute: found \"count\", expected none here");
}

TEST_F(LoadXml, RecordHoldsNoElements) {
  EXPECT_EQ(errors_inside("<parts><part part=\"K1\" kind=\"coil\" a=\"A1\" b=\"A2\"><note/></part></parts>"),
            "gd1.xml:2: part: unknown element: found \"note\", expected none here");
}

TEST_F(LoadXml, TextBetweenElementsIsTold) {
  EXPECT_EQ(
      errors_inside("<parts>\n K1 coil\n</parts>"),
      "gd1.xml:2: parts: text stands between the elements: found \"  K1 coil \", expected only elements");
}

TEST_F(LoadXml, AttributeTwiceIsTold) {
  const auto netlist =
      load_inside("<conductors><conductor from=\"K1:A1\" to=\"A1:1.0\" from=\"K1:A2\"/></conductors>");
  EXPECT_EQ(first_code(netlist), ErrorCode::bad_xml);
  EXPECT_EQ(errors_of(netlist, folder_),
            "gd1.xml:2: conductor: from: the attribute stands twice: found \"K1:A2\", expected each "
            "attribute once");
}

TEST_F(LoadXml, ConductorWithoutAnEndIsToldWithItsPlace) {
  const auto netlist = load_inside("<conductors>\n<conductor wire=\"7\" from=\"K1:A1\"/></conductors>");
  EXPECT_EQ(first_code(netlist), ErrorCode::conductor_without_end);
  EXPECT_EQ(netlist.error().front().place.line, 3u);
  EXPECT_EQ(netlist.error().front().place.element, "conductor");
}

TEST_F(LoadXml, DoctypeIsRefused) {
  const auto netlist = load(
      "<?xml version=\"1.0\"?>\n<!DOCTYPE netlist [<!ENTITY a \"X1:1\">]>\n<netlist "
      "xmlns=\"urn:ringtrue:netlist:1\"/>");
  EXPECT_EQ(first_code(netlist), ErrorCode::bad_xml);
  EXPECT_EQ(errors_of(netlist, folder_),
            "gd1.xml:2: a DOCTYPE stands in the file, which is not read: expected a netlist without DOCTYPE");
}

TEST_F(LoadXml, DoctypeInsideTheRootIsRefused) {
  EXPECT_EQ(errors_inside("<!DOCTYPE netlist>"),
            "gd1.xml:2: a DOCTYPE stands in the file, which is not read: expected a netlist without DOCTYPE");
}

TEST_F(LoadXml, UnknownEntityIsNeverExpanded) {
  EXPECT_EQ(note_in("\"&fan;\""),
            "gd1.xml:2: a \"&\" starts no character that is known here: found \"&fan;\", expected &amp; for "
            "a plain &");
}

TEST_F(LoadXml, PlainAmpersandIsTold) {
  EXPECT_EQ(
      note_in("\"fan & auger\""),
      "gd1.xml:2: a \"&\" starts no character that is known here: found \"&\", expected &amp; for a plain &");
}

TEST_F(LoadXml, ReferencesToNoCharacterAreRefused) {
  for (const std::string_view bad : {"&#0;", "&#x0;", "&#31;", "&#xD800;", "&#x110000;", "&#xFFFF;",
                                     "&#99999999999;", "&#;", "&#x;", "&#-1;", "&#12a;", "&;"})
    EXPECT_EQ(note_in("\"" + std::string(bad) + "\"").substr(0, 53),
              "gd1.xml:2: a \"&\" starts no character that is known he")
        << bad;
}

TEST_F(LoadXml, OtherEncodingThanDeclaredIsRefused) {
  const auto netlist =
      load("<?xml version=\"1.0\" encoding=\"KOI8-R\"?><netlist xmlns=\"urn:ringtrue:netlist:1\"/>");
  EXPECT_EQ(first_code(netlist), ErrorCode::bad_text);
  EXPECT_EQ(
      errors_of(netlist, folder_),
      "gd1.xml:1: the file declares another encoding than it has: found \"KOI8-R\", expected UTF-8, UTF-16, "
      "ISO-8859-1 or Windows-1252, as the text is encoded");
  EXPECT_FALSE(
      load("<?xml version=\"1.0\" encoding=\"UTF-8\"?><netlist panel=\"T\xFCr\" "
           "xmlns=\"urn:ringtrue:netlist:1\"/>"));
}

TEST_F(LoadXml, WesternEncodingsAreReadAsDeclared) {
  for (const char* encoding : {"ISO-8859-1", "windows-1252"}) {
    const auto netlist = load("<?xml version=\"1.0\" encoding=\"" + std::string(encoding) +
                              "\"?><netlist panel=\"T\xFCr\" xmlns=\"urn:ringtrue:netlist:1\"/>");
    ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
    EXPECT_EQ(netlist->panel.name, "T\xC3\xBCr");
  }
}

TEST_F(LoadXml, FileCutShortIsTold) {
  EXPECT_EQ(errors_in(std::string(k_root) + "<conductors>\n<conductor from=\"K1:A1\" to=\"A1:1.0\"/>\n"),
            "gd1.xml:3: the file ends before every element is closed; it seems to be cut short: expected "
            "</netlist>");
}

TEST_F(LoadXml, BrokenSyntaxIsToldInPlainWords) {
  const auto broken = [&](std::string_view text) {
    return errors_inside("<conductors>\n" + std::string(text) + "\n</conductors>");
  };
  EXPECT_EQ(broken("<conductor from=\"K1:A1\"to=\"A1:1.0\"/>"),
            "gd1.xml:3: an attribute is broken: expected name=\"value\", apart from the next by a blank");
  EXPECT_EQ(broken("<conductor from=K1:A1/>"),
            "gd1.xml:3: an attribute is broken: expected name=\"value\", apart from the next by a blank");
  EXPECT_EQ(broken("< conductor/>"),
            "gd1.xml:3: a \"<\" is not followed by the name of an element: expected &lt; for a plain <");
  EXPECT_EQ(broken("<conductor></part>"),
            "gd1.xml:3: an end tag closes another element than the one that is open: expected each element "
            "closed before "
            "the one around it");
  EXPECT_EQ(broken("<conductor / >"),
            "gd1.xml:3: the start tag of an element is broken: expected <name attribute=\"value\">");
  EXPECT_EQ(broken("<!-- no end"),
            "gd1.xml:5: a comment is broken or not closed before the end of the file: expected <!-- ... -->");
  EXPECT_EQ(broken("<![CDATA[ no end"),
            "gd1.xml:3: a CDATA section is broken or not closed before the end of the file: expected only "
            "elements");
}

TEST_F(LoadXml, TextInsideARowIsTold) {
  EXPECT_EQ(
      errors_inside("<parts>\n<part part=\"K1\" kind=\"coil\" a=\"A1\" b=\"A2\">fan relay</part></parts>"),
      "gd1.xml:3: part: text stands between the elements: found \"fan relay\", expected only elements");
}

TEST_F(LoadXml, MistakesAreGatheredUpToTheLimit) {
  std::string parts = "<parts>";
  for (int i = 0; i < 80; ++i) parts += "<fan/>\n";
  const auto netlist = load_inside(parts + "</parts>");
  ASSERT_FALSE(netlist);
  EXPECT_EQ(netlist.error().size(), k_max_errors);
}

TEST_F(LoadXml, DeepNestingIsNoHarm) {
  std::string text;
  for (int i = 0; i < 200000; ++i) text += "<a>";
  EXPECT_EQ(errors_in(text),
            "gd1.xml:1: the file ends before every element is closed; it seems to be cut short: expected "
            "</netlist>");
}

TEST_F(LoadXml, CutAtEveryLengthIsAMistakeUntilTheRootIsClosed) {
  const std::string text =
      "<?xml version=\"1.0\"?>\n<!-- GD1 -->\n" + std::string(k_root) +
      "<conductors>\n<conductor wire=\"1\" from=\"=GD1+A-X1:1.int\" to='K1:A1' note=\"a &amp; b\"/>\n"
      "<conductor wire=\"2\" from=\"X1:2.int\" to=\"K1:A2\"></conductor></conductors>\n"
      "<parts><part part=\"K1\" kind=\"coil\" a=\"A1\" b=\"A2\"/></parts>\n</netlist>\n";
  ASSERT_TRUE(load(text)) << errors_in(text);
  for (std::size_t length = 0; length + 1 < text.size(); ++length) {
    const auto netlist = load_bytes(text.substr(0, length));
    ASSERT_FALSE(netlist) << text.substr(0, length);
    EXPECT_FALSE(netlist.error().front().message.empty());
    EXPECT_FALSE(netlist.error().front().expected.empty()) << length;
  }
}

TEST_F(LoadXml, AnyByteChangedIsAMistakeOrANetlist) {
  const std::string text = std::string(k_root) +
                           "<conductors><conductor wire=\"1\" from=\"X1:1.int\" to=\"K1:A1\" "
                           "note=\"&#65;&amp;\"/></conductors></netlist>";
  for (std::size_t at = 0; at < text.size(); ++at)
    for (const char changed : {'\0', '<', '>', '&', '"', '\'', ';', '\n', '/', '!', '\xFF'}) {
      std::string broken = text;
      broken[at] = changed;
      const auto netlist = load_bytes(broken);
      EXPECT_TRUE(netlist ? netlist->conductors.size() <= 1 : !netlist.error().empty()) << broken;
    }
}

}  // namespace
}  // namespace ringtrue
