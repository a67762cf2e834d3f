// Whether the page runs from a home screen or a dock, without a browser around it.
export const installed =
  (navigator as { standalone?: boolean }).standalone === true || matchMedia("(display-mode: standalone), (display-mode: fullscreen)").matches;
