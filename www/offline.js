// Asks the browser to keep the app on the device, and tells the app how that stands.
//
// Tells by the event "offlinechange" on the window, whose detail is "ready" once the app opens without
// a network, or "new-version" when another version waits. The event "takenewversion" takes it.

const tell = (detail) => window.dispatchEvent(new CustomEvent("offlinechange", { detail }));

export async function keepOffline() {
  const workers = navigator.serviceWorker;
  // Missing where the page was not loaded safely; the app works there all the same, with a network.
  if (!workers) return;
  const address = new URL("./service-worker.js", import.meta.url);
  const registration = await workers.register(address, { updateViaCache: "none" });
  if (registration.waiting && workers.controller) tell("new-version");
  registration.addEventListener("updatefound", () => follow(registration.installing));
  follow(registration.installing);
  window.addEventListener("takenewversion", () => take(registration));
  document.addEventListener("visibilitychange", () => {
    // Without a network there is nothing to be found.
    if (document.visibilityState === "visible") registration.update().catch(() => {});
  });
  await workers.ready;
  if (!registration.waiting) tell("ready");
}

function follow(worker) {
  const isUpdate = Boolean(navigator.serviceWorker.controller);
  worker?.addEventListener("statechange", () => {
    if (worker.state === "installed" && isUpdate) tell("new-version");
  });
}

function take(registration) {
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  registration.waiting?.postMessage("take-over");
}
