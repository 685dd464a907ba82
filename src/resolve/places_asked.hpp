// Whether anything that is judged may read where a part stands.
#pragma once
#include "resolve/context.hpp"

namespace mm {

/// By what is written, whatever is compiled by now; looked for once. True of a small build, for which it
/// costs more to look.
bool asks_for_places(Context& context, const Build& build);

}  // namespace mm
