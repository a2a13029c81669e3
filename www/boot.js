// Starts the compiled app. All addresses are relative to this file, so the folder works at any path.

// Said before there is an app to say it in the language of the device.
const couldNotStart = {
  en: "The planner could not start. Load the page again, or use a current browser.",
  es: "El planificador no pudo abrirse. Vuelva a cargar la página, o use un navegador actual.",
};

const loading = document.getElementById("loading");
try {
  const address = new URL("./app_bg.wasm", import.meta.url);
  // Nothing is loaded before this, so that the module is compiled while the rest is on its way. Where it
  // fails, such as on a host that gives it another type, the loader of the module has ways of its own.
  const compiled = WebAssembly.compileStreaming(fetch(address)).catch(() => address);
  const { default: init, openApp } = await import("./app.js");
  await init({ module_or_path: await compiled });
  await openApp();
  loading?.remove();
  // The app works without this as long as there is a network, so a refusal stops nothing.
  const { keepOffline } = await import("./offline.js");
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
