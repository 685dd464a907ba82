#include "resolve/adjustables.hpp"

#include <set>

#include "resolve/quantities.hpp"
#include "resolve/types.hpp"

namespace mm {

namespace {

constexpr std::size_t max_settings = 10'000;

class AdjustableReader {
 public:
  AdjustableReader(Context& context, const AdjustableValue& form, const Type& type, Span span)
      : context_(context), form_(form), type_(type), span_(span) {}

  std::optional<Adjustable> run() {
    switch (form_.form) {
      case AdjustableValue::Form::range:
      case AdjustableValue::Form::stepped_range:
        return range();
      case AdjustableValue::Form::one_of:
        return list() ? from_settings() : std::nullopt;
      case AdjustableValue::Form::sums:
        return sums() ? from_settings() : std::nullopt;
    }
    return std::nullopt;
  }

 private:
  const QuantitySyntax& quantity(std::size_t i) const {
    return context_.tree.quantities[form_.quantities[i]];
  }

  std::optional<Measured> read(const QuantitySyntax& written, const Type& type,
                               const Unit* fallback = nullptr) {
    auto measured = read_quantity(context_, written, fallback, &type);
    if (measured && !expect_dimension(context_, *measured, type, written.span())) measured.reset();
    return measured;
  }

  std::optional<Adjustable> range() {
    const RangeValue ends{form_.quantities[0], form_.quantities[1]};
    if (!read_range(context_, ends, type_, span_, out_.range, nullptr, &out_.unit)) return std::nullopt;
    if (form_.form == AdjustableValue::Form::range) return std::move(out_);
    const QuantitySyntax& written = quantity(2);
    const auto step = read(written, type_, out_.unit);
    if (!step) return std::nullopt;
    out_.step = step->amount * step->unit->factor;
    if (*out_.step > 0) return std::move(out_);
    context_.messages.add(Code::step_not_positive, written.span(),
                          {std::string(context_.sources.text(written.span()))});
    return std::nullopt;
  }

  bool list() {
    for (const auto& entry : context_.tree.quantities[form_.quantities]) {
      const auto setting = read(entry, type_);
      if (!setting) return false;
      out_.unit = setting->unit;
      settings_.insert(setting->value.lo_value);
    }
    return true;
  }

  /// Every total that some of the pieces make, none of them included.
  bool sums() {
    settings_.insert(0);
    std::size_t tried = 0;
    for (std::size_t i = 0; i < form_.quantities.size(); i += 2) {
      const auto count = read(quantity(i), simple_type(TypeKind::count));
      const auto size = read(quantity(i + 1), type_);
      if (!count || !size) return false;
      out_.unit = size->unit;
      const std::set<Rational> before = settings_;
      const Rational most = count->amount, each = size->value.lo_value;
      for (Rational n = 1; n <= most; ++n) {
        for (const auto& total : before) settings_.insert(total + n * each);
        tried += before.size();  // equal sums are one setting, but are worked out all the same
        if (settings_.size() <= max_settings && tried <= 100 * max_settings) continue;
        context_.messages.add(Code::too_many_settings, span_, {std::to_string(max_settings)});
        return false;
      }
    }
    return true;
  }

  std::optional<Adjustable> from_settings() {
    if (settings_.empty()) return std::nullopt;
    out_.settings.assign(settings_.begin(), settings_.end());
    out_.range = ExactInterval::of(*settings_.begin(), *settings_.rbegin());
    return std::move(out_);
  }

  Context& context_;
  const AdjustableValue& form_;
  const Type& type_;
  Span span_;
  std::set<Rational> settings_;
  Adjustable out_;
};

}  // namespace

std::optional<Adjustable> read_adjustable(Context& context, const AdjustableValue& form, const Type& type,
                                          Span span) {
  return AdjustableReader(context, form, type, span).run();
}

}  // namespace mm
