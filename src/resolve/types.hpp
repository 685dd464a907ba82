// Types as written, and the schemas made of attributes.
#pragma once
#include "resolve/context.hpp"

namespace mm {

/// `kinds_too`: a kind's name is a type (formula parameters).
ReadType read_type(Context& context, const TypeSyntax& type, bool kinds_too = false);

AttributeDef read_attribute(Context& context, const AttributeDecl& decl);
/// Adds attributes (groups first) to a schema; a name that is there already is an error. False: a group
/// is not known.
bool add_attributes(Context& context, Schema& schema, const std::vector<Name>& groups,
                    const std::vector<AttributeDecl>& attributes, const std::string& owner);
/// The properties that every kind has, in the order of PartProperty.
void add_part_properties(Context& context, Schema& schema);
/// Says so where a word is given twice to choose from.
void check_choices(Context& context, std::span<const Name> choices);
/// A group that nothing takes is read all the same: it may be shared.
void check_groups(Context& context);

/// Puts both ends of a written range into `result`, in base units and checked against `type`; false after an
/// error. `unit` gets the unit that was written.
bool read_range(Context& context, const RangeValue& range, const Type& type, Span span, ExactInterval& result,
                const Unit* fallback = nullptr, const Unit** unit = nullptr);

/// An attribute of this name is there before: one that was declared, or one that every part has.
void attribute_twice(Context& context, const std::string& sort, const Name& name, const AttributeDef& first);

}  // namespace mm
