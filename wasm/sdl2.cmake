# SDL2: third_party::sdl2, of its source for the page, and of the system for the native window. What its source loses
# is told here by the text that goes; where that is not found any more, the build stops.

if(EMSCRIPTEN)
    # From source, because the compiler's own port would be downloaded at build time. Not by SDL's
    # build either: with Emscripten its hundreds of checks take minutes, only to find what SDL's
    # ready SDL_config_emscripten.h says. Only what a canvas needs is taken: phones carry the rest.
    wetsleeve_need_source(sdl2 include/SDL_config_emscripten.h)
    set(sdl2 "${WETSLEEVE_SOURCES}/sdl2")
    foreach(part IN ITEMS
            . atomic cpuinfo events file joystick joystick/dummy libm loadso/dummy locale locale/emscripten misc
            misc/emscripten render stdlib thread thread/generic timer timer/unix video video/yuv2rgb video/emscripten)
        file(GLOB part_sources "${sdl2}/src/${part}/*.c")
        list(APPEND sdl2_sources ${part_sources})
    endforeach()
    function(wetsleeve_sdl2 target sources)
        add_library(${target} STATIC ${sources})
        target_include_directories(${target} SYSTEM PUBLIC "${sdl2}/include")
        target_compile_definitions(${target} PRIVATE
            SDL_AUDIO_DISABLED SDL_JOYSTICK_DISABLED SDL_SENSOR_DISABLED SDL_POWER_DISABLED SDL_RENDER_DISABLED
            SDL_LOADSO_DISABLED
            # The ready configuration names this driver even where joysticks are off.
            SDL_EMSCRIPTEN_JoystickDriver=SDL_DUMMY_JoystickDriver
            ${ARGN})
        target_compile_options(${target} PRIVATE -w)
    endfunction()
    # plain_text.cpp tells why.
    set(plain_text atof=wetsleeve_atof fprintf=wetsleeve_fprintf vsnprintf=wetsleeve_vsnprintf sscanf=wetsleeve_sscanf
        vsscanf=wetsleeve_vsscanf)
    # The face draws with OpenGL alone: SDL's own pixel copying, a third of it, is left out. So are its
    # listeners, cursors, gestures and pixel buffers for the browser: the page hands every event in itself,
    # and SDL would take touches and keys away from the page's own elements.
    set(sdl2_trimmed ${sdl2_sources})
    list(FILTER sdl2_trimmed EXCLUDE REGEX "SDL_emscripten(events|mouse|framebuffer)\\.c$|/SDL_(events|gesture)\\.c$")
    # The names of all events are there for a log that nobody reads.
    file(READ "${sdl2}/src/events/SDL_events.c" events)
    string(FIND "${events}" "        SDL_LogEvent(event);" found)
    if(found EQUAL -1)
        message(FATAL_ERROR "SDL_events.c no longer logs events in the known way")
    endif()
    string(REPLACE "        SDL_LogEvent(event);" "" events "${events}")
    file(CONFIGURE OUTPUT "${CMAKE_CURRENT_BINARY_DIR}/generated/SDL_events.c" CONTENT "${events}" @ONLY)
    list(APPEND sdl2_trimmed "${CMAKE_CURRENT_BINARY_DIR}/generated/SDL_events.c")
    wetsleeve_sdl2(sdl2 "${sdl2_trimmed};${CMAKE_CURRENT_SOURCE_DIR}/sdl2_trimmed.c"
        SDL_LEAN_AND_MEAN=1 SDL_FILESYSTEM_DISABLED ${plain_text})
    target_include_directories(sdl2 PRIVATE "${sdl2}/src/events") # for the copy's own headers
    add_library(third_party::sdl2 ALIAS sdl2)
else()
    find_package(SDL2 REQUIRED)
    find_package(OpenGL REQUIRED)
    add_library(third_party::sdl2 ALIAS SDL2::SDL2)
endif()
