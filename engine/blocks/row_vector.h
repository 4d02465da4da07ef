#pragma once

#include <cstddef>
#include <new>
#include <type_traits>
#include <utility>
#include <vector>

namespace lagline {

/// Asks the system for large pages below `bytes` of memory that nobody has touched yet: a column of
/// a million rows then costs a few page faults instead of thousands.  A hint; it may do nothing.
void advise_large_pages(void* memory, std::size_t bytes);

/// Memory of columns.  Rows that a vector makes by growing are not filled, so that whoever fills
/// them first, block by block on several threads, is also the first to touch them.
template <class T>
class RowAllocator {
    static_assert(std::is_trivially_copyable_v<T> && std::is_trivially_destructible_v<T>);

  public:
    using value_type = T;

    RowAllocator() = default;
    template <class Other>
    // NOLINTNEXTLINE(google-explicit-constructor): what a container expects of an allocator
    RowAllocator(const RowAllocator<Other>&) {}

    [[nodiscard]] T* allocate(std::size_t count) {
        if (count > static_cast<std::size_t>(-1) / sizeof(T)) throw std::bad_array_new_length{};
        void* memory = ::operator new(count * sizeof(T));
        advise_large_pages(memory, count * sizeof(T));
        return static_cast<T*>(memory);
    }
    void deallocate(T* memory, std::size_t) { ::operator delete(memory); }

    /// Leaves the row as it is.
    template <class Row>
    void construct(Row*) {}
    template <class Row, class... Arguments>
    void construct(Row* row, Arguments&&... arguments) {
        ::new (static_cast<void*>(row)) Row(std::forward<Arguments>(arguments)...);
    }

    friend bool operator==(const RowAllocator&, const RowAllocator&) { return true; }
};

/// A column of plain values.  resize() does not fill the rows it adds.
template <class T>
using RowVector = std::vector<T, RowAllocator<T>>;

}  // namespace lagline
