// What SDL's video driver calls and this page does without (sdl2.cmake).
struct SDL_VideoDevice;
struct SDL_Window;
void Emscripten_RegisterEventHandlers(void* data) { (void)data; }
void Emscripten_UnregisterEventHandlers(void* data) { (void)data; }
int Emscripten_HandleCanvasResize(int type, const void* reserved, void* data) {
    (void)type;
    (void)reserved;
    (void)data;
    return 0;
}
int SDL_GestureAddTouch(long long touch) {
    (void)touch;
    return 0;
}
int SDL_GestureDelTouch(long long touch) {
    (void)touch;
    return 0;
}
void SDL_GestureProcessEvent(void* event) { (void)event; }
void SDL_GestureQuit(void) {}
void Emscripten_InitMouse(void) {}
void Emscripten_FiniMouse(void) {}
int Emscripten_CreateWindowFramebuffer(struct SDL_VideoDevice* device, struct SDL_Window* window, unsigned* format,
                                       void** pixels, int* pitch) {
    (void)device;
    (void)window;
    (void)format;
    (void)pixels;
    (void)pitch;
    return -1;
}
int Emscripten_UpdateWindowFramebuffer(struct SDL_VideoDevice* device, struct SDL_Window* window, const void* rects,
                                       int count) {
    (void)device;
    (void)window;
    (void)rects;
    (void)count;
    return -1;
}
void Emscripten_DestroyWindowFramebuffer(struct SDL_VideoDevice* device, struct SDL_Window* window) {
    (void)device;
    (void)window;
}
