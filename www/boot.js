// Starts the compiled app. All addresses are relative to this file, so the folder works at any path.
import init, { openApp } from "./app.js";
import { keepOffline } from "./offline.js";

// Said before there is an app to say it in the language of the device.
const couldNotStart = {
  en: "The planner could not start. Load the page again, or use a current browser.",
  es: "El planificador no pudo abrirse. Vuelva a cargar la página, o use un navegador actual.",
};

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
    loading.lang = navigator.language.startsWith("es") ? "es" : "en";
    loading.textContent = couldNotStart[loading.lang];
  }
  // The cause belongs in the console, where whoever helps will look for it.
  throw error;
}
