import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FileSink } from "../../src/files/file-sink.ts";
import type { OpenFile } from "../../src/files/file-system.ts";

const PAGE = 1 << 17;

/** A file in memory that takes its time; the write with the given number fails. */
function slowFile(failAt = 0) {
  const written: Buffer[] = [];
  let writes = 0;
  let running = 0;
  let mostRunning = 0;
  const file: OpenFile = {
    async write(bytes) {
      writes++;
      const isFailing = writes === failAt;
      running++;
      mostRunning = Math.max(mostRunning, running);
      await new Promise<void>((resolve) => setImmediate(resolve));
      running--;
      if (isFailing) throw Object.assign(new Error("full"), { code: "ENOSPC" });
      written.push(Buffer.from(bytes));
    },
    async read() {
      return 0;
    },
    async sync() {},
    async close() {},
  };
  return { file, bytes: () => Buffer.concat(written), mostRunning: () => mostRunning, writes: () => writes };
}

describe("a sink of a file", () => {
  it("writes texts and bytes in their order, whatever their lengths", async () => {
    const length = fc.oneof(
      fc.nat(300),
      fc.constantFrom(0, 43_690, 43_691, PAGE - 1, PAGE, PAGE + 1, 3 * PAGE),
    );
    const piece = fc.record({ length, unit: fc.constantFrom("a", "ä", "漢", "😀"), isText: fc.boolean() });
    await fc.assert(
      fc.asyncProperty(fc.array(piece, { maxLength: 12 }), async (pieces) => {
        const disk = slowFile();
        const sink = new FileSink(disk.file);
        const expected: Buffer[] = [];
        for (const [at, { length, unit, isText }] of pieces.entries()) {
          const text = `${at}${unit.repeat(length)}`;
          const bytes = Buffer.from(text, "utf8");
          expected.push(Buffer.from(bytes));
          if (isText) await sink.write(text);
          else {
            await sink.writeBytes(bytes);
            // Taken is taken: what becomes of the bytes now is no matter.
            bytes.fill(0);
          }
        }
        await sink.flush();
        expect(disk.bytes().equals(Buffer.concat(expected))).toBe(true);
        expect(disk.mostRunning()).toBeLessThanOrEqual(1);
      }),
      { numRuns: 60 },
    );
  });

  it("writes halves of characters as the mark for what is no text", async () => {
    const disk = slowFile();
    const sink = new FileSink(disk.file);
    await sink.write("a\ud83db\ude00");
    await sink.flush();
    expect(disk.bytes().toString("utf8")).toBe("a\ufffdb\ufffd");
  });

  it("goes on filling while a page is written, and waits for the page before the next", async () => {
    const disk = slowFile();
    const sink = new FileSink(disk.file);
    for (let at = 0; at < 40; at++) await sink.write("x".repeat(PAGE / 8));
    expect(disk.bytes().length).toBeLessThan(40 * (PAGE / 8));
    await sink.flush();
    expect(disk.bytes().length).toBe(40 * (PAGE / 8));
    expect(disk.writes()).toBe(5);
  });

  it("says nothing twice and writes nothing for nothing", async () => {
    const disk = slowFile();
    const sink = new FileSink(disk.file);
    await sink.flush();
    await sink.write("");
    await sink.writeBytes(new Uint8Array(0));
    await sink.flush();
    expect(disk.writes()).toBe(0);
    await sink.write("a");
    await sink.flush();
    await sink.flush();
    expect(disk.bytes().toString()).toBe("a");
  });

  it.each([1, 2, 3])(
    "tells of a failed write, the %i. of three, at the latest when it is flushed",
    async (failAt) => {
      const disk = slowFile(failAt);
      const sink = new FileSink(disk.file);
      const work = async () => {
        for (let at = 0; at < 3; at++) await sink.write("x".repeat(PAGE / 4).repeat(4));
        await sink.flush();
      };
      await expect(work()).rejects.toThrow("full");
    },
  );

  it("leaves no failure without an owner when the work ends before it is told", async () => {
    const disk = slowFile(1);
    const sink = new FileSink(disk.file);
    const lost: unknown[] = [];
    const listen = (error: unknown) => lost.push(error);
    process.on("unhandledRejection", listen);
    await sink.writeBytes(new Uint8Array(PAGE + 1));
    await new Promise((resolve) => setTimeout(resolve, 20));
    process.off("unhandledRejection", listen);
    expect(lost).toEqual([]);
    await expect(sink.flush()).rejects.toThrow("full");
  });

  describe("of a file for a device", () => {
    const MEGABYTE = Buffer.alloc(1 << 20, "a");

    /** A file whose flush ends when it is told to. */
    function device() {
      const syncs: { readonly end: () => void; readonly fail: () => void }[] = [];
      const { file, bytes } = slowFile();
      const sync = () =>
        new Promise<void>((end, reject) => {
          syncs.push({ end, fail: () => reject(Object.assign(new Error("lost"), { code: "EIO" })) });
        });
      return { file: { ...file, sync }, bytes, syncs };
    }

    it("sends on what it has written while it writes more, once at a time", async () => {
      const { file, bytes, syncs } = device();
      const sink = new FileSink(file, true);
      for (let written = 0; written < 7; written++) await sink.writeBytes(MEGABYTE);
      expect(syncs).toHaveLength(0);
      for (let written = 0; written < 13; written++) await sink.writeBytes(MEGABYTE);
      expect(syncs).toHaveLength(1);
      syncs[0]?.end();
      await new Promise<void>((resolve) => setImmediate(resolve));
      await sink.writeBytes(MEGABYTE);
      expect(syncs).toHaveLength(2);
      let isFlushed = false;
      const flushed = sink.flush().then(() => {
        isFlushed = true;
      });
      for (let turn = 0; turn < 5; turn++) await new Promise<void>((resolve) => setImmediate(resolve));
      expect(isFlushed).toBe(false);
      syncs[1]?.end();
      await flushed;
      expect(bytes()).toHaveLength(21 << 20);
    });

    it("tells of a failure at the flush, and sends no more on after it", async () => {
      const { file, syncs } = device();
      const sink = new FileSink(file, true);
      for (let written = 0; written < 10; written++) await sink.writeBytes(MEGABYTE);
      syncs[0]?.fail();
      for (let written = 0; written < 20; written++) await sink.writeBytes(MEGABYTE);
      expect(syncs).toHaveLength(1);
      await expect(sink.flush()).rejects.toThrow("lost");
    });

    it("leaves any other file alone", async () => {
      const { file, syncs } = device();
      const sink = new FileSink(file);
      for (let written = 0; written < 20; written++) await sink.writeBytes(MEGABYTE);
      await sink.flush();
      expect(syncs).toHaveLength(0);
    });
  });
});
