// Loops over columns are compiled twice, for every processor and for those with AVX2, which take four doubles
// at a time; which of the two runs is settled when the program starts. Both give the same bits: the same
// operations, rounded the same way, and nothing contracted.
#pragma once

// Functions that take or return packs of numbers by value must be inlined into such a loop (always_inline):
// called, they would pass them otherwise than it does.
#if defined(__x86_64__) && defined(__OPTIMIZE__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define MATCHMARK_COMPILED_TWICE [[gnu::target_clones("avx2", "default"), gnu::flatten]]
#else
#define MATCHMARK_COMPILED_TWICE
#endif
