// Catalogues in one .zip (PKWARE's APPNOTE 6.3.3): written as they are, read as every program writes them. The
// browser itself unpacks; what a file says of its own size is not believed.

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let sum = n;
  for (let k = 0; k < 8; k += 1) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  return sum >>> 0;
});

function checksum(bytes) {
  let sum = 0xffffffff;
  for (const one of bytes) sum = TABLE[(sum ^ one) & 255] ^ (sum >>> 8);
  return (sum ^ 0xffffffff) >>> 0;
}

/** Fields of two and four bytes, one after another: [size, value]. */
function fields(...all) {
  const made = new DataView(new ArrayBuffer(all.reduce((sum, [size]) => sum + size, 0)));
  let at = 0;
  for (const [size, value] of all) {
    if (size === 2) made.setUint16(at, value, true);
    else made.setUint32(at, value, true);
    at += size;
  }
  return new Uint8Array(made.buffer);
}

/** A .zip of files: [{ file, bytes }]. */
export function zip(files) {
  const now = new Date();
  const time = (now.getHours() << 11) | (now.getMinutes() << 5) | (now.getSeconds() >> 1);
  const day = ((now.getFullYear() - 1980) << 9) | ((now.getMonth() + 1) << 5) | now.getDate();
  const parts = [];
  const list = [];
  let at = 0;
  let listed = 0;
  for (const { file, bytes } of files) {
    const name = new TextEncoder().encode(file);
    // Bit 11: the name is UTF-8. Method 0: as it is.
    const both = [[2, 20], [2, 1 << 11], [2, 0], [2, time], [2, day], [4, checksum(bytes)], [4, bytes.length], [4, bytes.length], [2, name.length], [2, 0]];
    const head = fields([4, 0x04034b50], ...both);
    const entry = fields([4, 0x02014b50], [2, 20], ...both, [2, 0], [2, 0], [2, 0], [4, 0], [4, at]);
    parts.push(head, name, bytes);
    list.push(entry, name);
    at += head.length + name.length + bytes.length;
    listed += entry.length + name.length;
  }
  const count = files.length;
  return new Blob([...parts, ...list, fields([4, 0x06054b50], [2, 0], [2, 0], [2, count], [2, count], [4, listed], [4, at], [2, 0])], { type: 'application/zip' });
}

/** Unpacks at most `most` bytes. */
async function inflated(bytes, most) {
  const parts = [];
  let length = 0;
  const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      return null;
    }
    parts.push(value);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

/** The files of a .zip whose names `wanted` takes: [{ file, bytes }]; no bytes where there are more than `most`. */
export async function unzip(buffer, wanted, most) {
  const view = new DataView(buffer);
  let end = buffer.byteLength - 22;
  while (end >= 0 && view.getUint32(end, true) !== 0x06054b50) end -= 1;
  if (end < 0) throw new Error('this is not a .zip file');
  const found = [];
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left -= 1) {
    if (view.getUint32(at, true) !== 0x02014b50) throw new Error('this .zip file is damaged');
    const [flags, method] = [view.getUint16(at + 8, true), view.getUint16(at + 10, true)];
    const packed = view.getUint32(at + 20, true);
    const [name, extra, remark] = [28, 30, 32].map((field) => view.getUint16(at + field, true));
    const start = view.getUint32(at + 42, true);
    // Without bit 11 a name may be in any of the old sets; those of a catalogue are nearly always plain.
    const file = new TextDecoder(flags & (1 << 11) ? 'utf-8' : 'windows-1252').decode(new Uint8Array(buffer, at + 46, name));
    at += 46 + name + extra + remark;
    if (!wanted(file)) continue;
    if (flags & 1) throw new Error('this .zip file has a password');
    const from = start + 30 + view.getUint16(start + 26, true) + view.getUint16(start + 28, true);
    const bytes = new Uint8Array(buffer, from, packed);
    if (method !== 0 && method !== 8) throw new Error('this .zip file is packed in a way that browsers do not know');
    found.push({ file, bytes: method === 8 ? await inflated(bytes, most) : packed > most ? null : bytes });
  }
  return found;
}
