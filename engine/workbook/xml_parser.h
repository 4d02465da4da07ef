#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "workbook/workbook_limits.h"
#include "workbook/zip_archive.h"

namespace lagline {

/// Attributes of an element, prefixes of names left off.
class XmlAttributes {
  public:
    explicit XmlAttributes(const char** pairs) : pairs_(pairs) {}
    /// Value of an attribute; nothing when it is not there.
    [[nodiscard]] std::optional<std::string_view> find(std::string_view name) const;
    /// The same; empty when it is not there.
    [[nodiscard]] std::string_view value(std::string_view name) const {
        return find(name).value_or(std::string_view{});
    }
    /// True for "1" and "true".
    [[nodiscard]] bool flag(std::string_view name) const;

  private:
    const char** pairs_;
};

/// What takes the elements of a part as they come.  Names are without prefix.
class XmlHandler {
  public:
    virtual ~XmlHandler() = default;
    virtual void start(std::string_view name, const XmlAttributes& attributes) = 0;
    virtual void end(std::string_view /*name*/) {}
    virtual void text(std::string_view /*piece*/) {}

    /// Set by a handler to end the parse.
    [[nodiscard]] const std::optional<WorkbookFault>& fault() const { return fault_; }

  protected:
    void refuse(WorkbookFault fault) {
        if (!fault_) fault_ = std::move(fault);
    }

  private:
    std::optional<WorkbookFault> fault_;
};

/// Parses a part of the archive as XML 1.0 while it is unpacked.  A document type, and with it
/// every entity, is refused: the format has none.
/// @return  what was wrong
[[nodiscard]] std::optional<WorkbookFault> parse_part(ZipArchive& archive, const std::string& part,
                                                      const WorkbookLimits& limits,
                                                      XmlHandler& handler);

}  // namespace lagline
