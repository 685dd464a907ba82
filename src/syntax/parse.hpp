// Text to tree.
#pragma once
#include "messages/message.hpp"
#include "syntax/tree.hpp"

namespace mm {

/// Limits that keep strange text cheap and every later step's recursion shallow.
inline constexpr std::size_t usual_nesting = 100;       // parentheses, braces, if, not, unary minus, ^ ...
inline constexpr std::size_t most_nesting = 1000;       // whatever is asked for: what the stack holds
inline constexpr unsigned max_expression_depth = 1000;  // levels of one expression's tree
inline constexpr unsigned max_path_length = 16;
inline constexpr unsigned max_errors_in_file = 1000;

/// Parses one file and appends one FileTree. Every error becomes a message at its place; a statement that is
/// wrong is left out of the tree and the ones after it are still read. Never throws on any text.
void parse(FileId file, const Sources& sources, Names& names, Tree& tree, Messages& messages,
           std::size_t max_nesting = usual_nesting);

}  // namespace mm
