// Inside a frame the page could be laid under another that leads its clicks: there it neither begins, nor reads or
// writes what it keeps.
export const framed = window.top !== window;
