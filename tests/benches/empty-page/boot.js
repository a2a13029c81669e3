// Starts the compiled page; its main function runs by itself.
import init from "./app.js";

await init({ module_or_path: new URL("./app_bg.wasm", import.meta.url) });
