// Fields and equality of designations. A computed field (a thread's pitch from a table) is worked out at
// first use.
#pragma once
#include <optional>
#include <vector>

#include "evaluate/bits.hpp"
#include "model/model.hpp"

namespace mm {

/// A field of one designation. state: defined, undefined (its form lacks it, its formula fails), or either.
struct DesignationField {
  Bits state = may_undef;
  ExactInterval exact;
  Interval number;
  const Rational* point = nullptr;
  const SymbolicSet* symbols = nullptr;
};

class Designations {
 public:
  explicit Designations(const Model& model);

  const DesignationField& field(std::uint32_t const_index, std::uint32_t field);
  /// Same form and equal fields; undefined where a field of one of them is.
  Bits equal(std::uint32_t a, std::uint32_t b);
  /// A field that its form works out is not defined: what the text leaves out makes it.
  bool is_incomplete(std::uint32_t const_index);
  const DesignationConst& operator[](std::uint32_t index) const {
    return model_->designation_consts[DesignationConstId{index}];
  }

 private:
  struct Entry {
    std::vector<DesignationField> fields;
    std::vector<bool> is_done;  // by field
    bool working = false;
    SymbolicSet self;
    std::vector<SymbolicSet> made;  // symbolic results of formulas, by field
  };
  Entry& given(std::uint32_t const_index);
  void compute(std::uint32_t const_index, std::uint32_t last);

  const Model* model_;
  std::vector<Entry> entries_;
};

}  // namespace mm
