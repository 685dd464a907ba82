// Pages of 2 MB at the start, where the system gives them: a check fills some 5 MB, and a thousand small
// pages, each asked for when first touched, take an eighth of its time. Not for much text: in a guest of a
// virtual machine a page of 2 MB that was given back to the host cost 4.7 ms to have again, and a check of
// 1.5 GB half as much time once more; with small pages it is a tenth slower than where the large ones are at
// hand, and always the same. Of much text what was given back is soon wanted again: to keep it spares a sixth
// of the pages that are asked for, and takes 3 in a hundred more at the peak.
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

/// What is asked for from here on comes in small pages, and is kept.
inline void ask_for_small_pages() {
#ifdef MATCHMARK_MIMALLOC
  mi_option_set(mi_option_large_os_pages, 0);
  mi_option_set(mi_option_allow_decommit, 0);
#endif
}

}  // namespace mm
