#pragma once

#include <string_view>

namespace lagline {

/// An open file, closed at the end; below 0 when it could not be opened.
class Descriptor {
  public:
    explicit Descriptor(int opened) : fd_(opened) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor();

    [[nodiscard]] int get() const { return fd_; }
    [[nodiscard]] bool opened() const { return fd_ >= 0; }

  private:
    int fd_;
};

/// False, with the reason in errno, when not all of `content` could be written.
[[nodiscard]] bool write_all(int fd, std::string_view content);

}  // namespace lagline
