#include <algorithm>
#include <array>

#include "logic/parser.hpp"

// Source of the precedence: IEC 61131-3 ed. 3, 2013, table 71 (from memory): NOT, then < > <= >=, then = <>,
// then AND, then XOR, then OR; operators of one level from left to right.

namespace ringtrue::logic {

namespace {

constexpr std::size_t k_levels = 5;
/// Deeper nesting is refused rather than followed.
constexpr std::size_t k_most_nesting = 200;

constexpr std::array<std::string_view, 1> k_or = {"OR"}, k_xor = {"XOR"};
constexpr std::array<std::string_view, 2> k_and = {"AND", "&"}, k_equality = {"=", "<>"};
constexpr std::array<std::string_view, 4> k_order = {"<", ">", "<=", ">="};
constexpr std::array<Op, 1> k_or_op = {Op::op_or}, k_xor_op = {Op::op_xor};
constexpr std::array<Op, 2> k_and_op = {Op::op_and, Op::op_and},
                            k_equality_op = {Op::op_equal, Op::op_differ};

Compare compare_of(std::string_view sign) {
  if (sign == "=") return Compare::equal;
  if (sign == "<>") return Compare::differ;
  if (sign == "<") return Compare::less;
  if (sign == ">") return Compare::greater;
  return sign == "<=" ? Compare::at_most : Compare::at_least;
}

/// `80 < X` is `X > 80`.
Compare turned_round(Compare how) {
  switch (how) {
    case Compare::less:
      return Compare::greater;
    case Compare::greater:
      return Compare::less;
    case Compare::at_most:
      return Compare::at_least;
    case Compare::at_least:
      return Compare::at_most;
    case Compare::equal:
    case Compare::differ:
      break;
  }
  return how;
}

}  // namespace

Parser::Level Parser::level_of(std::size_t depth) {
  switch (depth) {
    case 0:
      return {k_or, k_or_op};
    case 1:
      return {k_xor, k_xor_op};
    case 2:
      return {k_and, k_and_op};
    case 3:
      return {k_equality, k_equality_op};
    default:
      return {k_order, {}};
  }
}

Parser::Read Parser::level(std::size_t depth) {
  if (depth == k_levels) return unary();
  const Level own = level_of(depth);
  Read left = level(depth + 1);
  while (left) {
    const auto found =
        std::find_if(own.words.begin(), own.words.end(), [&](std::string_view word) { return is_at(word); });
    if (found == own.words.end()) return left;
    const Token sign = next();
    const Read right = level(depth + 1);
    if (!right) return std::nullopt;
    const bool has_number = left->type != Operand::Type::boolean || right->type != Operand::Type::boolean;
    if (depth >= 3 && (has_number || own.operations.empty()))
      left = compared(*left, sign.text, *right, sign);
    else
      left = join(own.operations[static_cast<std::size_t>(found - own.words.begin())], *left, *right, sign);
  }
  return std::nullopt;
}

Parser::Read Parser::unary() {
  const Token start = here();
  if (!take("NOT")) {
    const Read operand = primary();
    const bool is_arithmetic = is_at("+") || is_at("-") || is_at("*") || is_at("/") || is_at("MOD");
    if (operand && is_arithmetic)
      wrong(here(), "arithmetic is not read here", "AND, OR, XOR, NOT or a comparison with a constant");
    return is_arithmetic ? std::nullopt : operand;
  }
  if (nesting_ >= k_most_nesting) {
    wrong(start, "an expression is nested too deeply", "at most 200 levels");
    return std::nullopt;
  }
  ++nesting_;
  const Read operand = unary();
  --nesting_;
  if (!operand) return std::nullopt;
  if (operand->type != Operand::Type::boolean) {
    wrong(start, "NOT stands before a number", "a BOOL");
    return std::nullopt;
  }
  return node(Op::op_not, operand->index);
}

Parser::Read Parser::primary() {
  const Token token = here();
  if (token.kind == TokenKind::number || is_at("-")) {
    const auto value = initial_real();
    if (!value) return std::nullopt;
    return Operand{Operand::Type::real, 0, *value};
  }
  if (take("(")) {
    if (nesting_ >= k_most_nesting) {
      wrong(token, "an expression is nested too deeply", "at most 200 levels");
      return std::nullopt;
    }
    ++nesting_;
    const Read inner = level(0);
    --nesting_;
    if (!inner || !expect(")")) return std::nullopt;
    return inner;
  }
  if (token.kind == TokenKind::name || token.kind == TokenKind::address) return named(next());
  wrong(token, "an operand is missing", "a tag, an address, a BOOL, TRUE, FALSE, NOT or (");
  return std::nullopt;
}

Parser::Read Parser::named(const Token& token) {
  const Token name = token;
  const std::string capitals = in_capitals(name.text);
  if (capitals == "TRUE" || capitals == "FALSE") return node(Op::constant, capitals == "TRUE" ? 1 : 0);
  const auto meaning = names_.find(name.text);
  if (!meaning) {
    wrong(name, "an unknown name", "a tag or address of the channel list, or a name of a VAR block",
          names_.nearest(name.text));
    return std::nullopt;
  }
  switch (meaning->what) {
    case Meaning::What::block:
      return block_output(name, meaning->index);
    case Meaning::What::real:
      return Operand{Operand::Type::real, 0, meaning->number};
    case Meaning::What::variable:
      if (program_.variables[meaning->index].kind == VariableKind::analog)
        return Operand{Operand::Type::analog, meaning->index, 0};
      return node(Op::variable, meaning->index);
    case Meaning::What::several:
      wrong(name, "two channels have this name, apart from case", "an address, or a tag of its own");
      return std::nullopt;
    case Meaning::What::time:
    case Meaning::What::analog_output:
      break;
  }
  wrong(name, "a name that is no BOOL and no analog input", "a digital channel, an analog input or a BOOL");
  return std::nullopt;
}

Parser::Read Parser::block_output(const Token& name, std::uint32_t block) {
  if (!take(".")) {
    wrong(here(), "a function block stands where a BOOL is wanted", std::string(name.text) + ".Q");
    return std::nullopt;
  }
  const BlockKind kind = program_.blocks[block].kind;
  const bool is_latch = kind == BlockKind::SR || kind == BlockKind::RS;
  const Token output = next();
  const std::string capitals = in_capitals(output.text);
  if (capitals == "Q" || (is_latch && capitals == "Q1")) return node(Op::block, block);
  wrong(output, "not an output of " + std::string(word(kind)) + " that is read here",
        is_latch ? "Q1 or Q" : "Q");
  return std::nullopt;
}

Parser::Read Parser::compared(const Operand& left, std::string_view sign, const Operand& right,
                              const Token& where) {
  using Type = Operand::Type;
  const bool is_turned = left.type == Type::real && right.type == Type::analog;
  if (!is_turned && !(left.type == Type::analog && right.type == Type::real)) {
    wrong(where, "a comparison of other things than an analog input and a constant",
          "an analog input on one side and a number or a REAL of a VAR block on the other");
    return std::nullopt;
  }
  const Compare how = compare_of(sign);
  program_.comparisons.push_back({is_turned ? right.index : left.index, is_turned ? turned_round(how) : how,
                                  is_turned ? left.number : right.number});
  return node(Op::comparison, static_cast<std::uint32_t>(program_.comparisons.size() - 1));
}

Parser::Read Parser::join(Op op, const Operand& left, const Operand& right, const Token& where) {
  if (left.type != Operand::Type::boolean || right.type != Operand::Type::boolean) {
    wrong(where, "an operator between BOOLs has a number beside it", "a BOOL on both sides");
    return std::nullopt;
  }
  return node(op, left.index, right.index);
}

Parser::Read Parser::node(Op op, std::uint32_t a, std::uint32_t b) {
  program_.nodes.push_back({op, a, b});
  return Operand{Operand::Type::boolean, static_cast<std::uint32_t>(program_.nodes.size() - 1), 0};
}

}  // namespace ringtrue::logic
