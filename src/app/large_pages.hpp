// Pages of 2 MB from the start, where the system gives them: a check fills some 5 MB, and a thousand small
// pages, each asked for when first touched, take an eighth of its time.
#pragma once

#ifdef MATCHMARK_MIMALLOC
#include <mimalloc.h>
#endif

namespace mm {

/// For a program that is linked with mimalloc (MATCHMARK_MIMALLOC); else nothing.
inline void ask_for_large_pages() {
#ifdef MATCHMARK_MIMALLOC
  mi_option_set(mi_option_large_os_pages, 1);
  mi_option_set(mi_option_eager_commit_delay, 0);
#endif
}

}  // namespace mm
