#include "syntax/tree.hpp"

#include <algorithm>

#include "base/give_back.hpp"

namespace mm {

namespace {

/// Names `from` to the end of a path stand at `begin`, with a '.' between them; gives where they end.
std::uint32_t place_names(std::vector<Name>& list, const Names& names, std::size_t from, FileId file,
                          std::uint32_t begin) {
  for (std::size_t i = from; i < list.size(); ++i) {
    if (i > from) ++begin;
    const auto end = begin + static_cast<std::uint32_t>(names.text(list[i].symbol).size());
    list[i].span = {file, begin, end};
    begin = end;
  }
  return begin;
}

std::vector<Name> symbols_of(const Tree& tree, PathId path) {
  std::vector<Name> list(tree.paths.length(path));
  for (auto name = list.rbegin(); name != list.rend(); ++name, path = tree.paths.outer(path))
    name->symbol = tree.paths.last(path);
  return list;
}

}  // namespace

UnitSyntax Tree::unit_of(const QuantitySyntax& quantity) const {
  if (!quantity.has_unit()) return {};
  const auto end = quantity.unit_begin + static_cast<std::uint32_t>(text(quantity.unit).size());
  return {quantity.unit, {quantity.file, quantity.unit_begin, end}};
}

WrittenPath written_path(const Tree& tree, const Names& names, const Assignment& assignment) {
  const FileId file = tree.values[assignment.value].span.file;
  WrittenPath path;
  path.names = symbols_of(tree, assignment.path);
  if (assignment.block) path.outer = tree.paths.length(tree.face_blocks[assignment.block].path);
  path.span = {file, assignment.begin, place_names(path.names, names, path.outer, file, assignment.begin)};
  for (FaceBlockId block = assignment.block; block;) {
    const FaceBlock& here = tree.face_blocks[block];
    const std::size_t from = here.outer ? tree.paths.length(tree.face_blocks[here.outer].path) : 0;
    std::vector<Name> own = symbols_of(tree, here.path);
    (void)place_names(own, names, from, file, here.begin);
    std::copy(own.begin() + static_cast<std::ptrdiff_t>(from), own.end(),
              path.names.begin() + static_cast<std::ptrdiff_t>(from));
    block = here.outer;
  }
  return path;
}

void drop_what_is_bound(Tree& tree) {
  tree.assignments = {};
  tree.face_blocks = {};
  tree.quantities = {};
  tree.values = {};
  tree.words = {};
  for (FileTree& file : tree.files)
    for (Declaration& declaration : file.declarations)
      if (auto* build = std::get_if<Boxed<BuildDecl>>(&declaration)) {
        BuildDecl& decl = **build;
        give_back(decl.fits);
        give_back(decl.joins);
        give_back(decl.reworks);
        give_back(decl.waivers);
        give_back(decl.expects);
      }
  tree.names = {};  // of no path any more
}

}  // namespace mm
