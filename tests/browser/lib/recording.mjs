// Reads the samples of a saved recording as public/schema/README.md describes the form: written from
// that description, not from the program.

import { inflateRawSync } from "node:zlib";

/** CRC-32 of IEEE 802.3; older versions of Node have none. */
const crc32 = (bytes) => {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return ~sum >>> 0;
};

/** The samples of `recording`, in the form of schema 3: `arrival_seconds`, `axes`, `buttons`. */
export function samplesOf(recording) {
  if (recording.samples) return recording.samples;
  const bytes = inflateRawSync(Buffer.from(recording.packed, "base64url"), { maxOutputLength: 1 << 26 });
  const end = bytes.length - 4;
  if (crc32(bytes.subarray(0, end)) !== bytes.readUInt32LE(end)) throw new Error("wrong checksum");
  let at = 0;
  const byte = () => bytes[at++];
  const number = () => {
    let sum = 0n;
    for (let shift = 0n; ; shift += 7n) {
      const one = byte();
      sum |= BigInt(one & 0x7f) << shift;
      if (one < 0x80) return Number(sum);
    }
  };
  const unzigzag = (one) => (one % 2 === 0 ? one / 2 : -(one + 1) / 2);
  const signed = () => unzigzag(number());
  const planes = (count, width, read) => {
    const from = at;
    at += count * width;
    return Array.from({ length: count }, (_, place) => {
      const one = Buffer.alloc(8);
      for (let plane = 0; plane < width; plane += 1) one[plane] = bytes[from + plane * count + place];
      return read(one);
    });
  };
  const differences = (count) => {
    const [times, width] = [byte(), byte()];
    let all = planes(count, width, (one) => unzigzag(Number(one.readBigUInt64LE())));
    for (let time = 0; time < times; time += 1) {
      let sum = 0;
      all = all.map((one) => (sum += one));
    }
    return all;
  };
  const long = (count) => planes(count, 8, (one) => one.readDoubleLE());
  const times = (count) => {
    if (byte() === 4) return long(count);
    const form = byte();
    const [step, usual, first] = [number(), signed(), signed()];
    return [0, ...differences(count - 1)].map((difference, place) => {
      const microseconds = first + (place * usual + difference) * step;
      return form === 0 ? microseconds / 1000 / 1000 : microseconds / 1e6;
    });
  };
  const share = [
    (count, steps) => count / steps,
    (count, steps) => (2 * count) / steps - 1,
    (count, steps) => Math.fround(count / steps),
    (count, steps) => Math.fround(Math.fround((2 * count) / steps) - 1),
    (count, steps) => count / (count < 0 ? steps + 1 : steps),
    (count, steps) => Math.fround(count / (count < 0 ? steps + 1 : steps)),
  ];
  const values = (count) => {
    const kind = byte();
    if (kind === 0) {
      at += 8;
      return new Array(count).fill(bytes.readDoubleLE(at - 8));
    }
    if (kind === 1) {
      const form = share[byte()];
      const steps = number();
      return differences(count).map((one) => form(one, steps));
    }
    if (kind === 2) {
      const list = Array.from({ length: number() }, () => bytes.readDoubleLE((at += 8) - 8));
      return differences(count).map((place) => list[place]);
    }
    if (kind === 3) return planes(count, 4, (one) => one.readFloatLE());
    return long(count);
  };
  if (byte() !== 1) throw new Error("another version");
  const samples = [];
  while (at < end) {
    const [count, axes, buttons] = [number(), number(), number()];
    const block = times(count).map((arrival_seconds) => ({ arrival_seconds, axes: [], buttons: [] }));
    for (let axis = 0; axis < axes; axis += 1) values(count).forEach((one, place) => block[place].axes.push(one));
    for (let button = 0; button < buttons; button += 1) {
      values(count).forEach((one, place) => block[place].buttons.push(one));
    }
    samples.push(...block);
  }
  if (samples.length !== recording.count) throw new Error("another number of samples");
  return samples;
}
