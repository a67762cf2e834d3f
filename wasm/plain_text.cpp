// What the libraries in the page call in place of the C library's formatting and scanning, which
// would be a twentieth of the download. Neither shows text of its own here: SDL's is for error
// messages that nobody reads, Dear ImGui's for names of windows and for settings that are not kept.
#ifdef __EMSCRIPTEN__

#include <cstdarg>
#include <cstddef>
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
int wetsleeve_sscanf(const char*, const char*, ...) { return 0; }
int wetsleeve_vsscanf(const char*, const char*, std::va_list) { return 0; }

} // extern "C"

#endif
