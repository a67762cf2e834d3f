// What the libraries in the page call in place of the C library's formatting and scanning, which
// would be a twentieth of the download. Neither shows text of its own here: SDL's is for error
// messages that nobody reads, Dear ImGui's for names of windows and for settings that are not kept.
// What they write into the browser's log are texts alone.
// Nor are SDL's hints ever set, whose numbers it would read.
#ifdef __EMSCRIPTEN__

#include <cstdarg>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <cstring>

extern "C" {

int wetsleeve_vsnprintf(char* text, std::size_t size, const char* format, std::va_list) {
    const std::size_t length = std::strlen(format);
    if (size > 0) {
        const std::size_t kept = length < size ? length : size - 1;
        std::memcpy(text, format, kept);
        text[kept] = '\0';
    }
    return static_cast<int>(length);
}
int wetsleeve_sscanf(const char* text, const char* format, ...) {
    constexpr char version[] = "#version ";
    constexpr std::size_t length = sizeof version - 1;
    if (std::strncmp(format, version, length) != 0 || std::strncmp(text, version, length) != 0)
        return 0;
    std::va_list into;
    va_start(into, format);
    *va_arg(into, int*) = std::atoi(text + length);
    va_end(into);
    return 1;
}
int wetsleeve_fprintf(std::FILE* file, const char* format, ...) {
    std::va_list texts; // no format has anything else
    va_start(texts, format);
    for (; *format != '\0'; ++format)
        if (format[0] == '%' && format[1] == 's') {
            std::fputs(va_arg(texts, const char*), file);
            ++format;
        } else {
            std::fputc(*format, file);
        }
    va_end(texts);
    return 0;
}
double wetsleeve_atof(const char*) { return 1.0; } // SDL_mouse.c: speed of the mouse
int wetsleeve_vsscanf(const char*, const char*, std::va_list) { return 0; }

} // extern "C"

#endif
