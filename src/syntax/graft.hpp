// Takes a file that was parsed alone into the tree of all files.
#pragma once
#include <string>

#include "syntax/tree.hpp"

namespace mm {

/// One file, read and parsed with nothing else.
struct FileApart {
  Sources sources;
  Names names;
  Tree tree;  // with one FileTree
};

/// Shorter texts change their address when their file is taken over.
inline constexpr std::size_t least_grafted = 64;  // bytes

/// Appends the file, under the path that is shown to the user. All is then as if it had been parsed here:
/// every id, symbol and place. What `apart` still holds is not looked at any more, and may go.
FileId graft(FileApart& apart, std::string path, Sources& sources, Names& names, Tree& tree);

}  // namespace mm
