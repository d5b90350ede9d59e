#include "logic/parser.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace ringtrue::logic {

namespace {

constexpr std::string_view k_a_statement = "NAME := EXPRESSION; or BLOCK(PIN := EXPRESSION, ...);";

bool is_branch_or_loop(const Token& token) {
  constexpr std::array<std::string_view, 7> k_words = {"IF",     "CASE", "FOR",   "WHILE",
                                                       "REPEAT", "EXIT", "RETURN"};
  return std::find(k_words.begin(), k_words.end(), in_capitals(token.text)) != k_words.end();
}

/// Names of pins; some libraries use the longer ones.
enum class Pin : std::uint8_t { unknown, first, reset, preset };
struct PinName {
  std::string_view name;
  BlockKind kind;
  Pin pin;
};
constexpr PinName k_pins[] = {
    {"S1", BlockKind::SR, Pin::first},      {"SET1", BlockKind::SR, Pin::first},
    {"R", BlockKind::SR, Pin::reset},       {"RESET", BlockKind::SR, Pin::reset},
    {"S", BlockKind::RS, Pin::first},       {"SET", BlockKind::RS, Pin::first},
    {"R1", BlockKind::RS, Pin::reset},      {"RESET1", BlockKind::RS, Pin::reset},
    {"CLK", BlockKind::R_TRIG, Pin::first}, {"CLK", BlockKind::F_TRIG, Pin::first},
    {"IN", BlockKind::TON, Pin::first},     {"PT", BlockKind::TON, Pin::preset},
    {"IN", BlockKind::TOF, Pin::first},     {"PT", BlockKind::TOF, Pin::preset},
    {"IN", BlockKind::TP, Pin::first},      {"PT", BlockKind::TP, Pin::preset},
};

Pin pin_of(BlockKind kind, std::string_view name) {
  for (const PinName& pin : k_pins)
    if (pin.kind == kind && pin.name == name) return pin.pin;
  return Pin::unknown;
}

std::string pins_of(BlockKind kind) {
  std::string list;
  for (const PinName& pin : k_pins)
    if (pin.kind == kind) list.append(list.empty() ? "" : ", ").append(pin.name);
  return list;
}

}  // namespace

Result<Program> Parser::parse() {
  skip_frame("PROGRAM", true);
  declarations();
  while (here().kind != TokenKind::end && !is_at("END_PROGRAM") && errors_.size() < k_max_errors) statement();
  skip_frame("END_PROGRAM", false);
  take(";");
  if (errors_.empty() && here().kind != TokenKind::end)
    wrong(here(), "text stands behind the end of the program", "the end of the file");
  if (!errors_.empty()) return tl::unexpected(std::move(errors_));
  return std::move(program_);
}

void Parser::statement() {
  if (take(";")) return;
  const Token name = next();
  const auto meaning = names_.find(name.text);
  bool is_good = false;
  if (is_at(":="))
    is_good = assignment(name);
  else if (is_at("(") && meaning && meaning->what == Meaning::What::block)
    is_good = call(name, meaning->index);
  else if (is_at("("))
    wrong(name, "a call of something that is no function block", "an instance declared in a VAR block",
          names_.nearest(name.text));
  else if (is_branch_or_loop(name))
    wrong(name, "branches and loops are not read here", std::string(k_a_statement));
  else if (errors_.empty() ||
           !in_capitals(name.text).starts_with("END_"))  // else the end of what was told of
    wrong(name, "not a statement that is read here", std::string(k_a_statement));
  if (!is_good) skip_statement();
}

bool Parser::assignment(const Token& target) {
  next();
  const auto meaning = names_.find(target.text);
  if (!meaning)
    return wrong(target, "an unknown name is assigned", "a digital output or a BOOL of a VAR block",
                 names_.nearest(target.text));
  if (meaning->what == Meaning::What::several)
    return wrong(target, "two channels have this name, apart from case", "an address, or a tag of its own");
  const bool is_variable = meaning->what == Meaning::What::variable;
  const VariableKind kind = is_variable ? program_.variables[meaning->index].kind : VariableKind::input;
  if (!is_variable || kind == VariableKind::input || kind == VariableKind::analog)
    return wrong(target, "something is assigned that logic of this kind does not set",
                 "a digital output or a BOOL of a VAR block");
  const auto value = boolean_expression();
  if (!value || !expect(";")) return false;
  program_.statements.push_back({meaning->index, k_none, *value, {}, target.line});
  return true;
}

bool Parser::call(const Token& name, std::uint32_t block) {
  if (std::exchange(program_.blocks[block].is_called, true))
    return wrong(name, "a function block is called at a second place", "one call of each instance");
  next();
  Statement made{k_none, block, {}, {}, name.line};
  while (!is_at(")")) {
    if (!pin(made, block)) return false;
    if (!is_at(")") && !expect(",")) return false;
  }
  next();
  if (!expect(";")) return false;
  program_.statements.push_back(made);
  return true;
}

bool Parser::pin(Statement& made, std::uint32_t block) {
  Block& called = program_.blocks[block];
  const Token name = next();
  const Pin found = pin_of(called.kind, in_capitals(name.text));
  if (found == Pin::unknown)
    return wrong(name, "not a pin of " + std::string(word(called.kind)), pins_of(called.kind));
  if (!expect(":=")) return false;
  if (found == Pin::preset) {
    const auto ms = duration();
    if (ms) called.preset_ms = *ms;
    return ms.has_value();
  }
  Expression& given = found == Pin::reset ? made.reset : made.value;
  if (given.is_given()) return wrong(name, "a pin is given twice", "each pin once");
  const auto value = boolean_expression();
  if (value) given = *value;
  return value.has_value();
}

std::optional<Expression> Parser::boolean_expression() {
  const auto first = static_cast<std::uint32_t>(program_.nodes.size());
  const Token start = here();
  const Read value = level(0);
  if (!value) return std::nullopt;
  if (value->type != Operand::Type::boolean) {
    wrong(start, "a number stands where TRUE or FALSE is wanted", "a comparison such as TEMPERATURE > 80.0");
    return std::nullopt;
  }
  return Expression{first, value->index};
}

bool Parser::is_at(std::string_view text) const {
  return (here().kind == TokenKind::name || here().kind == TokenKind::sign) &&
         in_capitals(here().text) == text;
}

bool Parser::take(std::string_view text) {
  if (!is_at(text)) return false;
  next();
  return true;
}

bool Parser::expect(std::string_view text) {
  if (take(text)) return true;
  return wrong(here(), "the statement does not go on as it should", std::string(text));
}

bool Parser::wrong(const Token& where, std::string message, std::string expected,
                   std::vector<std::string> nearest) {
  constexpr std::size_t k_most_shown = 80;
  std::string found = where.kind == TokenKind::end ? "the end of the file" : std::string(where.text);
  if (found.size() > k_most_shown) found.replace(k_most_shown, found.npos, "...");
  if (errors_.size() < k_max_errors)
    errors_.push_back({ErrorCode::bad_logic,
                       std::move(message),
                       {file_, where.line, "", ""},
                       found,
                       std::move(expected),
                       std::move(nearest)});
  return false;
}

/// To behind the next semicolon, if the mistake wasn't the semicolon itself.
void Parser::skip_statement() {
  if (at_ > 0 && tokens_[at_ - 1].text == ";") return;
  while (here().kind != TokenKind::end && !is_at("END_VAR"))
    if (next().text == ";") return;
}

Result<Program> parse_logic(std::string_view text, std::string_view file, const Netlist& netlist) {
  Tokens cut = tokens_of(text);
  if (cut.bad)
    return fail({ErrorCode::bad_logic,
                 cut.bad->message,
                 {std::string(file), cut.bad->line, "", ""},
                 cut.bad->found,
                 cut.bad->expected,
                 {}});
  return Parser(std::move(cut.tokens), file, netlist).parse();
}

}  // namespace ringtrue::logic
