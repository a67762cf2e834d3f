// Where on its host the page stands. Copies of it under two paths of one host are two pages: whatever the
// browser keeps for a whole host has the path in its name. For the page and its worker.

// "/", or "/some/path/".
export const place = new URL("./", location.href).pathname;

export const named = (what: string): string => `wetsleeve:${place}:${what}`;
