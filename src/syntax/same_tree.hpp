// Whether two files say the same.
#pragma once
#include "syntax/tree.hpp"

namespace mm {

/// Structure, names, numbers as written, texts and comments are equal; places and layout are not looked at.
/// Both trees come from the same Sources and Names.
bool same_tree(const FileTree& a, const Tree& tree_a, const FileTree& b, const Tree& tree_b,
               const Sources& sources);

}  // namespace mm
