// Looks for the best snap lines of one wall at a time, away from the page.

import init, { searchLines } from "./app.js";

const ready = init();

self.addEventListener("message", async ({ data }) => {
  await ready;
  self.postMessage(searchLines(data));
});
