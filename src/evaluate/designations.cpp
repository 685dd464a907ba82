#include "evaluate/designations.hpp"

#include <algorithm>

#include "evaluate/machine.hpp"

namespace mm {

Designations::Designations(const Model& model) : model_(&model), entries_(model.designation_consts.size()) {}

const DesignationField& Designations::field(std::uint32_t const_index, std::uint32_t field) {
  Entry& entry = given(const_index);
  if (!entry.is_done[field] && !entry.working) compute(const_index, field);
  return entry.fields[field];
}

/// With the fields that its text gives.
Designations::Entry& Designations::given(std::uint32_t const_index) {
  Entry& entry = entries_[const_index];
  const DesignationConst& written = (*this)[const_index];
  const std::size_t count = model_->designations[written.designation].fields.size();
  if (entry.is_done.size() == count) return entry;
  entry.fields.resize(count);
  entry.is_done.resize(count, false);
  entry.self.members = {const_index};
  for (std::size_t i = 0; i < count && i < written.fields.size(); ++i) {
    if (!written.fields[i]) continue;
    entry.is_done[i] = true;
    DesignationField& field = entry.fields[i];
    field.state = defined;
    if (written.fields[i]->number) {
      const NumberConst& number = model_->numbers[written.fields[i]->number];
      field.exact = number.exact;
      field.number = number.bounds;
      if (number.exact.is_point()) field.point = &number.exact.lo_value;
    } else if (written.fields[i]->symbols) {
      field.symbols = &model_->sets[written.fields[i]->symbols];
    }
  }
  return entry;
}

/// The fields of a size in their order, up to the last that is asked for: so nothing is worked out that it
/// does not need, and no more sizes wait for each other than the declarations have (see FieldNeeds).
void Designations::compute(std::uint32_t const_index, std::uint32_t last) {
  Entry& entry = entries_[const_index];
  const DesignationConst& written = (*this)[const_index];
  const FormDef& form = model_->designations[written.designation].forms[written.form];
  entry.working = true;
  for (const FormDef::Computed& computed : form.computed) {
    if (entry.is_done[last]) break;
    if (entry.is_done[computed.field]) continue;  // the text gives it
    Machine<ExactInterval> machine(*model_, *this);
    machine.start_field(computed.program, &entry.self);
    const MachineValue<ExactInterval>& value = machine.run(computed.block);
    DesignationField& field = entry.fields[computed.field];
    field.state = value.state;
    if (value.kind == ValueKind::number) {
      field.exact = value.number;
      field.number = to_interval(value.number);
      field.point = field.exact.is_point() && value.state == defined ? &field.exact.lo_value : nullptr;
    } else if (value.symbols != nullptr) {
      entry.made.resize(entry.fields.size());
      entry.made[computed.field] = *value.symbols;
      field.symbols = &entry.made[computed.field];
    }
    entry.is_done[computed.field] = true;
  }
  entry.working = false;
  entry.is_done[last] = true;
}

bool Designations::is_incomplete(std::uint32_t const_index) {
  const DesignationConst& written = (*this)[const_index];
  const auto& computed = model_->designations[written.designation].forms[written.form].computed;
  return std::any_of(computed.begin(), computed.end(), [&](const FormDef::Computed& one) {
    return field(const_index, one.field).state != defined;
  });
}

Bits Designations::equal(std::uint32_t a, std::uint32_t b) {
  if (a == b) return surely_yes;
  const DesignationConst& left = (*this)[a];
  const DesignationConst& right = (*this)[b];
  if (left.designation != right.designation || left.form != right.form) return surely_no;
  // fields that both texts give are enough to tell most apart
  for (std::size_t i = 0; i < left.fields.size() && i < right.fields.size(); ++i) {
    if (!left.fields[i] || !right.fields[i]) continue;
    const ConstValue& x = *left.fields[i];
    const ConstValue& y = *right.fields[i];
    if (x.number && y.number && x.number != y.number &&
        equal_bits(model_->numbers[x.number].exact, model_->numbers[y.number].exact) == surely_no) {
      return surely_no;
    }
    if (x.symbols && y.symbols && model_->sets[x.symbols].members != model_->sets[y.symbols].members) {
      return surely_no;
    }
  }
  Bits result = surely_yes;
  const std::size_t count = model_->designations[left.designation].fields.size();
  for (std::uint32_t i = 0; i < count; ++i) {
    const DesignationField& x = field(a, i);
    const DesignationField& y = field(b, i);
    if (x.state == may_undef && y.state == may_undef && !left.fields[i] && !right.fields[i]) continue;
    if (x.state != defined || y.state != defined) {
      result = and_bits(result, anything);
    } else if (x.symbols != nullptr && y.symbols != nullptr) {
      result = and_bits(result, truth_bits(x.symbols->members == y.symbols->members));
    } else {
      result = and_bits(result, equal_bits(x.exact, y.exact));
    }
  }
  return result;
}

}  // namespace mm
