// Designations: patterns as declared, and sizes as written read against them.
#pragma once
#include "resolve/types.hpp"

namespace mm {

/// Fills the declared designation's fields and forms (not the computed fields' programs).
void read_designation(Context& context, DesignationId id, const DesignationDecl& decl);

/// The designation that `text`, of the tree, writes; none (and an error at `span`) when it is of no form.
DesignationConstId read_designation_text(Context& context, DesignationId id, std::string_view text,
                                         Span span);

/// For each form of which no text is written, one that is of it: a missing designation may be of that form
/// too. Of designations with many forms none.
void add_samples(Context& context);

}  // namespace mm
