# Dear ImGui with its backends for SDL2 and OpenGL: imgui. What its source loses is told here by the text that goes; where
# that is not found any more, the build stops.

wetsleeve_need_source(imgui backends/imgui_impl_sdl2.cpp)
set(imgui "${WETSLEEVE_SOURCES}/imgui")
# What of Dear ImGui the face cannot come to goes, call by call, and the linker drops the rest: the
# built-in font (10 KB that do not compress), for the face brings its own; and for its one window, which
# takes no keys, does not scroll and is not kept: keyboard navigation, scrollbars, the wheel, popups,
# tooltips, dimmed backgrounds, settings.
function(wetsleeve_without source) # TEXT REPLACEMENT ...
    file(READ "${imgui}/${source}" content)
    while(ARGN)
        list(POP_FRONT ARGN text replacement)
        string(FIND "${content}" "${text}" found)
        if(found EQUAL -1)
            message(FATAL_ERROR "${source} has no longer what wasm/imgui.cmake takes out of it: ${text}")
        endif()
        string(REPLACE "${text}" "${replacement}" content "${content}")
    endwhile()
    file(CONFIGURE OUTPUT "${CMAKE_CURRENT_BINARY_DIR}/generated/${source}" CONTENT "${content}" @ONLY)
endfunction()
wetsleeve_without(imgui_draw.cpp
    "if (ConfigData.Size == 0)
        AddFontDefault()" "IM_ASSERT(ConfigData.Size > 0)")
wetsleeve_without(imgui.cpp
    "\n    NavUpdate()" "\n"
    "\n    NavEndFrame()" "\n"
    "\n    UpdateMouseWheel()" "\n"
    "\n    RenderDimmedBackgrounds()" "\n"
    "Scrollbar(ImGuiAxis_X)" "IM_ASSERT(0)"
    "Scrollbar(ImGuiAxis_Y)" "IM_ASSERT(0)"
    "window->Pos = FindBestWindowPosForPopup(window)" "IM_ASSERT(0)"
    "SetTooltip(\"...\")" "IM_ASSERT(0)"
    "\n        AddSettingsHandler(&ini_handler)" "\n"
    "\n    TableSettingsAddSettingsHandler()" "\n")
# Nobody else draws on the canvas. To ask what state it is in, and to put that back, would make every frame
# wait for the graphics process. Nor does it take an extension to draw with what every WebGL has.
set(backend backends/imgui_impl_opengl3.cpp)
file(READ "${imgui}/${backend}" content)
foreach(part IN ITEMS "    // Backup GL state|    // Setup desired GL state" "    // Restore modified GL state|    (void)bd")
    string(REPLACE "|" ";" part "${part}")
    list(GET part 0 from)
    list(GET part 1 to)
    string(FIND "${content}" "${from}" begin)
    string(SUBSTRING "${content}" 0 ${begin} before)
    string(SUBSTRING "${content}" ${begin} -1 content)
    string(FIND "${content}" "${to}" end)
    if(begin EQUAL -1 OR end EQUAL -1)
        message(FATAL_ERROR "${backend} has no longer what wasm/imgui.cmake takes out of it: ${from}")
    endif()
    string(SUBSTRING "${content}" ${end} -1 after)
    set(content "${before}${after}")
endforeach()
set(arrays "#define IMGUI_IMPL_OPENGL_USE_VERTEX_ARRAY")
set(whole "${content}")
string(REPLACE "#elif defined(__EMSCRIPTEN__)\n${arrays}" "#elif 0\n${arrays}" content "${content}")
if(content STREQUAL whole)
    message(FATAL_ERROR "${backend} has no longer the place where wasm/imgui.cmake turns vertex arrays off")
endif()
file(CONFIGURE OUTPUT "${CMAKE_CURRENT_BINARY_DIR}/generated/${backend}" CONTENT "${content}" @ONLY)

function(wetsleeve_imgui target folder) # of imgui.cpp, imgui_draw.cpp and the backend
    add_library(${target} STATIC
        "${folder}/imgui.cpp" "${folder}/imgui_draw.cpp" "${imgui}/imgui_tables.cpp" "${imgui}/imgui_widgets.cpp"
        "${folder}/${backend}")
    target_include_directories(${target} SYSTEM PUBLIC "${imgui}" "${imgui}/backends")
    # Public: these change the layout of Dear ImGui's structures, so every file must see the same ones.
    target_compile_definitions(${target} PUBLIC
        IMGUI_DISABLE_DEMO_WINDOWS IMGUI_DISABLE_DEBUG_TOOLS ${ARGN}
        $<$<BOOL:${EMSCRIPTEN}>:IMGUI_IMPL_OPENGL_ES2>)
    if(NOT EMSCRIPTEN)
        target_link_libraries(${target} PUBLIC OpenGL::GL ${CMAKE_DL_LIBS})
    endif()
endfunction()
wetsleeve_imgui(imgui "${CMAKE_CURRENT_BINARY_DIR}/generated"
    IMGUI_DISABLE_OBSOLETE_FUNCTIONS IMGUI_DISABLE_OBSOLETE_KEYIO IMGUI_DISABLE_DEFAULT_SHELL_FUNCTIONS
    IMGUI_DISABLE_FILE_FUNCTIONS)
if(EMSCRIPTEN)
    target_compile_definitions(imgui PRIVATE ${plain_text})
endif()
