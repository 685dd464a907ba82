// Tree to tidy text.
#pragma once
#include <string>

#include "syntax/tree.hpp"

namespace mm {

/// The file in the house style: two blanks a level, a statement a line, the cells of tables in columns, at
/// most one blank line in a row. Comments, numbers, units, texts and parentheses stay as they were written; a
/// block that was written on one line stays there when it fits. Only for a file without errors. Printing what
/// was printed gives the same bytes, and parsing it the same tree.
std::string print(const FileTree& file, const Tree& tree, const Sources& sources, const Names& names);

/// One expression on one line, as print writes it.
std::string print(ExprId expr, const Tree& tree, const Sources& sources, const Names& names);

inline constexpr std::size_t tidy_width = 100;

}  // namespace mm
