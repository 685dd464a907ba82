// Whether anything that is judged may read where a part stands.
#pragma once
#include "model/build.hpp"

namespace mm {

/// Of a model whose rules are compiled. True of a trial, too, whose expectations are compiled after its
/// build, and of a small build.
bool asks_for_places(const Model& model, const Build& build);

}  // namespace mm
