import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LONGEST_RECORD, lineOf, RecordReader } from "../../../src/files/text/records.ts";

function read(text: string, pieces: readonly number[] = [text.length || 1], delimiter = ",") {
  const reader = new RecordReader(delimiter);
  const rows: string[][] = [];
  const lines: number[] = [];
  const take = (batch: ReturnType<RecordReader["push"]>) =>
    batch.rows.forEach((row, at) => {
      rows.push([...row]);
      lines.push(lineOf(batch.lines, at));
    });
  for (let at = 0, turn = 0; at < text.length; turn++) {
    const size = pieces[turn % pieces.length] ?? 1;
    take(reader.push(text.slice(at, at + size)));
    at += size;
  }
  take(reader.end());
  return { rows, lines, broken: reader.broken, stray: reader.stray };
}

const cell = fc.oneof(
  fc.constantFrom(
    "",
    "a",
    "Baetis",
    " x ",
    "1,5",
    'say "no"',
    "two\nlines",
    "two\r\nlines",
    "cr\rhere",
    "\u2028",
    "\u{1f41b}",
  ),
  fc.string({ unit: "binary", maxLength: 6 }),
);
const table = fc.array(fc.array(cell, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 6 });
const lineEnd = fc.constantFrom("\n", "\r\n", "\r");
const pieces = fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 4 });

/** Writes a cell by RFC 4180, quoted only where it must be. */
function written(text: string): string {
  return /["\r\n,]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** A row of one empty cell would be a blank line, so it is quoted. */
function line(row: readonly string[]): string {
  return row.length === 1 && row[0] === "" ? '""' : row.map(written).join(",");
}

describe("cutting text into rows", () => {
  it("gives back every table that was written, with any line ends and in any pieces", () => {
    fc.assert(
      fc.property(
        table,
        fc.array(lineEnd, { minLength: 1, maxLength: 3 }),
        fc.boolean(),
        pieces,
        (rows, ends, last, cut) => {
          const text = rows
            .map(
              (row, at) => line(row) + (at < rows.length - 1 || last ? (ends[at % ends.length] ?? "\n") : ""),
            )
            .join("");
          expect(read(text, cut)).toMatchObject({ rows, broken: undefined });
        },
      ),
      { numRuns: 1000 },
    );
  });

  it("agrees with csv-parse on any text that has no broken quotes", () => {
    const text = fc.array(fc.constantFrom("a", "b", ",", '"', '""', '","', "\n", "\r\n", "\r", " ", '"\n'), {
      maxLength: 20,
    });
    fc.assert(
      fc.property(text, pieces, (parts, cut) => {
        const whole = parts.join("");
        const { rows, broken, stray } = read(whole, cut);
        const options = { record_delimiter: ["\r\n", "\n", "\r"], relax_column_count: true };
        let expected: string[][] | undefined;
        try {
          expected = parse(whole, options);
        } catch {
          expected = undefined;
        }
        if (expected !== undefined) expect([rows, broken, stray]).toEqual([expected, undefined, undefined]);
        else if (broken === undefined) {
          // What the strict grammar refuses and we take is a quote within a cell, and nothing else.
          expect(stray?.count).toBeGreaterThan(0);
          expect(rows).toEqual(parse(whole, { ...options, relax_quotes: true }));
        }
      }),
      { numRuns: 3000 },
    );
  });

  it("agrees with csv-parse, and on the lines, where long stretches without quotes stand between others", () => {
    const stretch = fc
      .tuple(
        fc.constantFrom("a,b", "", "x,,", "\u2028"),
        fc.constantFrom("\n", "\r\n", "\r"),
        fc.nat({ max: 200 }),
      )
      .map(([plain, end, times]) => (plain + end).repeat(times));
    const quoted = fc.constantFrom(
      '"a,1",b\n',
      'a,"two\nlines"\r\n',
      '"",5" net\r',
      '""\n',
      '"say ""no"""\n',
    );
    const rest = fc.constantFrom("", "a,", "a", '"a"', '"a",', "\r");
    const options = { record_delimiter: ["\r\n", "\n", "\r"], relax_column_count: true, relax_quotes: true };
    fc.assert(
      fc.property(fc.array(fc.oneof(stretch, quoted), { maxLength: 8 }), rest, pieces, (parts, end, cut) => {
        const whole = parts.join("") + end;
        const { rows, lines, broken } = read(whole, [whole.length || 1]);
        expect([rows, broken]).toEqual([parse(whole, options), undefined]);
        const inPieces = read(
          whole,
          cut.map((size) => size * 50),
        );
        expect(inPieces.rows).toEqual(rows);
        expect(inPieces.lines).toEqual(lines);
        const breaks = (row: readonly string[]) => row.join("").split(/\r\n|\n|\r/).length;
        lines.forEach((line, at) => {
          expect(line).toBe(at === 0 ? 1 : (lines[at - 1] ?? 0) + breaks(rows[at - 1] ?? []));
        });
      }),
      { numRuns: 500 },
    );
  });

  it("counts lines as an editor does, also within cells", () => {
    fc.assert(
      fc.property(table, lineEnd, pieces, (rows, end, cut) => {
        const starts: number[] = [];
        let text = "";
        for (const row of rows) {
          starts.push(text.split(/\r\n|\n|\r/).length);
          text += line(row) + end;
        }
        expect(read(text, cut).lines).toEqual(starts);
      }),
      { numRuns: 1000 },
    );
  });

  it.each([
    ["a quote never closed", 'a,b\n1,"2\n3,4\n5,6\n', { kind: "unclosed", line: 2, field: 2 }, [["a", "b"]]],
    [
      "text behind a closing quote",
      'a,b\n"x"y,2\n',
      { kind: "after-closing", line: 2, field: 1 },
      [["a", "b"]],
    ],
    [
      "a fault behind a cell of several lines",
      'a,b\n"x\ny\nz","q\n',
      { kind: "unclosed", line: 4, field: 2 },
      [["a", "b"]],
    ],
  ])("names the place of %s and keeps the rows before it", (_, text, broken, rows) => {
    for (const cut of [[text.length], [1], [3]]) expect(read(text, cut)).toMatchObject({ broken, rows });
  });

  it("takes quotes within cells as they stand and says where", () => {
    const text = 'a,b\n1,5" net\nc"d,"x, ""y"""\n';
    for (const cut of [[text.length], [1], [3]]) {
      expect(read(text, cut)).toMatchObject({
        rows: [
          ["a", "b"],
          ["1", '5" net'],
          ['c"d', 'x, "y"'],
        ],
        broken: undefined,
        stray: { count: 2, line: 2, field: 2 },
      });
    }
  });

  it("gives up on a row longer than a mebibyte, naming where it starts", () => {
    const text = `a,b\n${"x".repeat(LONGEST_RECORD + 10)}`;
    expect(read(text, [1 << 16]).broken).toEqual({ kind: "too-long", line: 2, field: 1 });
  });

  it("gives up on an unclosed quote after a mebibyte and not at the end of the file, naming the opening line", () => {
    const text = `a,b\n1,"${"2\n".repeat(LONGEST_RECORD)}`;
    const reader = new RecordReader(",");
    let pushed = 0;
    for (let at = 0; at < text.length && reader.broken === undefined; at += 1 << 16) {
      reader.push(text.slice(at, at + (1 << 16)));
      pushed = at;
    }
    expect(reader.broken).toEqual({ kind: "unclosed", line: 2, field: 2 });
    expect(pushed).toBeLessThan(LONGEST_RECORD + (1 << 17));
  });

  it.each(["\n", "\r\n", "\r"])("reads tables far longer than a row may be, with line ends %j", (end) => {
    for (const row of ["a,b", 'a,"b"']) {
      const { rows, broken } = read(`${row}${end}`.repeat(LONGEST_RECORD / 2), [1 << 16]);
      expect([rows.length, broken]).toEqual([LONGEST_RECORD / 2, undefined]);
    }
  });

  it("knows where the next character belongs", () => {
    const reader = new RecordReader(";");
    reader.push('a;b\n1;"x;\ny";');
    expect(reader.position()).toEqual({ line: 3, field: 3 });
  });
});
