#pragma once

/// Before a function whose loops work on several numbers at a time: it is compiled for the
/// processors that all programs run on and once more for those with registers twice as wide, and
/// chosen between at start.  Both give the same bits: no operation is fused, none reordered.
/// Not under a sanitizer, whose set-up comes after that choice.
#if defined(__x86_64__) && defined(__linux__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define LAGLINE_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define LAGLINE_WIDE
#endif
