// All that the page loads only when a book leaves it, comes in or is handed over: one file, kept for use
// without a network.
export * from "./codec";
export * from "./qr";
