#include "ledger/gzip.h"

#define ZLIB_CONST  // inputs are const in the library's interface
#include <zlib.h>

#include <algorithm>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "blocks/parallel.h"

namespace lagline {
namespace {

constexpr int gzip_window = 15 + 16;  // the largest window, with head and tail of gzip
constexpr int usual_memory = 8;
constexpr int level =
    2;  // three times as fast as usual, for a sixth more bytes; no flag of its own
// No name, no time, no flags: RFC 1952, section 2.3.  zlib writes 3 for the system on Unix.
constexpr std::string_view head{"\x1f\x8b\x08\0\0\0\0\0\0\x03", 10};

uInt piece(std::size_t left) {
    return static_cast<uInt>(std::min<std::size_t>(left, std::numeric_limits<uInt>::max() / 2));
}

const Bytef* bytes_of(std::string_view text) {
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-reinterpret-cast): zlib's byte is unsigned
    return reinterpret_cast<const Bytef*>(text.data());
}

Bytef* bytes_of(std::string& text) {
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-reinterpret-cast): as above
    return reinterpret_cast<Bytef*>(text.data());
}

// A stream that ends itself.
class Stream {
  public:
    using End = int (*)(z_stream*);
    Stream(int started, z_stream& stream, End end) : stream_(stream), end_(end) {
        if (started != Z_OK) throw std::runtime_error("the compression library does not start");
    }
    Stream(const Stream&) = delete;
    Stream& operator=(const Stream&) = delete;
    ~Stream() { end_(&stream_); }

  private:
    z_stream& stream_;
    End end_;
};

// Large enough that starting anew costs nothing, small enough to share work.
constexpr std::size_t member_bytes = std::size_t{1} << 23U;

std::string member_of(std::string_view bytes) {
    z_stream stream{};
    const Stream owner{
        deflateInit2(&stream, level, Z_DEFLATED, gzip_window, usual_memory, Z_DEFAULT_STRATEGY),
        stream, deflateEnd};
    std::string member(deflateBound(&stream, bytes.size()), '\0');
    std::size_t taken = 0;
    std::size_t made = 0;
    int state = Z_OK;
    while (state == Z_OK || state == Z_BUF_ERROR) {
        if (made == member.size()) member.resize(2 * member.size());
        stream.next_in = bytes_of(bytes) + taken;
        stream.avail_in = piece(bytes.size() - taken);
        stream.next_out = bytes_of(member) + made;
        stream.avail_out = piece(member.size() - made);
        const uInt in = stream.avail_in;
        const uInt out = stream.avail_out;
        state = deflate(&stream, taken + in == bytes.size() ? Z_FINISH : Z_NO_FLUSH);
        taken += in - stream.avail_in;
        made += out - stream.avail_out;
    }
    if (state != Z_STREAM_END) throw std::runtime_error("the compression library gave up");
    member.resize(made);
    return member;
}

}  // namespace

std::string gzip_of(std::string_view bytes) {
    if (bytes.size() <= member_bytes) return member_of(bytes);
    std::vector<std::string> members((bytes.size() + member_bytes - 1) / member_bytes);
    for_each_block(members.size(), {1, 0, nullptr}, [&](std::size_t i, RowRange) {
        members[i] = member_of(bytes.substr(i * member_bytes, member_bytes));
    });
    std::string all;
    for (const std::string& member : members) all += member;
    return all;
}

std::optional<std::string> unzipped(std::string_view members, std::size_t size) {
    if (!members.starts_with(head)) return std::nullopt;
    z_stream stream{};
    const Stream owner{inflateInit2(&stream, gzip_window), stream, inflateEnd};
    constexpr std::size_t first = 1U << 16U;
    // One byte more than it may hold, so that too much is seen.
    std::string bytes(std::min(size + 1, first), '\0');
    std::size_t taken = 0;
    std::size_t made = 0;
    int state = Z_OK;
    while (state == Z_OK) {
        if (made == bytes.size()) bytes.resize(std::min(size + 1, 2 * bytes.size()));
        stream.next_in = bytes_of(members) + taken;
        stream.avail_in = piece(members.size() - taken);
        stream.next_out = bytes_of(bytes) + made;
        stream.avail_out = piece(bytes.size() - made);
        const uInt in = stream.avail_in;
        const uInt out = stream.avail_out;
        state = inflate(&stream, Z_NO_FLUSH);  // a member that is too long or cut: Z_BUF_ERROR
        taken += in - stream.avail_in;
        made += out - stream.avail_out;
        // Another member may follow, but nothing else.
        const bool more = state == Z_STREAM_END && members.substr(taken).starts_with(head);
        if (more && made < size) state = inflateReset(&stream);
    }
    if (state != Z_STREAM_END || taken != members.size() || made != size) return std::nullopt;
    bytes.resize(size);
    return bytes;
}

}  // namespace lagline
