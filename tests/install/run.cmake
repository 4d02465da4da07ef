# Run by ctest with the variables that CMakeLists.txt beside this file hands over.

function(run what)
    execute_process(COMMAND ${ARGN} RESULT_VARIABLE status OUTPUT_VARIABLE text ERROR_VARIABLE text)
    if(NOT status EQUAL 0)
        string(SUBSTRING "${text}" 0 3000 text)  # the first errors; the rest follow from them
        message(FATAL_ERROR "${what} failed (${status}):\n${text}")
    endif()
    set(output "${text}" PARENT_SCOPE)
endfunction()

# A fresh prefix each time: a file that is no longer installed must not linger.
file(REMOVE_RECURSE "${STAGE_DIR}")
run("install" "${CMAKE_COMMAND}" --install "${BUILD_DIR}" --prefix "${STAGE_DIR}/first")
# A package that holds absolute paths breaks when it is moved.
file(RENAME "${STAGE_DIR}/first" "${STAGE_DIR}/prefix")
set(prefix "${STAGE_DIR}/prefix")

foreach(file IN ITEMS bin/lagline${EXE} ${LIB}/liblagline_quantity.a
        include/lagline/quantity/unit.h include/lagline/diagnostics/diagnostic.h
        ${LIB}/cmake/lagline/lagline-config.cmake
        ${LIB}/cmake/lagline/lagline-config-version.cmake
        ${LIB}/cmake/lagline/lagline-targets.cmake share/lagline/rules/published
        share/lagline/sample-plant/plant/segments.csv share/lagline/sample-plant/README.md
        share/doc/lagline/README.md share/doc/lagline/docs/plant-folder.md
        share/doc/lagline/docs/example/main.cpp share/bash-completion/completions/lagline
        share/zsh/site-functions/_lagline)
    if(NOT EXISTS "${prefix}/${file}")
        message(FATAL_ERROR "not installed: ${file}")
    endif()
endforeach()

file(GLOB package_files "${prefix}/${LIB}/cmake/lagline/*.cmake")
foreach(file IN LISTS package_files)
    file(READ "${file}" text)
    foreach(private IN ITEMS "${BUILD_DIR}" "${SOURCE_DIR}" "-Wall" "-Werror")
        string(FIND "${text}" "${private}" at)
        if(NOT at EQUAL -1)
            message(FATAL_ERROR "${file} lets '${private}' out of the build")
        endif()
    endforeach()
endforeach()

# Every installed header must compile in a project that has only the package.
file(GLOB_RECURSE headers RELATIVE "${prefix}/include/lagline" "${prefix}/include/lagline/*.h")
list(SORT headers)
list(TRANSFORM headers REPLACE "(.+)" "#include \"\\1\"\n")
list(JOIN headers "" every_header)
file(WRITE "${STAGE_DIR}/generated/every_header.h" "${every_header}")

run("configure" "${CMAKE_COMMAND}" -S "${CONSUMER_DIR}" -B "${STAGE_DIR}/build" -G "${GENERATOR}"
    "-DCMAKE_CXX_COMPILER=${CXX_COMPILER}" "-DCMAKE_CXX_COMPILER_LAUNCHER=${CXX_LAUNCHER}"
    "-DCMAKE_PREFIX_PATH=${prefix}" -DCMAKE_FIND_USE_PACKAGE_REGISTRY=OFF
    "-DGENERATED_DIR=${STAGE_DIR}/generated")
run("build" "${CMAKE_COMMAND}" --build "${STAGE_DIR}/build")
run("consumer" "${STAGE_DIR}/build/consumer${EXE}")
if(NOT output STREQUAL "212 degF = 100 degC\n")
    message(FATAL_ERROR "the consumer printed: ${output}")
endif()

# The installed program finds the rules that were installed with it.
set(plant "${prefix}/share/lagline/sample-plant/plant")
unset(ENV{LAGLINE_RULES})
run("installed program" "${prefix}/bin/lagline${EXE}" check "${plant}")

# The example as it was installed, built by whoever has the package alone.  It gives the order and
# the numbers of the program.
run("configure the example" "${CMAKE_COMMAND}" -S "${prefix}/share/doc/lagline/docs/example"
    -B "${STAGE_DIR}/example" -G "${GENERATOR}" -DCMAKE_BUILD_TYPE=Release
    "-DCMAKE_CXX_COMPILER=${CXX_COMPILER}" "-DCMAKE_CXX_COMPILER_LAUNCHER=${CXX_LAUNCHER}"
    "-DCMAKE_PREFIX_PATH=${prefix}" -DCMAKE_FIND_USE_PACKAGE_REGISTRY=OFF)
run("build the example" "${CMAKE_COMMAND}" --build "${STAGE_DIR}/example")
run("example" "${STAGE_DIR}/example/top_ten${EXE}" "${plant}" 2026-11-25)
string(REGEX MATCHALL "[0-9]+[.] S-[0-9]+" by_example "${output}")
string(REGEX MATCHALL "\n +[a-z_]+ [^\n]*median" reasons "${output}")
run("ranking" "${prefix}/bin/lagline${EXE}" rank "${plant}" --today 2026-11-25 --top 10 --format csv)
string(REGEX MATCHALL "\n[0-9]+,S-[0-9]+" by_program "${output}")
list(TRANSFORM by_program REPLACE "\n([0-9]+),(.+)" "\\1. \\2")
list(LENGTH by_program rows)
list(LENGTH reasons told)
if(NOT rows EQUAL 10 OR NOT by_example STREQUAL by_program OR told LESS 10)
    message(FATAL_ERROR "the example ranks\n${by_example}\nwith ${told} reasons, the program\n"
        "${by_program}")
endif()

# A part that there is not is refused by name.
file(WRITE "${STAGE_DIR}/refused/CMakeLists.txt" "cmake_minimum_required(VERSION 3.25)\n"
    "project(refused LANGUAGES CXX)\nfind_package(lagline REQUIRED COMPONENTS ranking nonesuch)\n")
execute_process(COMMAND "${CMAKE_COMMAND}" -S "${STAGE_DIR}/refused" -B "${STAGE_DIR}/refused/build"
    -G "${GENERATOR}" "-DCMAKE_CXX_COMPILER=${CXX_COMPILER}" "-DCMAKE_PREFIX_PATH=${prefix}"
    RESULT_VARIABLE status OUTPUT_QUIET ERROR_VARIABLE text)
if(status EQUAL 0 OR NOT text MATCHES "nonesuch")
    message(FATAL_ERROR "a component that is not there: ${text}")
endif()
