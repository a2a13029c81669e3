// Packs a JSON text for an address and unpacks it: raw deflate (RFC 1951), then base64url (RFC 4648, section 5).
// The browser's own streams do the work, so that no code has to be loaded for it.

export async function pack(text) {
  const tight = JSON.stringify(JSON.parse(text));
  const deflated = new Blob([tight]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  const bytes = new Uint8Array(await new Response(deflated).arrayBuffer());
  let binary = "";
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

// Rejects with "damaged", or with "too-large" as soon as more than `most` bytes have come out.
export async function unpack(packed, most) {
  const parts = [];
  let length = 0;
  const inflated = new Blob([bytesOf(packed)]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const reader = inflated.getReader();
  for (;;) {
    const { done, value } = await reader.read().catch(() => { throw "damaged"; });
    if (done) break;
    length += value.length;
    if (most < length) {
      reader.cancel().catch(() => {});
      throw "too-large";
    }
    parts.push(value);
  }
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(await new Blob(parts).arrayBuffer());
  } catch {
    throw "damaged";
  }
}

function bytesOf(packed) {
  if (!/^[A-Za-z0-9_-]+$/.test(packed)) throw "damaged";
  try {
    return Uint8Array.from(atob(packed.replaceAll("-", "+").replaceAll("_", "/")), (sign) => sign.charCodeAt(0));
  } catch {
    throw "damaged";
  }
}
