// Names bound, dimensions checked, the build graph made. Everything wrong is reported in one run.
#pragma once
#include "base/helpers.hpp"
#include "messages/message.hpp"
#include "model/build.hpp"

namespace mm {

/// The project is meaningful only when no error was added. The tree must outlive it.
/// `trials_of`: trials of this file only are made; none: those of every file. `helpers`: who may help; the
/// project is the same without.
Project resolve(const Tree& tree, const Sources& sources, Names& names, Messages& messages,
                FileId trials_of = {}, Helpers* helpers = nullptr);

}  // namespace mm
