#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::logic {

/// Index of "there is none" in all of a program's arrays.
inline constexpr std::uint32_t k_none = 0xFFFFFFFFu;

/// What a variable stands for.
enum class VariableKind : std::uint8_t {
  input,   ///< DI
  analog,  ///< AI, in the engineering unit of its channel
  output,  ///< DO
  local,   ///< BOOL of a VAR block
};

/// A name that statements use.
struct Variable {
  std::string name;  ///< tag of the channel (its address where it has none), or as declared
  VariableKind kind = VariableKind::local;
  std::uint32_t channel = k_none;  ///< index into the netlist's channels; none for locals
  bool initial = false;
};

/// Function blocks, by their names in IEC 61131-3.
enum class BlockKind : std::uint8_t { SR, RS, R_TRIG, F_TRIG, TON, TOF, TP };
[[nodiscard]] std::string_view word(BlockKind kind);
[[nodiscard]] bool is_timer(BlockKind kind);

/// An instance of a function block. It is called at one place at most.
struct Block {
  std::string name;
  BlockKind kind = BlockKind::SR;
  std::uint32_t preset_ms = 0;  ///< PT
  bool is_called = false;
};

/// `=` `<>` `<` `>` `<=` `>=`
enum class Compare : std::uint8_t { equal, differ, less, greater, at_most, at_least };

/// An analog input against a constant.
struct Comparison {
  std::uint32_t variable = k_none;
  Compare how = Compare::equal;
  double constant = 0;
};

/// What a node computes of `a` and `b`.
enum class Op : std::uint8_t {
  constant,    ///< a = 0 or 1
  variable,    ///< a = variable
  block,       ///< a = block: its Q
  comparison,  ///< a = comparison
  op_not,      ///< a = node
  op_equal,    ///< a, b = nodes, here and below
  op_differ,
  op_and,
  op_xor,
  op_or,
};

/// Operands stand before the node that uses them.
struct Node {
  Op op = Op::constant;
  std::uint32_t a = 0, b = 0;
};

/// The nodes of one expression: `first` to `root`, both included, evaluated in that order.
struct Expression {
  std::uint32_t first = k_none, root = k_none;  ///< none = not given
  [[nodiscard]] bool is_given() const { return root != k_none; }
};

/// An assignment to a variable, or the call of a block.
struct Statement {
  std::uint32_t variable = k_none;  ///< assigned; none for a call
  std::uint32_t block = k_none;     ///< called; none for an assignment
  Expression value;                 ///< assigned, or the first pin: S1, S, CLK, IN
  Expression reset;                 ///< second pin of SR and RS: R, R1
  std::uint32_t line = 0;
};

/// A program of assignments and calls, in the order in which a scan runs them. All arrays are flat.
struct Program {
  std::vector<Variable> variables;
  std::vector<Block> blocks;
  std::vector<Comparison> comparisons;
  std::vector<Node> nodes;
  std::vector<Statement> statements;
};

/// Reads Structured Text as IEC 61131-3 has it, limited to: VAR blocks of BOOL, of REAL and TIME that keep
/// their initial value, and of SR RS R_TRIG F_TRIG TON TOF TP; assignments of boolean expressions over
/// channel tags and addresses; NOT, = <> < > <= >=, AND &, XOR, OR in this order of precedence (ed. 3, table
/// 71; from memory), parentheses; calls with named pins; comments `(* *)` and `//`. Names match without case.
/// An analog input stands for its value in the unit of its channel, also where it is named by address.
/// @param file  named in messages.
/// @errors bad_logic, with line, what was found and what was expected, nearest names; up to `k_max_errors`,
///         then none of it is loaded.
[[nodiscard]] Result<Program> parse_logic(std::string_view text, std::string_view file,
                                          const Netlist& netlist);

/// The statements on which any of the variables depends, directly or by others; all arrays but `statements`
/// stay as they are.
[[nodiscard]] Program slice_of(const Program& program, const std::vector<std::uint32_t>& wanted);

/// Which variables the statements (of that program) read, by variable.
[[nodiscard]] std::vector<bool> variables_read(const Program& program, std::span<const Statement> statements);

}  // namespace ringtrue::logic
