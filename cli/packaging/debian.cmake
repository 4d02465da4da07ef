# Two Debian packages by `cpack`: lagline for use, lagline-dev for linking the library.
set(package_doc "${CMAKE_INSTALL_DATADIR}/doc")
set(changelog "${CMAKE_CURRENT_SOURCE_DIR}/debian/changelog")
if(LAGLINE_GZIP)
    add_custom_command(OUTPUT "${made}/changelog.gz"
        COMMAND sh -c "'${LAGLINE_GZIP}' -9nc '${changelog}' >changelog.gz"
        WORKING_DIRECTORY "${made}" DEPENDS "${changelog}" VERBATIM)
    add_custom_target(lagline_changelog ALL DEPENDS "${made}/changelog.gz")
    set(changelog "${made}/changelog.gz")
endif()
foreach(package IN ITEMS lagline lagline-dev)
    set(component debian)
    if(package STREQUAL "lagline-dev")
        set(component debian_development)
    endif()
    install(FILES debian/copyright "${changelog}" DESTINATION "${package_doc}/${package}"
        COMPONENT ${component} EXCLUDE_FROM_ALL)
endforeach()
install(FILES "${made}/_lagline" DESTINATION "${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions"
    COMPONENT debian EXCLUDE_FROM_ALL)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_VERSION "${PROJECT_VERSION}")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_PRE_BUILD_SCRIPTS "${CMAKE_CURRENT_SOURCE_DIR}/rights.cmake")
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_ALL program debian development debian_development)

set(CPACK_DEBIAN_PACKAGE_MAINTAINER "Lagline contributors <contributors@lagline.invalid>")
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)

set(CPACK_DEBIAN_USE_PACKAGE_NAME lagline)
set(CPACK_DEBIAN_USE_PACKAGE_SECTION science)
set(CPACK_DEBIAN_USE_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_USE_DESCRIPTION
"Corrosion under insulation (CUI) thins pipe where nobody can see it. Lagline
reads line list, inspections and turnarounds of a plant from text files or
workbooks, ranks the insulated pipe segments by the risk that CUI makes them
leak, shows for every number which cell, rule and equation made it, and plans
inspection and recoating within budgets and craft hours.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME lagline-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
string(CONCAT CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "lagline (= ${PROJECT_VERSION}), "
    "coinor-libcbc-dev, libeigen3-dev (>= 3.4), libexpat1-dev, libsqlite3-dev, libsqlitecpp-dev, "
    "libssl-dev, libxlsxwriter-dev, libyaml-cpp-dev, libzip-dev, zlib1g-dev")
set(CPACK_DEBIAN_DEVELOPMENT_DESCRIPTION
"This package holds headers and static libraries of what the program lagline
calculates with: reading plant folders and rule sets, ranking by the risk of
corrosion under insulation, explaining each number, planning. With a CMake
package and an example.")

include(CPack)
foreach(component IN ITEMS program debian)
    cpack_add_component(${component} GROUP use)
endforeach()
foreach(component IN ITEMS development debian_development)
    cpack_add_component(${component} GROUP development)
endforeach()
