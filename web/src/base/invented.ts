import { named } from "./place";

// Whether this tab shows the invented round, as the page's address says: it has a book of its own, beside
// the real one, so that neither can get into the other.
export const inventedBook = named("invented");
export const invented = new URLSearchParams(location.search).has("demo");

// The page with the invented round, and without it.
export const addressOf = (demo: boolean): string => location.pathname + (demo ? "?demo" : "");

// Whether it runs from a home screen or a dock, without a browser around it.
export const installed =
  (navigator as { standalone?: boolean }).standalone === true || matchMedia("(display-mode: standalone), (display-mode: fullscreen)").matches;
