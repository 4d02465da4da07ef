#include "blocks/descriptor.h"

#include <unistd.h>

#include <cerrno>
#include <cstddef>

namespace lagline {

Descriptor::~Descriptor() {
    if (fd_ >= 0) ::close(fd_);
}

bool write_all(int fd, std::string_view content) {
    while (!content.empty()) {
        const ssize_t written = ::write(fd, content.data(), content.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        content.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

}  // namespace lagline
