#include <algorithm>

#include "ringtrue/logic/program.hpp"

namespace ringtrue::logic {

namespace {

/// Marks what an expression reads. True if something was marked that wasn't before.
class Marks {
 public:
  explicit Marks(const Program& program)
      : program_(program), variables(program.variables.size()), blocks(program.blocks.size()) {}

  bool add(const Statement& statement) {
    const bool first = add(statement.value);
    return add(statement.reset) || first;
  }

 private:
  bool add(const Expression& expression) {
    bool is_new = false;
    if (!expression.is_given()) return false;
    for (std::uint32_t i = expression.first; i <= expression.root; ++i) {
      const Node& node = program_.nodes[i];
      if (node.op == Op::variable) is_new |= mark(variables, node.a);
      if (node.op == Op::comparison) is_new |= mark(variables, program_.comparisons[node.a].variable);
      if (node.op == Op::block) is_new |= mark(blocks, node.a);
    }
    return is_new;
  }

  static bool mark(std::vector<bool>& marks, std::uint32_t i) {
    const bool is_new = !marks[i];
    marks[i] = true;
    return is_new;
  }

  const Program& program_;

 public:
  std::vector<bool> variables, blocks;

  [[nodiscard]] bool concerns(const Statement& statement) const {
    return statement.variable != k_none ? variables[statement.variable] : blocks[statement.block];
  }
};

}  // namespace

Program slice_of(const Program& program, const std::vector<std::uint32_t>& wanted) {
  Marks marks(program);
  for (const std::uint32_t variable : wanted) marks.variables[variable] = true;
  bool grows = true;
  while (grows) {
    grows = false;
    for (std::size_t i = program.statements.size(); i-- > 0;)  // back to front, as most programs are read
      if (marks.concerns(program.statements[i])) grows |= marks.add(program.statements[i]);
  }
  Program slice = program;
  slice.statements.clear();
  for (const Statement& statement : program.statements)
    if (marks.concerns(statement)) slice.statements.push_back(statement);
  return slice;
}

std::vector<bool> variables_read(const Program& program, std::span<const Statement> statements) {
  Marks marks(program);
  for (const Statement& statement : statements) marks.add(statement);
  return marks.variables;
}

}  // namespace ringtrue::logic
