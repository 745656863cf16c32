# SPDX-License-Identifier: GPL-3.0-or-later
# Language, warnings and sanitizers, the same for every target.
set(CMAKE_C_STANDARD 17)
set(CMAKE_C_STANDARD_REQUIRED ON)
set(CMAKE_C_EXTENSIONS OFF)
set(CMAKE_C_VISIBILITY_PRESET hidden)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE RelWithDebInfo)
endif()

add_compile_definitions(_POSIX_C_SOURCE=200809L _FILE_OFFSET_BITS=64)
add_compile_options(
  -Wall -Wextra -Wpedantic -Werror -Wshadow -Wconversion -Wstrict-prototypes
  -Wmissing-prototypes -Wold-style-definition -Wvla -Wformat=2 -Wundef -Wwrite-strings
  # Contraction would let the digits differ between processors.
  -ffp-contract=off -fstack-protector-strong)

if(TDM_SANITIZE)
  add_compile_options(-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer)
  add_link_options(-fsanitize=address,undefined)
endif()
if(TDM_FUZZ)
  add_compile_options(-fsanitize=fuzzer-no-link)
endif()

find_package(PkgConfig REQUIRED)
pkg_check_modules(TDM_LIBS REQUIRED IMPORTED_TARGET
  libjpeg libpng libexif lcms2 gsl jansson nettle cairo)
pkg_check_modules(POPT REQUIRED IMPORTED_TARGET popt)
