# presets/*.json becomes constant tables: generated/presets/<name>.hpp, included as
# "presets/<name>.hpp", with for each field an array of Offers, preset::<name>::<field>, in the order
# of the entries. A field that an entry leaves out is NaN there when it is read by index
# (preset::<name>::<field>_of), and missing among the offers.

set(preset_folder "${CMAKE_CURRENT_BINARY_DIR}/generated/presets")
file(GLOB preset_files CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/presets/*.json")
list(FILTER preset_files EXCLUDE REGEX "schema\\.json$")
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${preset_files})

foreach(preset_file IN LISTS preset_files)
    get_filename_component(preset "${preset_file}" NAME_WE)
    file(READ "${preset_file}" json)
    string(JSON fields GET "${json}" fields)
    string(JSON field_count LENGTH "${fields}")
    string(JSON entries GET "${json}" entries)
    string(JSON entry_count LENGTH "${entries}")
    math(EXPR last_field "${field_count} - 1")
    math(EXPR last_entry "${entry_count} - 1")

    set(names "")
    foreach(f RANGE ${last_field})
        set(offers_${f} "")
        set(values_${f} "")
    endforeach()
    foreach(e RANGE ${last_entry})
        string(JSON entry GET "${entries}" ${e})
        string(JSON name GET "${entry}" name)
        string(APPEND names "\n    \"${name}\",")
        foreach(f RANGE ${last_field})
            string(JSON field MEMBER "${fields}" ${f})
            string(JSON value ERROR_VARIABLE missing GET "${entry}" "${field}" value)
            if(missing)
                string(APPEND values_${f} "\n    blank,")
            else()
                string(APPEND values_${f} "\n    ${value},")
                string(APPEND offers_${f} "\n    Offer{\"${name}\", ${value}},")
            endif()
        endforeach()
    endforeach()

    set(tables "")
    foreach(f RANGE ${last_field})
        string(JSON field MEMBER "${fields}" ${f})
        string(JSON dimension GET "${fields}" "${field}" dimension)
        string(JSON unit GET "${fields}" "${field}" unit)
        string(APPEND tables
            "static_assert(std::string_view(dimension::${dimension}.base().symbol) == \"${unit}\", // NOLINT\n"
            "              \"${preset}.json: ${field} must be in the base unit of ${dimension}\");\n"
            "inline constexpr Offer ${field}[] = {${offers_${f}}\n};\n"
            "inline constexpr double ${field}_of[] = {${values_${f}}\n};\n")
    endforeach()
    file(CONFIGURE OUTPUT "${preset_folder}/${preset}.hpp" @ONLY CONTENT
[[// Written by core/presets.cmake from presets/@preset@.json, where the sources of the numbers are.
#pragma once

#include "core/model/line.hpp"

namespace wetsleeve::preset::@preset@ {

inline constexpr const char* name[] = {@names@
};
@tables@
} // namespace wetsleeve::preset::@preset@
]])
endforeach()
