#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "logic/names.hpp"
#include "logic/tokens.hpp"
#include "ringtrue/logic/program.hpp"

namespace ringtrue::logic {

/// Recursive descent over the tokens of one program. A mistake ends the statement it is in; reading goes on
/// behind its semicolon, so that several are told at once.
class Parser {
 public:
  Parser(std::vector<Token> tokens, std::string_view file, const Netlist& netlist)
      : tokens_(std::move(tokens)), file_(file), names_(netlist, program_) {}

  [[nodiscard]] Result<Program> parse();

 private:
  /// An operand as it is read: a boolean node, an analog input, or a constant.
  struct Operand {
    enum class Type : std::uint8_t { boolean, analog, real } type = Type::boolean;
    std::uint32_t index = 0;  ///< node or variable
    double number = 0;
  };
  using Read = std::optional<Operand>;  ///< nothing after a mistake, which is told already
  struct Level {
    std::span<const std::string_view> words;
    std::span<const Op> operations;
  };

  // declarations.cpp
  void skip_frame(std::string_view first, bool has_name);
  void declarations();
  bool declaration();
  bool declare(const Token& name, const Token& type);
  std::optional<double> initial_real();
  std::optional<std::uint32_t> duration();
  std::optional<bool> truth();

  // parser.cpp
  void statement();
  bool assignment(const Token& target);
  bool call(const Token& name, std::uint32_t block);
  bool pin(Statement& made, std::uint32_t block);
  std::optional<Expression> boolean_expression();

  // expression.cpp
  Read level(std::size_t depth);
  Read unary();
  Read primary();
  Read named(const Token& token);
  Read block_output(const Token& name, std::uint32_t block);
  Read compared(const Operand& left, std::string_view sign, const Operand& right, const Token& where);
  Read join(Op op, const Operand& left, const Operand& right, const Token& where);
  Read node(Op op, std::uint32_t a, std::uint32_t b = 0);
  static Level level_of(std::size_t depth);

  // tokens and mistakes
  [[nodiscard]] const Token& here() const { return tokens_[at_]; }
  [[nodiscard]] bool is_at(std::string_view text) const;
  bool take(std::string_view text);
  bool expect(std::string_view text);
  const Token& next() { return at_ + 1 < tokens_.size() ? tokens_[at_++] : tokens_[at_]; }
  bool wrong(const Token& where, std::string message, std::string expected = {},
             std::vector<std::string> nearest = {});
  void skip_statement();

  std::vector<Token> tokens_;
  std::size_t at_ = 0;
  std::string file_;
  Program program_;
  Names names_;
  Errors errors_;
  std::size_t nesting_ = 0;
};

}  // namespace ringtrue::logic
