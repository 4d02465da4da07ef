#pragma once

#include <string_view>

namespace lagline {

/// The parts of the page that do not depend on a plant, put in at build time from page/ and vendor/
/// by embed.cmake.  Hashes are those of a content security policy: "sha256-...".
struct PageAssets {
    std::string_view body;   ///< page/page.html
    std::string_view style;  ///< page/*.css
    std::string_view style_hash;
    std::string_view library;  ///< the chart library
    std::string_view library_hash;
    std::string_view script;  ///< page/*.js, in order of name
    std::string_view script_hash;
    std::string_view licences;    ///< vendor/LICENCES.txt
    std::string_view pack_style;  ///< pack/pack.css, of the work pack
    std::string_view pack_style_hash;
};
[[nodiscard]] const PageAssets& page_assets();

}  // namespace lagline
