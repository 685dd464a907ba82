#include "syntax/graft.hpp"

#include <cassert>

#include "syntax/node_parts.hpp"

namespace mm {

namespace {

class Grafter {
 public:
  Grafter(FileId file, Tree& from, Tree& to)
      : file_(file),
        from_(from),
        to_(to),
        exprs_(to.exprs.size()),
        binders_(to.binders.size()),
        assignments_(to.assignments.size()),
        face_blocks_(to.face_blocks.size()),
        values_(to.values.size()),
        quantities_(to.quantities.size()),
        words_(to.words.size()),
        texts_(to.texts.size()),
        evidence_(to.evidence.size()) {}

  void run(const Names& from_names, Names& names) {
    symbols_.reserve(from_names.size());
    for (std::size_t i = 0; i < from_names.size(); ++i)
      symbols_.push_back(names.intern(from_names.text(Symbol{i})));
    take_paths();
    from_.names.change_all([&](Name& name) { fix(name); });
    to_.names.adopt(std::move(from_.names));
    to_.characters.adopt(std::move(from_.characters));
    take_units();
    take(from_.exprs, to_.exprs);
    take(from_.binders, to_.binders);
    take(from_.assignments, to_.assignments);
    take(from_.face_blocks, to_.face_blocks);
    take(from_.values, to_.values);
    take(from_.quantities, to_.quantities);
    take(from_.words, to_.words);
    take(from_.texts, to_.texts);
    take(from_.evidence, to_.evidence);
    FileTree& tree = from_.files.front();
    fix(tree.file);
    fix(tree.declarations);
    fix(tree.comments);
    to_.files.push_back(std::move(tree));
  }

 private:
  template <typename T, typename IdT>
  void take(BlockStore<T, IdT>& from, BlockStore<T, IdT>& to) {
    for (std::size_t i = 0; i < from.size(); ++i) {
      T& item = from[IdT{i}];
      fix(item);
      to.add(std::move(item));
    }
  }

  void take_paths() {
    paths_.reserve(from_.paths.size());
    for (std::size_t i = 0; i < from_.paths.size(); ++i) {
      PathId outer = from_.paths.outer(PathId{i});  // stands before it
      Symbol last = from_.paths.last(PathId{i});
      fix(outer);
      fix(last);
      paths_.push_back(to_.paths.step(outer, last));
    }
  }

  void take_units() {
    from_.factors.change_all([&](UnitFactorSyntax& factor) { fix(factor); });
    to_.factors.adopt(std::move(from_.factors));
    units_.reserve(from_.units.size());
    for (std::size_t i = 0; i < from_.units.size(); ++i) {
      const UnitId unit{to_.unit_texts.intern(from_.text(UnitId{i})).index};
      if (unit.index == to_.units.size()) to_.units.add(from_.units[UnitId{i}]);
      units_.push_back(unit);
    }
  }

  template <typename IdT>
  static void shift(IdT& id, std::size_t first) {
    if (id) id.index += static_cast<std::uint32_t>(first);
  }
  template <typename IdT>
  static void renumber(IdT& id, const std::vector<IdT>& by) {
    if (id) id = by[id.index];
  }

  template <typename T>
  requires std::is_arithmetic_v<T> || std::is_enum_v<T>
  void fix(T&) const {}
  void fix(std::string&) const {}
  void fix(std::string_view&) const {}  // of a text that stays where it is
  void fix(UnknownValue&) const {}
  template <typename T>
  void fix(Run<T>&) const {}  // fixed where it lies
  void fix(FileId& id) const {
    if (id) id = file_;
  }
  void fix(Symbol& id) const { renumber(id, symbols_); }
  void fix(PathId& id) const { renumber(id, paths_); }
  void fix(UnitId& id) const { renumber(id, units_); }
  void fix(ExprId& id) const { shift(id, exprs_); }
  void fix(BinderId& id) const { shift(id, binders_); }
  void fix(AssignmentId& id) const { shift(id, assignments_); }
  void fix(FaceBlockId& id) const { shift(id, face_blocks_); }
  void fix(ValueId& id) const { shift(id, values_); }
  void fix(QuantityId& id) const { shift(id, quantities_); }
  void fix(WordId& id) const { shift(id, words_); }
  void fix(TextId& id) const { shift(id, texts_); }
  void fix(EvidenceId& id) const { shift(id, evidence_); }
  template <typename T>
  void fix(IdRange<T>& range) const {
    fix(range.first);
  }
  template <typename T>
  void fix(std::optional<T>& value) const {
    if (value) fix(*value);
  }
  template <typename T>
  void fix(Boxed<T>& value) const {
    if (value) fix(*value);
  }
  template <typename T>
  void fix(std::vector<T>& list) const {
    for (T& item : list) fix(item);
  }
  template <typename... T>
  void fix(std::variant<T...>& value) const {
    std::visit([&](auto& one) { fix(one); }, value);
  }
  template <typename T>
  requires requires(T& node) { node_parts::parts(node); }
  void fix(T& node) const {
    for_each_part(node, [&](auto& part) { fix(part); });
  }

  FileId file_;
  Tree& from_;
  Tree& to_;
  std::size_t exprs_, binders_, assignments_, face_blocks_, values_, quantities_, words_, texts_, evidence_;
  std::vector<Symbol> symbols_;
  std::vector<PathId> paths_;
  std::vector<UnitId> units_;
};

}  // namespace

FileId graft(FileApart& apart, std::string path, Sources& sources, Names& names, Tree& tree) {
  SourceFile source = apart.sources.release(FileId{0U});
  assert(source.bytes.size() >= least_grafted);
  source.path = std::move(path);
  const FileId file = sources.add(std::move(source));
  Grafter(file, apart.tree, tree).run(apart.names, names);
  return file;
}

}  // namespace mm
