// Searches away from the page: the best snap lines of a wall, or the order of the shots.

import init, { searchLines, searchOrder } from "./app.js";

const ready = init();

self.addEventListener("message", async ({ data }) => {
  await ready;
  if (typeof data === "string") self.postMessage(searchLines(data));
  else searchOrder(data, (found) => self.postMessage(found));
});
