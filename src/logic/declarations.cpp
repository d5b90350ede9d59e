#include <algorithm>
#include <array>
#include <charconv>

#include "logic/parser.hpp"

namespace ringtrue::logic {

namespace {

constexpr std::string_view k_types = "BOOL, REAL, TIME, SR, RS, R_TRIG, F_TRIG, TON, TOF or TP";

std::optional<BlockKind> block_kind(std::string_view type) {
  for (const BlockKind kind : {BlockKind::SR, BlockKind::RS, BlockKind::R_TRIG, BlockKind::F_TRIG,
                               BlockKind::TON, BlockKind::TOF, BlockKind::TP})
    if (word(kind) == type) return kind;
  return std::nullopt;
}

bool is_reserved(std::string_view name) {
  constexpr std::array<std::string_view, 10> k_reserved = {
      "AND", "OR", "XOR", "NOT", "TRUE", "FALSE", "VAR", "END_VAR", "PROGRAM", "END_PROGRAM"};
  return std::find(k_reserved.begin(), k_reserved.end(), in_capitals(name)) != k_reserved.end();
}

}  // namespace

std::string_view word(BlockKind kind) {
  constexpr std::array<std::string_view, 7> k_words = {"SR", "RS", "R_TRIG", "F_TRIG", "TON", "TOF", "TP"};
  return k_words.at(static_cast<std::size_t>(kind));
}

bool is_timer(BlockKind kind) {
  return kind == BlockKind::TON || kind == BlockKind::TOF || kind == BlockKind::TP;
}

/// `PROGRAM name` and `END_PROGRAM` may stand around the text.
void Parser::skip_frame(std::string_view first, bool has_name) {
  if (!take(first)) return;
  if (has_name && here().kind == TokenKind::name) next();
}

void Parser::declarations() {
  while (take("VAR")) {
    if (is_at("CONSTANT") || is_at("RETAIN")) next();
    while (!is_at("END_VAR") && here().kind != TokenKind::end)
      if (!declaration()) skip_statement();
    if (!expect("END_VAR")) return;
    take(";");
  }
}

bool Parser::declaration() {
  const Token name = next();
  if (name.kind != TokenKind::name || is_reserved(name.text))
    return wrong(name, "a declaration does not begin with a name", "NAME : TYPE;");
  if (!expect(":")) return false;
  const Token type = next();
  return declare(name, type) && expect(";");
}

bool Parser::declare(const Token& name, const Token& type) {
  const std::string capitals = in_capitals(type.text);
  const bool has_value = take(":=");
  Meaning meaning{Meaning::What::variable, static_cast<std::uint32_t>(program_.variables.size()), 0};
  if (capitals == "BOOL") {
    const auto initial = has_value ? truth() : std::optional<bool>(false);
    if (!initial) return false;
    program_.variables.push_back({std::string(name.text), VariableKind::local, k_none, *initial});
  } else if (capitals == "REAL") {
    const auto value = has_value ? initial_real() : std::optional<double>(0);
    if (!value) return false;
    meaning = {Meaning::What::real, 0, *value};
  } else if (capitals == "TIME") {
    const auto value = has_value ? duration() : std::optional<std::uint32_t>(0);
    if (!value) return false;
    meaning = {Meaning::What::time, *value, 0};
  } else if (const auto kind = block_kind(capitals)) {
    if (has_value) return wrong(here(), "a function block takes no initial value", ";");
    meaning = {Meaning::What::block, static_cast<std::uint32_t>(program_.blocks.size()), 0};
    program_.blocks.push_back({std::string(name.text), *kind, 0, false});
  } else {
    return wrong(type, "a type that is not read here", std::string(k_types));
  }
  if (!names_.declare(name.text, meaning))
    return wrong(name, "a name is declared that already stands for something", "a name of its own");
  return true;
}

std::optional<double> Parser::initial_real() {
  const bool is_negative = take("-");
  const Token token = next();
  std::string digits(token.text);
  digits.erase(std::remove(digits.begin(), digits.end(), '_'), digits.end());
  double value = 0;
  const char* const end = digits.data() + digits.size();
  const auto [stop, problem] = std::from_chars(digits.data(), end, value);
  if (token.kind != TokenKind::number || problem != std::errc() || stop != end) {
    wrong(token, "not a number", "a number such as 80.0");
    return std::nullopt;
  }
  return is_negative ? -value : value;
}

std::optional<std::uint32_t> Parser::duration() {
  const Token token = next();
  if (token.kind == TokenKind::time)
    if (const auto ms = milliseconds_of(token.text)) return ms;
  if (const auto meaning = names_.find(token.text); meaning && meaning->what == Meaning::What::time)
    return meaning->index;
  wrong(token, "not a duration",
        "a duration of whole milliseconds such as T#5s, up to 24 days, or a TIME of a VAR block");
  return std::nullopt;
}

std::optional<bool> Parser::truth() {
  const Token token = next();
  const std::string capitals = in_capitals(token.text);
  if (capitals == "TRUE") return true;
  if (capitals == "FALSE") return false;
  wrong(token, "not an initial value of a BOOL", "TRUE or FALSE");
  return std::nullopt;
}

}  // namespace ringtrue::logic
