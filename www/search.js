// Searches away from the page: the best snap lines of a wall, or the order of the shots.

import init, { searchLines, searchOrder } from "./app.js";

const ready = init();

self.addEventListener("message", async ({ data }) => {
  try {
    await ready;
    if (typeof data === "string") self.postMessage(await searchLines(data));
    else await searchOrder(data, (found) => self.postMessage(found));
  } catch (error) {
    // The page hears of what is thrown outside a promise alone, and searches by itself then.
    setTimeout(() => {
      throw error;
    });
  }
});
