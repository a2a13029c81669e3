// Starts the compiled app. All addresses are relative to this file, so the folder works at any path.
import init, { openApp } from "./app.js";
import { keepOffline } from "./offline.js";

const loading = document.getElementById("loading");
try {
  await init({ module_or_path: new URL("./app_bg.wasm", import.meta.url) });
  await openApp();
  loading?.remove();
  // The app works without this as long as there is a network, so a refusal stops nothing.
  keepOffline().catch((refusal) => console.warn(refusal));
} catch (error) {
  if (loading) {
    loading.setAttribute("role", "alert");
    loading.textContent = "The planner could not start. Load the page again, or use a current browser.";
  }
  // The cause belongs in the console, where whoever helps will look for it.
  throw error;
}
