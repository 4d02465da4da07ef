#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "workbook/workbook_limits.h"

struct zip;

namespace lagline {

/// The archive that a workbook is.
class ZipArchive {
  public:
    /// Takes the next piece of a part; false to stop.
    using Sink = std::function<bool(std::string_view piece)>;

    /// @param bytes  whole content of the file; must outlive this object
    ZipArchive(std::string_view bytes, const WorkbookLimits& limits);

    /// Why it cannot be read at all.
    [[nodiscard]] const std::optional<WorkbookFault>& fault() const { return fault_; }
    [[nodiscard]] bool has(const std::string& part) const;
    /// Unpacks a part piece by piece, within the limits.
    /// @return  why it could not be unpacked; nothing when it was, or when `sink` stopped it
    [[nodiscard]] std::optional<WorkbookFault> unpack(const std::string& part, const Sink& sink);

  private:
    struct Closer {
        void operator()(zip* archive) const;
    };
    WorkbookLimits limits_;
    std::unique_ptr<zip, Closer> archive_;
    std::optional<WorkbookFault> fault_;
    std::size_t unpacked_bytes_ = 0;
};

}  // namespace lagline
