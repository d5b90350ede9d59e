#include "svg.hpp"

namespace ringtrue::picture {

void Svg::new_line() {
  if (!out_.empty()) out_ += '\n';
  out_.append(open_.size(), ' ');
}

void Svg::append_escaped(std::string_view text) {
  for (const char c : text) {
    if (c == '&')
      out_ += "&amp;";
    else if (c == '<')
      out_ += "&lt;";
    else if (c == '>')
      out_ += "&gt;";
    else if (c == '"')
      out_ += "&quot;";
    else
      out_ += c;
  }
}

void Svg::begin(std::string_view tag, Attributes attributes, Attributes more) {
  new_line();
  out_.append("<").append(tag);
  for (const Attributes& list : {attributes, more})
    for (const Attribute& attribute : list) {
      out_.append(" ").append(attribute.name).append("=\"");
      append_escaped(attribute.value);
      out_ += '"';
    }
}

Svg& Svg::open(std::string_view tag, Attributes attributes) {
  begin(tag, attributes);
  out_ += '>';
  open_.emplace_back(tag);
  return *this;
}

Svg& Svg::close() {
  const std::string tag = std::move(open_.back());
  open_.pop_back();
  new_line();
  out_.append("</").append(tag).append(">");
  return *this;
}

Svg& Svg::leaf(std::string_view tag, Attributes attributes) {
  begin(tag, attributes);
  out_ += "/>";
  return *this;
}

Svg& Svg::text_leaf(std::string_view tag, std::string_view text, Attributes attributes) {
  begin(tag, attributes);
  out_ += '>';
  append_escaped(text);
  out_.append("</").append(tag).append(">");
  return *this;
}

Svg& Svg::path(std::string_view data, Attributes attributes) {
  begin("path", {{"d", data}}, attributes);
  out_ += "/>";
  return *this;
}

Svg& Svg::circle(int x, int y, int radius, std::string_view fill) {
  return leaf("circle", {{"cx", x}, {"cy", y}, {"r", radius}, {"fill", fill}});
}

Svg& Svg::put(std::string_view drawn) {
  out_.append("\n").append(drawn);
  return *this;
}

}  // namespace ringtrue::picture
