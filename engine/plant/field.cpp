#include "plant/field.h"

#include <algorithm>

namespace lagline {

std::optional<std::size_t> find_field(std::span<const FieldInfo> fields, std::string_view key) {
    const auto at = std::ranges::find(fields, key, &FieldInfo::key);
    if (at == fields.end()) return std::nullopt;
    return static_cast<std::size_t>(at - fields.begin());
}

std::string heading_of(const FieldInfo& field) {
    std::string heading{field.key};
    if (!field.unit.empty()) heading.append(" [").append(field.unit).append("]");
    return heading;
}

}  // namespace lagline
