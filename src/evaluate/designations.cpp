#include "evaluate/designations.hpp"

#include "evaluate/machine.hpp"

namespace mm {

namespace {
constexpr int max_depth = 8;  // of formulas that need other designations' formulas
}

Designations::Designations(const Model& model) : model_(&model), entries_(model.designation_consts.size()) {}

const DesignationField& Designations::field(std::uint32_t const_index, std::uint32_t field) {
  return prepare(const_index).fields[field];
}

Designations::Entry& Designations::prepare(std::uint32_t const_index) {
  Entry& entry = entries_[const_index];
  if (entry.ready || entry.working) return entry;
  const DesignationConst& written = (*this)[const_index];
  entry.fields.resize(model_->designations[written.designation].fields.size());
  entry.self.members = {const_index};
  for (std::size_t i = 0; i < entry.fields.size() && i < written.fields.size(); ++i) {
    if (!written.fields[i]) continue;
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
  if (depth_ >= max_depth) return entry;
  entry.working = true;
  ++depth_;
  compute(const_index, entry);
  --depth_;
  entry.working = false;
  entry.ready = true;
  return entry;
}

void Designations::compute(std::uint32_t const_index, Entry& entry) {
  const DesignationConst& written = (*this)[const_index];
  const FormDef& form = model_->designations[written.designation].forms[written.form];
  if (form.computed.empty()) return;
  entry.made.resize(entry.fields.size());
  Machine<ExactInterval> machine(*model_, *this);
  for (const FormDef::Computed& computed : form.computed) {
    DesignationField& field = entry.fields[computed.field];
    if (field.state == defined) continue;  // the text gives it
    machine.start_field(computed.program, &entry.self);
    const MachineValue<ExactInterval>& value = machine.run(computed.block);
    field.state = value.state;
    if (value.kind == ValueKind::number) {
      field.exact = value.number;
      field.number = to_interval(value.number);
      field.point = field.exact.is_point() && value.state == defined ? &field.exact.lo_value : nullptr;
    } else if (value.symbols != nullptr) {
      entry.made[computed.field] = *value.symbols;
      field.symbols = &entry.made[computed.field];
    }
  }
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
  const std::vector<DesignationField>& one = prepare(a).fields;
  const std::vector<DesignationField>& two = prepare(b).fields;
  Bits result = surely_yes;
  for (std::size_t i = 0; i < one.size(); ++i) {
    const DesignationField& x = one[i];
    const DesignationField& y = two[i];
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
