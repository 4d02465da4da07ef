#include "blocks/row_vector.h"

#include <sys/mman.h>

#include <cstdint>

namespace lagline {
namespace {

constexpr std::size_t large_page = std::size_t{1} << 21U;

}  // namespace

void advise_large_pages(void* memory, std::size_t bytes) {
    // Only whole large pages inside: what lies beside them belongs to others.
    const auto begin = reinterpret_cast<std::uintptr_t>(memory);
    const std::uintptr_t first = (begin + large_page - 1) & ~(large_page - 1);
    const std::uintptr_t last = (begin + bytes) & ~(large_page - 1);
    if (last <= first) return;
    // NOLINTNEXTLINE(performance-no-int-to-ptr): an address rounded to a page
    static_cast<void>(::madvise(reinterpret_cast<void*>(first), last - first, MADV_HUGEPAGE));
}

}  // namespace lagline
