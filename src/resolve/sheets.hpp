// A part's spec sheet: its assignments read against its kind, one cell for every attribute of the part and
// its faces.
#pragma once
#include "resolve/values.hpp"

namespace mm {

struct SheetCell {
  Cell cell;
  std::vector<Given> givens;  // none: missing; several: disputed
};

/// Cells in the order of KindDef::face_offsets.
struct Sheet {
  KindId kind;
  std::vector<SheetCell> cells;
};

/// The attributes of a sheet's cells, in order.
class SheetAttributes {
 public:
  SheetAttributes(const Model& model, const KindDef& kind)
      : model_(&model), kind_(&kind), of_(&kind.schema.attributes) {}

  const AttributeDef& next() {
    while (at_ == of_->size()) {
      const FaceDef& face = kind_->faces[face_++];
      of_ = &model_->interfaces[face.interface].sides[face.side].schema.attributes;
      at_ = 0;
    }
    return (*of_)[at_++];
  }

 private:
  const Model* model_;
  const KindDef* kind_;
  const std::vector<AttributeDef>* of_;
  std::size_t at_ = 0, face_ = 0;
};

Sheet empty_sheet(Context& context, KindId kind);

struct SheetTarget {
  std::uint32_t cell = no_reg;  // no_reg: not found, said
  const AttributeDef* attribute = nullptr;
};
SheetTarget find_cell(Context& context, const Sheet& sheet, const Assignment& assignment);

/// Puts assignments into the sheet. `replace`: they override what is there (a fit's own values, a rework);
/// else a second value of one attribute is a dispute when both say how they are known, and an error
/// otherwise. `beside`: reworks of which nobody says whether they come before this one or after it; what both
/// set is a dispute.
void assign(Context& context, Sheet& sheet, IdRange<AssignmentId> assignments, bool replace, bool from_fit,
            std::uint32_t rework, const std::vector<std::uint32_t>& beside = {});

/// The hands that a part's `hand` property lists, repeats kept: its cell, a set of words, cannot say them.
std::vector<Symbol> hands_of(const Context& context, IdRange<AssignmentId> assignments);

/// Whether a value is given to the part's property of this name.
bool is_property(const Context& context, const Assignment& assignment, std::string_view name);

}  // namespace mm
