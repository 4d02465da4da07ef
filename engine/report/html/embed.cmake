# Puts the parts of the report page and of the work pack into a C++ source:
#   cmake -D FROM=this folder -D TO=page_assets.cpp -P embed.cmake
# Scripts and styles are joined in order of name.  The hashes allow exactly these texts in the
# page's content security policy.

function(read_joined out)
    set(joined "")
    foreach(file IN LISTS ARGN)
        file(READ "${file}" text)
        string(APPEND joined "${text}")
    endforeach()
    set(${out} "${joined}" PARENT_SCOPE)
endfunction()

# "sha256-" and the digest in base 64.
function(policy_hash out text)
    set(digits "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/")
    string(SHA256 hex "${text}")
    set(coded "")
    foreach(at RANGE 0 60 6)
        string(SUBSTRING "${hex}00" ${at} 6 three)
        math(EXPR bits "0x${three}")
        foreach(shift 18 12 6 0)
            math(EXPR digit "(${bits} >> ${shift}) & 63")
            string(SUBSTRING "${digits}" ${digit} 1 letter)
            string(APPEND coded "${letter}")
        endforeach()
    endforeach()
    # 32 bytes are ten groups of three and two bytes more: the last digit is padding.
    string(SUBSTRING "${coded}" 0 43 coded)
    set(${out} "sha256-${coded}=" PARENT_SCOPE)
endfunction()

file(GLOB styles "${FROM}/page/*.css")
file(GLOB scripts "${FROM}/page/*.js")
list(SORT styles)
list(SORT scripts)
read_joined(body "${FROM}/page/page.html")
read_joined(style ${styles})
read_joined(script ${scripts})
read_joined(library "${FROM}/vendor/chart.umd.min.js")
read_joined(pack_style "${FROM}/pack/pack.css")
read_joined(licences "${FROM}/vendor/LICENCES.txt")
set(script "(function () {\n\"use strict\";\n${script}})();\n")
# It names a file that the page does not carry.
string(REGEX REPLACE "//# sourceMappingURL=[^\n]*\n?" "" library "${library}")
policy_hash(style_hash "${style}")
policy_hash(script_hash "${script}")
policy_hash(library_hash "${library}")
policy_hash(pack_style_hash "${pack_style}")

file(WRITE "${TO}" "// Made by embed.cmake from page/, pack/ and vendor/.\n\
#include \"report/html/page_assets.h\"\n\nnamespace lagline {\n\n\
const PageAssets& page_assets() {\n    static constexpr PageAssets assets{\n\
.body = R\"embedded(${body})embedded\",\n\
.style = R\"embedded(${style})embedded\",\n.style_hash = \"${style_hash}\",\n\
.library = R\"embedded(${library})embedded\",\n.library_hash = \"${library_hash}\",\n\
.script = R\"embedded(${script})embedded\",\n.script_hash = \"${script_hash}\",\n\
.licences = R\"embedded(${licences})embedded\",\n\
.pack_style = R\"embedded(${pack_style})embedded\",\n.pack_style_hash = \"${pack_style_hash}\"};\n    return assets;\n}\n\n}  // namespace lagline\n")
